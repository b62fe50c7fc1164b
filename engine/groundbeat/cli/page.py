"""Commands that build the page and serve it."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer


def build(
    out: Annotated[Path, typer.Option("-o", metavar="DIR", help="Folder to build into.")] = Path("dist"),
) -> None:
    """Build the static page: a folder that any web server can serve, at any path."""
    from ..site.build import build as build_site

    build_site(out)


def serve(
    port: Annotated[int, typer.Option("--port", help="Port to listen on.")] = 8614,
    host: Annotated[str, typer.Option("--host", help="Address to listen on.")] = "127.0.0.1",
    site: Annotated[Path, typer.Option("--site", metavar="DIR", help="Folder that was built.")] = Path("dist"),
) -> None:
    """Serve the built page and print its address."""
    from ..site.server import serve as serve_site

    serve_site(site, host=host, port=port)
