"""How is a score put into an .mxl file?

A zip as the standard's container.xsd describes it: first `mimetype`, stored and without extra field, then
`META-INF/container.xml`, which names the score, then the score itself, deflated. Times are those of the epoch of zip
and the names fixed, so that the same score gives the same bytes; another build of zlib may deflate otherwise.
"""

from __future__ import annotations

import io
import zipfile

from .element import node

MEDIA = "application/vnd.recordare.musicxml"
INSIDE = "score.musicxml"
_EPOCH = (1980, 1, 1, 0, 0, 0)
_UNIX = 3  # so that an unpacked file may be read by its owner, whatever machine packed it


def packed(text: str) -> bytes:
    """Compress the text of a score."""
    score = node("rootfile", full_path=INSIDE, media_type=f"{MEDIA}+xml")
    container = ['<?xml version="1.0" encoding="UTF-8"?>', *node("container", node("rootfiles", score))]
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w") as archive:
        _add(archive, "mimetype", MEDIA, zipfile.ZIP_STORED)
        _add(archive, "META-INF/container.xml", "\n".join(container) + "\n", zipfile.ZIP_DEFLATED)
        _add(archive, INSIDE, text, zipfile.ZIP_DEFLATED)
    return held.getvalue()


def _add(archive: zipfile.ZipFile, name: str, text: str, way: int) -> None:
    entry = zipfile.ZipInfo(name, _EPOCH)
    entry.create_system, entry.external_attr = _UNIX, 0o644 << 16
    archive.writestr(entry, text.encode("utf-8"), way, 9)
