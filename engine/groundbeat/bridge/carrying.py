"""How is it told what becomes of variations on another beat?

The other beat is brought as a link, as the text of a groove file, as tablature, or as a document that the page has;
of it only the base beat is taken. What is judged, and how, stands in `variation.carry`.
"""

from __future__ import annotations

from typing import Any

from ..codec.account import heading, numbers, summary
from ..codec.groove_read import read_groove
from ..codec.link import looks_like_link, read_link
from ..errors import RequestError
from ..model.groove import Groove
from ..variation.carry import Carried, Carrying, told
from ..variation.stack import plain


def base_of(text: str, name: str = "") -> Groove:
    """Read the groove that holds the other base beat; RequestError where a newer Groundbeat is needed for it."""
    if not text.strip():
        raise RequestError("there is no beat; choose one, or paste a link or the text of a groove file", field="onto")
    if not looks_like_link(text):
        from .tab_file import groove_of_tab, looks_like_tab  # most bring a link

        return groove_of_tab(name, text)[0] if looks_like_tab(text) else read_groove(text, name)
    reading = read_link(text)
    if reading.newer == 0:
        raise RequestError("this base beat was made with a newer Groundbeat and cannot be read here", field="onto")
    return reading.groove


def carry_view(groove: Groove, base: Groove, carrying: Carrying, view: dict[str, Any]) -> dict[str, Any]:
    """Tell what became of every variation; `view` is that of the result."""
    number = numbers(carrying.stages)
    return {
        "answer": "carry",
        "here": groove.title,
        "there": base.title,
        "told": told(carrying.rows),
        "rows": [_row(row, number) for row in carrying.rows],
        "view": view,
    }


def _row(row: Carried, number: dict[int, int]) -> dict[str, Any]:
    return {
        "stage": row.there.number,
        "kind": row.variation.kind,
        "heading": heading(row.there),
        "plain": plain(row.variation, number),
        "here": summary(row.here),
        "there": summary(row.there),
        "says": list(row.there.says),
        "verdict": row.verdict,
        "why": row.why,
    }
