"""What do the lines of text around tablature say: title, meter, tempo?

Lines such as `Title: Slack Tide`, `q = 92`, `tempo 92`, `Time: 6/8`, and the line that Groundbeat itself writes over
its tablature ("Slack Tide: 4/4, 1 bar of sixteenths, quarter = 92").
"""

from __future__ import annotations

import re
from typing import NamedTuple

from ..errors import MeterError
from ..model.groove import DEFAULT_TEMPO, MAX_TEMPO, MIN_TEMPO
from ..model.meter import QUARTER, Meter
from ..model.place import COLUMNS

_OWN = re.compile(
    r"(?P<title>.*): (?P<meter>\d+/\d+)(?: \((?P<grouping>[\d+]+)\))?, (?P<bars>\d{1,2}) bars? of "
    r"(?P<columns>[a-z -]+), (?P<unit>[a-z ]+) = (?P<tempo>\d{1,3}(?:\.\d{1,2})?)\Z",
    re.ASCII,
)
_TITLE = re.compile(r"(?:title|name|beat|groove)\s{0,4}[:=]\s{0,40}(\S.*)\Z", re.IGNORECASE)
_TEMPO = (
    re.compile(
        r"\b(q|h|e|quarter|half|eighth|dotted quarter|[\u2669\u266a])\s{0,4}=\s{0,4}(\d{1,3}(?:\.\d{1,2})?)\b", re.I
    ),
    re.compile(r"\b(tempo|bpm|speed)\s{0,4}[:=]?\s{0,4}(\d{1,3}(?:\.\d{1,2})?)\b", re.I),
    re.compile(r"()\b(\d{1,3}(?:\.\d{1,2})?)\s?bpm\b", re.I),
)
_METER = re.compile(
    r"(?:time|meter|metre|time signature|signature)?\s{0,4}[:=]?\s{0,4}(\d{1,2}/\d{1,2})\s{0,4}(?:time|meter)?\Z", re.I
)
_METER_IN = re.compile(r"(?<![\d/])(\d{1,2}/(?:2|4|8|16))(?![\d/])")
_UNITS = {
    "q": QUARTER, "quarter": QUARTER, "\u2669": QUARTER, "h": 2 * QUARTER, "half": 2 * QUARTER, "e": QUARTER // 2,
    "eighth": QUARTER // 2, "\u266a": QUARTER // 2, "dotted quarter": QUARTER * 3 // 2,
}  # fmt: skip
_ENDS = re.compile(r"\r\n?|\n")
_STAGE = re.compile(r"(\d{1,3}) \S")
_LEFT_OUT = 3  # lines of text that are quoted before "and more"


class Heads(NamedTuple):
    """What the text says; "" and 0 where it says nothing. `unit` are the ticks that the tempo counts, 0: the meter's.
    `bars` and `columns` are known where Groundbeat wrote it."""

    title: str = ""
    meter: Meter | None = None
    tempo: float = 0
    unit: int = 0
    bars: int = 0
    columns: str = ""


class Own(NamedTuple):
    """Tablature that Groundbeat wrote: what it says, its lines (others blank), which stage of how many."""

    heads: Heads
    lines: list[str]
    stage: str
    stages: int


def own_text(text: str, lines: list[str]) -> Own | None:
    """Find out whether Groundbeat wrote this, and take the first of its stages; None where it did not.

    `lines` are those of the text, as they are laid out.
    """
    first = next((n for n, line in enumerate(lines) if line.strip()), 0)
    found = _OWN.match(next((line for line in _ENDS.split(text) if line.strip()), "").lstrip("\ufeff"))
    if not found or found["columns"] not in COLUMNS:
        return None
    try:
        meter = Meter.of(found["meter"], found["grouping"] or "")
    except MeterError:
        return None
    title = "" if found["title"] == "Untitled" else found["title"]
    heads = Heads(title, meter, float(found["tempo"]), 0, int(found["bars"]), found["columns"])
    heads_at = [n for n, line in enumerate(lines) if n > first and _STAGE.match(line)]
    ends = [*heads_at[1:], len(lines)]
    starts = [n for n, end in zip(heads_at, ends, strict=False) if any(_is_laid(line) for line in lines[n:end])]
    if not starts:
        return Own(heads, [line if n > first else "" for n, line in enumerate(lines)], "", 1)
    end = starts[1] if len(starts) > 1 else len(lines)
    kept = [line if starts[0] < n < end and _is_laid(line) else "" for n, line in enumerate(lines)]
    found_stage = _STAGE.match(lines[starts[0]])
    return Own(heads, kept, found_stage[1] if found_stage else "", len(starts))


def _is_laid(line: str) -> bool:
    """Tell whether a line of a stage stands where its tablature does, and not its words."""
    return line.startswith("    ")


def read_heads(text: tuple[tuple[int, str], ...]) -> tuple[Heads, list[tuple[int, str]]]:
    """Read what the lines of text say; the lines that say nothing of use are given back."""
    heads = Heads()
    left: list[tuple[int, str]] = []
    for number, line in text:
        new = _with(heads, line)
        if new == heads:
            left.append((number, line))
        heads = new
    return heads, left


def _with(heads: Heads, line: str) -> Heads:
    title = _TITLE.match(line)
    if title and not heads.title:
        return heads._replace(title=title[1].strip())
    found = next((match for match in (pattern.search(line) for pattern in _TEMPO) if match), None)
    if found and not heads.tempo:
        heads = heads._replace(tempo=float(found[2]), unit=_UNITS.get(found[1].lower(), 0))
    meter = _METER.match(line) or (_METER_IN.search(line) if found else None)
    if meter and heads.meter is None:
        try:
            heads = heads._replace(meter=Meter.of(meter[1]))
        except MeterError:
            return heads
    return heads


def tempo_of(heads: Heads, meter: Meter) -> tuple[int, list[str]]:
    """The tempo in hundredths of the meter's beat, and what is to be told about it."""
    if not heads.tempo:
        return DEFAULT_TEMPO, []
    name, own = meter.tempo_unit
    unit = heads.unit or own
    tempo = (round(heads.tempo * 100) * unit * 2 + own) // (2 * own)
    says = [] if unit == own else [f"The tempo is {name} = {tempo / 100:g} in {meter}."]
    within = min(max(tempo, MIN_TEMPO), MAX_TEMPO)
    if within != tempo:
        limits = f"{MIN_TEMPO // 100} to {MAX_TEMPO // 100}"
        says = [f"The tempo of {tempo / 100:g} is out of range ({limits}); {within // 100} was taken."]
    return within, says


def text_left(left: list[tuple[int, str]]) -> list[str]:
    """Tell which lines of text say nothing that is read."""
    if not left:
        return []
    quoted = "; ".join(f'line {number} "{line[:30]}{"..." * (len(line) > 30)}"' for number, line in left[:_LEFT_OUT])
    more = f"; and {len(left) - _LEFT_OUT} more" if len(left) > _LEFT_OUT else ""
    return [f"Text that is no tablature was left out: {quoted}{more}."]
