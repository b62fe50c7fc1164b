"""How does a text become a QR code that a page can draw?

The text goes in as bytes of UTF-8, at level M where it fits and at level L where it does not. The path counts in
modules: the code's first module is at 0, 0, and the light border of four modules around it is the page's to leave.
Sources: ISO/IEC 18004, table 7 (capacities); the code itself is made by `segno`, which in a browser comes in a zip of
its own and is imported on use.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import groupby
from typing import Any

from ..errors import QrError

MOST_AT_M = 2331  # bytes in the largest code, version 40, at level M
MOST = 2953  # the same at level L
NEEDS_EXTRAS = {"needs": "extras"}  # for the worker, never for a page: fetch the second zip, then ask again


def qr_view(text: str) -> dict[str, Any]:
    """Make the reply with the QR code of a text, or NEEDS_EXTRAS where `segno` is not there.

    Raises QrError for a text that is empty, is no Unicode, or takes more than MOST bytes ("qr.too-long").
    """
    try:
        size = len(text.encode())
    except UnicodeEncodeError:
        raise QrError("the text has half a character in it, which no QR code can hold", field="text") from None
    if not size:
        raise QrError("there is no text to make a QR code of", field="text")
    if size > MOST:
        told = f"the text is too long for a QR code: it takes {size} bytes, and at most {MOST} fit"
        rule = "a plain letter, digit or sign takes one byte, others two to four"
        raise QrError(f"{told} ({rule})", code="qr.too-long", field="text")
    try:
        import segno
    except ImportError:
        return dict(NEEDS_EXTRAS)
    # Without the boost the level is the one that is promised here; bytes alone keep to the two limits above.
    level = "m" if size <= MOST_AT_M else "l"
    code = segno.make(text, error=level, mode="byte", encoding="utf-8", micro=False, boost_error=False)
    version = f"{code.version}-{level.upper()}"
    return {"answer": "qr", "size": len(code.matrix), "version": version, "path": path_of(code.matrix)}


def path_of(rows: Iterable[Iterable[int]]) -> str:
    """Draw dark modules (1) as an SVG path to be filled, a rectangle for each run of a row.

    >>> path_of([[1, 1, 0], [0, 0, 1]])
    'M0 0h2v1h-2zM2 1h1v1h-1z'
    """
    drawn = []
    for y, row in enumerate(rows):
        x = 0
        for dark, run in groupby(row):
            length = len(list(run))
            if dark:
                drawn.append(f"M{x} {y}h{length}v1h-{length}z")
            x += length
    return "".join(drawn)
