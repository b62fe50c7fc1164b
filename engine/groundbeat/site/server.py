"""How is the built folder served on this machine?

As a good static host would: the right types, the security policy on every file (a policy in the page would
not bind the worker), compressed where that helps, kept for ever where a name carries its hash, asked about
anew where it does not. Nothing outside the folder, no hidden file and no listing is ever given out.
"""

from __future__ import annotations

import gzip
import hashlib
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from email.utils import formatdate
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path, PurePosixPath
from urllib.parse import unquote, urlsplit

from groundbeat.site.fault import SiteError

PORT = 8614
"""Our choice; no registered service uses it."""

PORTS_TRIED = 20

POLICY = (
    "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; worker-src 'self'; connect-src 'self'; "
    "img-src 'self' data:; style-src 'self'; font-src 'self'; media-src 'self' blob:; manifest-src 'self'; "
    "base-uri 'none'; form-action 'none'"
)

TYPES = {
    ".html": "text/html; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".mjs": "text/javascript; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".json": "application/json",
    ".map": "application/json",
    ".webmanifest": "application/manifest+json",
    ".wasm": "application/wasm",
    ".zip": "application/zip",
    ".svg": "image/svg+xml",
    ".png": "image/png",
    ".ico": "image/x-icon",
    ".ogg": "audio/ogg",
    ".mp3": "audio/mpeg",
    ".woff2": "font/woff2",
    ".txt": "text/plain; charset=utf-8",
    ".toml": "text/plain; charset=utf-8",
}

PACKED = frozenset({".html", ".js", ".mjs", ".css", ".json", ".map", ".webmanifest", ".wasm", ".zip", ".svg"})
"""Types worth compressing. The zips are: they are stored without compression of their own."""

LASTING = ("app/", "py/")
"""Folders whose names carry the hash of what is in them; the kit's sounds do too."""

FOR_EVER = "public, max-age=31536000, immutable"


class Site:
    """The files of one built folder, with what is sent kept in memory until a file changes."""

    def __init__(self, root: Path) -> None:
        self.root = root.resolve()
        self._kept: dict[Path, tuple[tuple[int, int], bytes, bytes, str]] = {}

    def find(self, target: str) -> Path | None:
        """Find the file that a request target means, or None."""
        parts = PurePosixPath(unquote(urlsplit(target).path)).parts[1:]
        if any(part.startswith(".") or "\\" in part or "\0" in part for part in parts):
            return None
        path = self.root.joinpath(*parts)
        if path.is_dir():
            path = path / "index.html"
        elif target.endswith("/"):
            return None
        if not path.is_file() or not path.resolve().is_relative_to(self.root):
            return None
        return path

    def load(self, path: Path) -> tuple[bytes, bytes, str]:
        """Return a file's bytes, the same compressed (b"" where that gains nothing), and its tag."""
        state = path.stat()
        stamp = (state.st_mtime_ns, state.st_size)
        kept = self._kept.get(path)
        if not kept or kept[0] != stamp:
            data = path.read_bytes()
            packed = gzip.compress(data, 6, mtime=0) if path.suffix in PACKED else b""
            tag = f'"{hashlib.sha256(data).hexdigest()[:16]}"'
            kept = (stamp, data, packed if len(packed) < len(data) * 0.9 else b"", tag)
            self._kept[path] = kept
        return kept[1:]

    def warm(self) -> None:
        """Compress every file before it is asked for: the largest takes half a second."""
        for path in sorted(self.root.rglob("*"), key=lambda path: path.suffix != ".wasm"):
            if path.suffix in PACKED and path.suffix != ".map" and path.is_file():
                self.load(path)

    def lasts(self, path: Path) -> bool:
        """Tell whether the name carries a hash of the content."""
        name = path.relative_to(self.root).as_posix()
        return name.startswith(LASTING) or (name.startswith("kit/") and path.suffix in (".ogg", ".mp3"))


class Handler(BaseHTTPRequestHandler):
    """Answer GET and HEAD from a Site."""

    protocol_version = "HTTP/1.1"
    server_version = "Groundbeat"
    sys_version = ""

    server: Server

    def do_GET(self) -> None:
        """Send a file."""
        self._send(body=True)

    def do_HEAD(self) -> None:
        """Send what would go before a file."""
        self._send(body=False)

    def _send(self, *, body: bool) -> None:
        path = self.server.site.find(self.path)
        if path is None:
            self.send_error(HTTPStatus.NOT_FOUND, "There is no such file here")
            return
        if path.name == "index.html" and not urlsplit(self.path).path.endswith(("/", "index.html")):
            # Without the slash every relative address in the page would point one folder too high.
            self.send_response(HTTPStatus.MOVED_PERMANENTLY)
            self.send_header("Location", urlsplit(self.path).path + "/")
            self.send_header("Content-Length", "0")
            self.end_headers()
            return
        data, packed, tag = self.server.site.load(path)
        if tag in self.headers.get("If-None-Match", ""):
            self.send_response(HTTPStatus.NOT_MODIFIED)
            self._describe(path, tag)
            self.end_headers()
            return
        zipped = bool(packed) and "gzip" in self.headers.get("Accept-Encoding", "")
        sent = packed if zipped else data
        self.send_response(HTTPStatus.OK)
        self._describe(path, tag)
        self.send_header("Content-Type", TYPES.get(path.suffix, "application/octet-stream"))
        if zipped:
            self.send_header("Content-Encoding", "gzip")
        self.send_header("Content-Length", str(len(sent)))
        self.end_headers()
        if body:
            self.wfile.write(sent)

    def _describe(self, path: Path, tag: str) -> None:
        self.send_header("ETag", tag)
        self.send_header("Vary", "Accept-Encoding")
        self.send_header("Cache-Control", FOR_EVER if self.server.site.lasts(path) else "no-cache")

    def end_headers(self) -> None:
        """Put the policy on every answer, errors too."""
        self.send_header("Content-Security-Policy", self.server.policy)
        self.send_header("X-Content-Type-Options", "nosniff")
        super().end_headers()

    def date_time_string(self, timestamp: float | None = None) -> str:
        """Tell the date as HTTP wants it."""
        return formatdate(timestamp, usegmt=True)

    def log_message(self, format: str, *args: object) -> None:  # noqa: A002
        """Say nothing: a line for every file would bury the address."""


class Server(ThreadingHTTPServer):
    """Serve one folder; a visitor who goes away in the middle is no news."""

    daemon_threads = True

    def __init__(self, host: str, port: int, site: Site, policy: str) -> None:
        self.site = site
        self.policy = policy
        super().__init__((host, port), Handler)

    def handle_error(self, request: object, client_address: object) -> None:
        """Pass over broken connections, report the rest."""
        if not isinstance(sys.exception(), ConnectionError | TimeoutError):
            super().handle_error(request, client_address)  # type: ignore[arg-type]


def open_server(root: Path, host: str = "127.0.0.1", port: int | None = None, policy: str = POLICY) -> Server:
    """Bind a server for the folder `root`.

    port: 0 for any free one; None for the usual one, or the next that is free.
    Raises SiteError if it can't be had.
    """
    if not (root / "index.html").is_file():
        raise SiteError(f"there is no built page in {root}; 'python3 engine build' makes it")
    if port is not None and not 0 <= port <= 65535:
        raise SiteError(f"there is no port {port}: ports go from 0 (any free one) to 65535")
    tried = [port] if port is not None else [*range(PORT, PORT + PORTS_TRIED)]
    for number in tried:
        try:
            return Server(host, number, Site(root), policy)
        except OSError as error:
            trouble = error
    what = f"port {port}" if port is not None else f"any of the ports {tried[0]} to {tried[-1]}"
    raise SiteError(f"cannot serve on {what} of {host}: {trouble.strerror}; choose another with --port")


@contextmanager
def serving(root: Path, host: str = "127.0.0.1", port: int | None = 0, policy: str = POLICY) -> Iterator[str]:
    """Serve `root` in a thread while the block runs, and give its address, which ends with a slash."""
    server = open_server(root, host, port, policy)
    thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.05}, daemon=True)
    thread.start()
    try:
        yield address(server)
    finally:
        server.shutdown()
        server.server_close()
        thread.join()


def address(server: Server) -> str:
    """Tell the address to type into a browser."""
    host, port = server.server_address[:2]
    name = str(host)
    return f"http://{'localhost' if name in ('0.0.0.0', '127.0.0.1') else name}:{port}/"


def serve(root: Path, host: str = "127.0.0.1", port: int | None = None) -> None:
    """Serve `root` until Ctrl-C, after printing the address."""
    server = open_server(root, host, port)
    try:
        print(f"Groundbeat is at {address(server)} (Ctrl-C ends it)", flush=True)
        if port is None and server.server_address[1] != PORT:
            print(f"(port {PORT} is taken, so it is the next free one)", flush=True)
        if host not in ("127.0.0.1", "localhost", "::1"):
            print("Other machines can look on, but browsers give them sound only over https.", flush=True)
        threading.Thread(target=server.site.warm, daemon=True).start()
        server.serve_forever()
    except KeyboardInterrupt:
        pass
    finally:
        server.server_close()
