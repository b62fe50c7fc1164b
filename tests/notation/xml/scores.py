"""Scores for the tests, made of what a test is about and a plain frame around it."""

from __future__ import annotations

from groundbeat.notation.xml.read import Import, base_beat

HEAD = '<?xml version="1.0" encoding="UTF-8"?>\n'
DIVISIONS = 24  # of a quarter: sixteenths are 6, triplets 8


def strike(
    step: str = "C5", *, long: int = 24, kind: str = "", inside: str = "", first: str = "", about: str = ""
) -> str:
    """One note: `first` stands at its beginning, `inside` behind its duration, `about` are attributes."""
    where = f"<unpitched><display-step>{step[0]}</display-step><display-octave>{step[1]}</display-octave></unpitched>"
    duration = f"<duration>{long}</duration>" if long else ""
    typed = f"<type>{kind}</type>" if kind else ""
    return f"<note{about}>{first}{where}{duration}{inside}{typed}</note>"


def rest(long: int = 24) -> str:
    """A rest."""
    return f"<note><rest/><duration>{long}</duration></note>"


def score(*measures: str, part_list: str = "", time: str = "4/4", clef: str = "percussion", head: str = HEAD) -> str:
    """A score of one part; a measure that does not begin with its own element is put into one."""
    beats, unit = time.split("/")
    attributes = (
        f"<attributes><divisions>{DIVISIONS}</divisions><time><beats>{beats}</beats><beat-type>{unit}</beat-type></time>"
        f"<clef><sign>{clef}</sign></clef></attributes>"
    )
    row = []
    for number, measure in enumerate(measures, start=1):
        whole = measure if measure.startswith("<measure") else f'<measure number="{number}">{measure}</measure>'
        if number == 1:
            start = whole.index(">") + 1
            whole = whole[:start] + attributes + whole[start:]
        row.append(whole)
    part_list = part_list or '<score-part id="P1"><part-name>Drum set</part-name></score-part>'
    return (
        f'{head}<score-partwise version="4.0"><part-list>{part_list}</part-list>'
        f'<part id="P1">{"".join(row)}</part></score-partwise>'
    )


def instruments(*rows: tuple[str, str, int]) -> str:
    """A part list of instruments: id, name, and `midi-unpitched` as it shall stand there (0 none)."""
    named = "".join(
        f'<score-instrument id="{key}"><instrument-name>{name}</instrument-name></score-instrument>'
        for key, name, _ in rows
    )
    keyed = "".join(
        f'<midi-instrument id="{key}"><midi-channel>10</midi-channel><midi-unpitched>{number}</midi-unpitched>'
        "</midi-instrument>"
        for key, _, number in rows
        if number
    )
    return f'<score-part id="P1"><part-name>Drum set</part-name>{named}{keyed}</score-part>'


def read(text: str, bars: tuple[int, int] | None = None) -> Import:
    """Read a score that is at hand as text."""
    return base_beat(text.encode(), bars)


def struck(found: Import) -> list[tuple[int, str]]:
    """Places and surfaces."""
    return [(stroke.at, stroke.surface) for stroke in found.beat.strokes]


def told(found: Import, words: str) -> bool:
    """Whether that is told."""
    return any(words in line for line in found.says)
