"""Which surface does a name mean, and which a place on the staff?

Names come in many spellings and languages; rules are tried from the particular to the general, so that "ride bell" is
not a ride and "high floor tom" no high tom. Names of sounds ("metal.cymbal.ride", MusicXML 4.0 sounds.xml) are read
by the same rules.

Places come in three columns of practice: Weinberg, Guidelines for Drumset Notation (Percussive Notes, 1994), which is
ours too (model/kit.py); the default style of LilyPond (ly/drumpitch-init.ly); and Agostini, common in France. The
same place means different things in them (E5 with a cross is a hi-hat or the rim of a tom), so a part is read by the
column that explains most of its notes, and what a surface is in most beats counts more. A place that the column does
not have is looked up in the others.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache

from ...model.kit import BY_NAME, SURFACES
from ..staff import place

Spot = tuple[int, str]  # diatonic steps above the bottom line E4, and the notehead

_HAT = r"(hi ?hats?|hihats?|\bhh\b|charley|charleston|chimbal)"
_OPEN = r"(open|ouverte?|abierto|aberto|offen)"
_RULES: tuple[tuple[str, str], ...] = tuple(
    (re.sub("HAT", _HAT, re.sub("OPEN", _OPEN, rule)), surface)
    for rule, surface in (
        (r"cross ?stick|side ?stick|x ?stick|rim ?click", "cross-stick"),
        (r"rim ?shot", "rimshot"),
        (r"(snare|caisse claire).*\brim\b|\brim\b.*snare|^rim$", "snare rim"),
        (r"(foot|pedal).*splash|splash.*(foot|pedal)", "foot splash"),
        (r"HAT.*(pedal|foot|chick|pied|fuss)|(pedal|foot).*HAT", "hi-hat foot"),
        (r"HAT.*(half|semi|loose|halb)|(half|semi|loose|halb).*HAT", "half-open hi-hat"),
        (r"HAT.*OPEN|OPEN.*HAT", "open hi-hat"),
        (r"HAT", "hi-hat"),
        (r"cow ?bell|kuhglocke|cencerro", "cowbell"),
        (r"(ride|cymbal).*(bell|dome|cup)|bell.*ride|^bell$", "ride bell"),
        (r"ride.*edge|edge.*ride", "ride edge"),
        (r"\bride", "ride"),
        (r"crash.*(\b2\b|second|\bii\b)|(\b2nd|second).*crash", "second crash"),
        (r"crash", "crash"),
        (r"chin(a|ese|oise)", "china"),
        (r"splash", "splash"),
        (r"stack", "stack cymbal"),
        (r"(wood|temple|jam) ?block|holzblock", "wood block"),
        (r"tambourine", ""),
        (r"((bass|kick).*|\bkick )(\b2\b|second|\bleft\b)|second (bass|kick)", "second kick"),
        (r"kick|bass ?drum|grosse caisse|gro(ss|ß)e trommel|\bbombo\b|\bbumbo\b|\bbd\b|grancassa", "kick"),
        (r"snare|caisse claire|kleine trommel|\bcaja\b|\bcaixa\b|rullante|\bsd\b", "snare"),
        (r"\btoms?\b.*(floor|stand|basse)|(floor|stand).*\btoms?\b.*\brim\b", "floor tom"),
        (r"(floor|stand) ?toms?|\bft\b", "floor tom"),
        (r"(mid|medium|middle).*\btoms?\b|\btoms?\b.*(mid|medium)|\btoms?\b ?2\b", "mid tom"),
        (r"\b(hi|high|small)\b.*\btoms?\b|\btoms?\b.*\b(hi|high|aigu)\b|\btoms?\b ?1\b", "high tom"),
        (r"\b(low|large)\b.*\btoms?\b|\btoms?\b.*\b(low|grave)\b|\btoms?\b ?3\b", "low tom"),
        (r"\btoms?\b ?[456]\b", "floor tom"),
        (r"\btoms?\b", "mid tom"),
        (r"conga|bongo|timbale|agogo|triangle|triangel|shaker|maraca|cabasa|clave|guiro|whistle|castanet|gong", ""),
        (r"vibraslap|cuica|surdo|clap|tam ?tam|timpani|pauken|glockenspiel|xylophon|marimba|jingle|sleigh", ""),
        (r"cymbal|becken|platillo|prato", "crash"),
    )
)
_COMPILED = tuple((re.compile(rule), surface) for rule, surface in _RULES)


@cache
def named(text: str) -> str | None:
    """The surface that a name means, "" for an instrument that the kit does not have, None for no name that we know.

    >>> named("Hi-Hat%g Closed"), named("Low-Mid Tom"), named("metal.cymbal.ride"), named("Triangle"), named("P7")
    ('hi-hat', 'mid tom', 'ride', '', None)
    """
    words = " ".join(re.sub(r"[\W_]+", " ", text.lower()).split())
    if words in _OURS:
        return _OURS[words]
    return next((surface for rule, surface in _COMPILED if rule.search(words)), None)


def ours(text: str) -> str:
    """The surface whose name this is to the letter, apart from capitals and hyphens; "" for none."""
    return _OURS.get(" ".join(re.sub(r"[\W_]+", " ", text.lower()).split()), "")


_OURS = {" ".join(re.sub(r"[\W_]+", " ", name).split()): name for name in BY_NAME}


def _line(name: str) -> int:
    return 7 * (int(name[1:]) - 4) + "CDEFGAB".index(name[0]) - 2


def _table(text: str) -> dict[Spot, str]:
    rows = (row.split(":") for row in text.split(","))
    return {(_line(key.split()[0]), " ".join(key.split()[1:]) or "normal"): surface.strip() for key, surface in rows}


def _weinberg() -> dict[Spot, str]:
    found: dict[Spot, str] = {}
    for row in SURFACES:  # in the order of their numbers: the more usual one has the place
        where = place(row.name)
        found.setdefault((where.line, where.head.replace("-", " ")), row.name)
    return found


WEINBERG = _weinberg() | _table(
    "G4: floor tom, F5: high tom, D5 x: ride, G5: hi-hat, G5 circle x: open hi-hat, D4: hi-hat foot, A5: crash"
)
LILYPOND = _table(
    "F4: kick, D4 x: hi-hat foot, E4: floor tom, G4: floor tom, A4: low tom, C5: snare, C5 x: cross-stick, "
    "C5 slash: rimshot, B4: mid tom, D5: mid tom, E5: high tom, G5 triangle: cowbell, G5 x: ride, G5: ride bell, "
    "E5 x: hi-hat, E5 circle x: half-open hi-hat, G5 circle x: crash, G5 diamond: splash"
)
AGOSTINI = _table(
    "D4: kick, C4: second kick, B3 x: hi-hat foot, B3 circle x: foot splash, F4: floor tom, G4: low tom, B4: snare, "
    "B4 x: cross-stick, D5: mid tom, E5: high tom, A5 triangle: cowbell, A5 x: ride, B5 diamond: ride bell, "
    "B5 mi: ride bell, G5 x: hi-hat, G5 circle x: open hi-hat, C6 x: crash"
)
COLUMNS = {"Weinberg": WEINBERG, "LilyPond": LILYPOND, "Agostini": AGOSTINI}
# How much a surface says for a column: what every beat has most, what few have least. Our choice.
_WEIGHTS = {"kick": 3, "snare": 3, "hi-hat": 3}
_RARE = ("extra",)


def _weight(surface: str) -> int:
    if surface in _WEIGHTS:
        return _WEIGHTS[surface]
    rare = surface.endswith(" rim") or BY_NAME[surface].family in _RARE
    return 1 if rare else 2


def column_of(spots: Mapping[Spot, int]) -> str:
    """Name the column that explains places best; `spots` counts the notes on each.

    >>> column_of({(1, "normal"): 2, (5, "normal"): 2, (7, "x"): 8}), column_of({(-1, "normal"): 4, (4, "normal"): 4})
    ('LilyPond', 'Agostini')
    """
    scores = {
        name: sum(times * _weight(table[spot]) for spot, times in spots.items() if spot in table)
        for name, table in COLUMNS.items()
    }
    return max(scores, key=lambda name: scores[name])  # equal ones: the first


def table_of(column: str, spots: Mapping[Spot, int]) -> dict[Spot, str]:
    """The surfaces of a column's places, completed from the others; toms by how many there are.

    >>> table_of("Weinberg", {(2, "normal"): 1, (3, "normal"): 1})[(3, "normal")]
    'low tom'
    """
    table = WEINBERG | LILYPOND | AGOSTINI
    for name in ("Agostini", "LilyPond", "Weinberg", column):
        table |= COLUMNS[name]
    if column == "Weinberg":
        high, floor = [(line, "normal") for line in (8, 7, 6, 4)], [(3, "normal"), (2, "normal")]
        used = [spot for spot in high if spot in spots]
        if high[0] in used:  # F5 is the highest of up to four, else E5 is
            names = (
                ("high tom", "mid tom", "low tom") if len(used) < 4 else ("high tom", "mid tom", "mid tom", "low tom")
            )
            table |= dict(zip(used, names, strict=False))
        if all(spot in spots for spot in floor) and high[3] not in used:
            table[floor[0]] = "low tom"
    return table


def spot_name(spot: Spot) -> str:
    """Say a place and its head.

    >>> spot_name((5, "normal")), spot_name((9, "x"))
    ('C5', 'G5 with head x')
    """
    line, head = spot
    octave, step = divmod(line + 2, 7)
    return f"{'CDEFGAB'[step]}{octave + 4}" + (f" with head {head}" if head != "normal" else "")
