"""What the server sends, to a real client over a real socket."""

from __future__ import annotations

import gzip
import http.client
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

import pytest

from groundbeat.site.fault import SiteError
from groundbeat.site.server import POLICY, PORT, open_server, serving

FILES = {
    "index.html": b"<!doctype html><title>x</title>" + b" " * 500,
    "embed/index.html": b"<!doctype html>",
    "app/main-ABCD1234.js": b"export const a = 1;" * 100,
    "py/0123456789ab/pyodide.mjs": b"export {};" * 100,
    "py/0123456789ab/pyodide.asm.wasm": b"\0asm" * 1000,
    "py/0123456789ab/stdlib.zip": b"PK" * 1000,
    "kit/kit.json": b"{}",
    "kit/snare.0123456789.ogg": b"OggS",
    "kit/snare.0123456789.mp3": b"ID3",
    "manifest.webmanifest": b"{}",
    "sw.js": b"self;",
    ".built.json": b"{}",
}


@pytest.fixture
def host(tmp_path: Path) -> Iterator[tuple[str, Path]]:
    root = tmp_path / "dist"
    for name, data in FILES.items():
        (root / name).parent.mkdir(parents=True, exist_ok=True)
        (root / name).write_bytes(data)
    (tmp_path / "secret.txt").write_text("secret")
    with serving(root) as address:
        yield urlsplit(address).netloc, root


def fetch(
    host: tuple[str, Path], target: str, method: str = "GET", **headers: str
) -> tuple[http.client.HTTPResponse, bytes]:
    connection = http.client.HTTPConnection(host[0], timeout=10)
    connection.request(method, target, headers={key.replace("_", "-"): value for key, value in headers.items()})
    response = connection.getresponse()
    body = response.read()
    connection.close()
    return response, body


@pytest.mark.parametrize(
    ("target", "kind"),
    [
        ("/", "text/html; charset=utf-8"),
        ("/app/main-ABCD1234.js", "text/javascript; charset=utf-8"),
        ("/py/0123456789ab/pyodide.mjs", "text/javascript; charset=utf-8"),
        ("/py/0123456789ab/pyodide.asm.wasm", "application/wasm"),
        ("/py/0123456789ab/stdlib.zip", "application/zip"),
        ("/kit/kit.json", "application/json"),
        ("/kit/snare.0123456789.ogg", "audio/ogg"),
        ("/kit/snare.0123456789.mp3", "audio/mpeg"),
        ("/manifest.webmanifest", "application/manifest+json"),
    ],
)
def test_every_file_has_its_type_and_the_policy(host: tuple[str, Path], target: str, kind: str) -> None:
    response, body = fetch(host, target)
    assert response.status == 200
    assert response.headers["Content-Type"] == kind
    assert response.headers["Content-Security-Policy"] == POLICY
    assert response.headers["X-Content-Type-Options"] == "nosniff"
    assert body == FILES["index.html" if target == "/" else target[1:]]


@pytest.mark.parametrize(
    "target",
    [
        *("/nothing.js", "/app/", "/app", "/py/", "/.built.json", "/../secret.txt", "/app/../../secret.txt"),
        *("/%2e%2e/secret.txt", "/..%2fsecret.txt", "/%2e%2e%2fsecret.txt", "/..%5csecret.txt", "//etc/passwd"),
        *("/link.txt", "/%00", "/app/main-ABCD1234.js/"),
    ],
)
def test_nothing_outside_the_folder_no_hidden_file_and_no_listing(host: tuple[str, Path], target: str) -> None:
    (host[1] / "link.txt").symlink_to(host[1].parent / "secret.txt")
    response, body = fetch(host, target)
    assert response.status == 404
    assert response.headers["Content-Security-Policy"] == POLICY
    assert b"secret" not in body.replace(target.encode(), b"")


def test_a_folder_without_its_slash_is_sent_on(host: tuple[str, Path]) -> None:
    response, _ = fetch(host, "/embed")
    assert (response.status, response.headers["Location"]) == (301, "/embed/")


@pytest.mark.parametrize(
    ("target", "kept"),
    [
        *(("/", False), ("/sw.js", False), ("/kit/kit.json", False), ("/manifest.webmanifest", False)),
        *(("/app/main-ABCD1234.js", True), ("/py/0123456789ab/stdlib.zip", True)),
        ("/kit/snare.0123456789.ogg", True),
    ],
)
def test_only_names_with_a_hash_are_kept_for_ever(host: tuple[str, Path], target: str, kept: bool) -> None:
    response, _ = fetch(host, target)
    assert ("immutable" in response.headers["Cache-Control"]) is kept
    assert kept or response.headers["Cache-Control"] == "no-cache"


def test_an_unchanged_file_is_not_sent_again_and_a_changed_one_is(host: tuple[str, Path]) -> None:
    tag = fetch(host, "/")[0].headers["ETag"]
    response, body = fetch(host, "/", If_None_Match=tag)
    assert (response.status, body) == (304, b"")
    (host[1] / "index.html").write_bytes(b"new")
    response, body = fetch(host, "/", If_None_Match=tag)
    assert (response.status, body) == (200, b"new")


def test_big_files_are_compressed_only_for_those_who_read_it(host: tuple[str, Path]) -> None:
    target = "/py/0123456789ab/pyodide.asm.wasm"
    response, body = fetch(host, target, Accept_Encoding="gzip, deflate, br")
    assert response.headers["Content-Encoding"] == "gzip"
    assert gzip.decompress(body) == FILES[target[1:]]
    response, body = fetch(host, target)
    assert response.headers["Content-Encoding"] is None
    assert body == FILES[target[1:]]
    # Sound is compressed already.
    assert fetch(host, "/kit/snare.0123456789.ogg", Accept_Encoding="gzip")[0].headers["Content-Encoding"] is None


def test_head_tells_the_same_and_sends_nothing(host: tuple[str, Path]) -> None:
    response, body = fetch(host, "/kit/kit.json", method="HEAD")
    assert (response.status, response.headers["Content-Length"], body) == (200, "2", b"")


def test_nothing_can_be_written(host: tuple[str, Path]) -> None:
    assert fetch(host, "/index.html", method="PUT")[0].status == 501


def test_a_taken_port_is_told_or_the_next_one_used(host: tuple[str, Path]) -> None:
    taken = int(host[0].split(":")[1])
    with pytest.raises(SiteError, match=rf"cannot serve on port {taken} of 127.0.0.1: .*; choose another"):
        open_server(host[1], port=taken)
    first = open_server(host[1])
    second = open_server(host[1])
    try:
        assert PORT <= first.server_address[1] < second.server_address[1]
    finally:
        first.server_close()
        second.server_close()


def test_an_impossible_port_or_folder_is_told(host: tuple[str, Path]) -> None:
    with pytest.raises(SiteError, match="there is no port 70000"):
        open_server(host[1], port=70000)
    with pytest.raises(SiteError, match="no built page in"):
        open_server(host[1] / "kit")


def test_serving_ends_quietly_with_ctrl_c(host: tuple[str, Path]) -> None:
    code = f"from pathlib import Path; from groundbeat.site.server import serve; serve(Path({str(host[1])!r}), port=0)"
    process = subprocess.Popen([sys.executable, "-c", code], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    assert process.stdout is not None
    told = process.stdout.readline()
    process.send_signal(signal.SIGINT)
    _, complaint = process.communicate(timeout=20)
    assert told.startswith("Groundbeat is at http://localhost:")
    assert (process.returncode, complaint) == (0, "")
