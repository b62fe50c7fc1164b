"""What stands in the way: can a beat be played at its tempo, and if not, what, where, and from which tempo on?

Three kinds of trouble. *impossible*: no limb is left for something, at any tempo. *beyond*: a limb would have to go
faster than the fastest drummers do (see `limits`); there is a tempo at which that place becomes possible. *rings*: the
hi-hat opens because its foot has something else to do; that can be played, and is told. The same figure at several
places is told once. The most telling comes first: more things at once, then three in a row before two (our choice).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import floor
from typing import NamedTuple

from ..model.beat import Beat, Stroke
from ..model.groove import MAX_TEMPO
from ..model.kit import FEET_ONLY, GRACE_WORDS
from .cost import EASE
from .limbs import DOUBLE, HAT_FOOT, INSIDE, KICK_FOOT, PEDAL, TRAVEL, Playing
from .rows import Row, is_around, rows, strokes_of
from .saying import listing, milliseconds, more_places, number_word, place, sentence, span, things
from .tempo import Tempo, fastest

PLAYABLE, IMPOSSIBLE, BEYOND, RINGS = "playable", "impossible", "beyond", "rings"
COMFORTABLE = "comfortable"
MOST_LISTED = 5  # places listed one by one; longer rows are told by their ends. Our choice


class Trouble(NamedTuple):
    """One thing in the way: its first place in ticks, words, the strokes, and the whole beats a minute at which that
    place alone becomes possible (None: at no tempo, or it is possible as it is)."""

    kind: str
    at: int
    text: str
    ids: tuple[str, ...]
    possible_at: int | None


class Verdict(NamedTuple):
    """Whether a beat can be played at its tempo; `text` is "" where there is nothing to say."""

    playable: bool
    kind: str
    text: str
    troubles: tuple[Trouble, ...]


def verdict(playing: Playing) -> Verdict:
    """Say whether a beat can be played at its tempo, and what stands in the way."""
    beyond = _beyond(playing)
    found = (*_impossible(playing), *beyond)
    rings = _rings(playing)
    if not found:
        return Verdict(True, PLAYABLE, sentence(rings[0].text) if rings else "", rings)
    first = found[0]
    if first.kind == IMPOSSIBLE:
        text = f"Impossible: {first.text}."
    else:
        text = f"Too fast at {playing.tempo / 100:.10g}: {first.text}."
    if len(found) > 1:
        text += f" And {number_word(len(found) - 1)} more."
    return Verdict(False, first.kind, text, found + rings)


def because(found: Tempo, what: str) -> str:
    """Say what sets a tempo, "fastest" or "comfortable": "the left hand, a of 3 to 4: one hand in a row, 100 ms apart".

    The milliseconds are those at that tempo.
    """
    if found.bpm is None:
        return verdict(found.playing).troubles[0].text
    if not found.steps:
        ease = "everything stays comfortable" if what == COMFORTABLE else "no limb is past its limit"
        return f"{ease} up to {MAX_TEMPO // 100}, the fastest that a groove can have"
    playing = found.playing
    ms = playing.ms / playing.rings[0].track.parts
    groups = _alike(rows(step._replace(gap=step.parts * ms - step.offset) for step in found.steps))
    first = groups[0]
    said = [_who(first[0], playing) + more_places(len(first) - 1) + f": {_limited(first[0], playing)}"]
    if len(groups) > 1:
        said.append(f"{_who(groups[1][0], playing)}" + more_places(len(groups[1]) - 1))
    return "; and ".join(said) + ("; and more" if len(groups) > 2 else "")


def impossible_places(playing: Playing) -> list[tuple[tuple[Stroke, ...], str]]:
    """The strokes of each place at which limbs are wanting, those that are dropped among them, and what is wanting."""
    found = []
    for here, feet, ornament in _wanting(playing):
        head, tail = _short_of(here, feet, ornament, playing)
        found.append((here, f"{head} on {place(here[0].at, playing.beat)}{tail}"))
    return found


def _wanting(playing: Playing) -> list[tuple[tuple[Stroke, ...], bool, Stroke | None]]:
    """Each place at which limbs are wanting: its strokes, whether feet are meant, and the ornament that is too much
    (None: the strokes themselves are)."""
    found: dict[tuple[int, bool, str], tuple[tuple[Stroke, ...], bool, Stroke | None]] = {}
    for stroke, what in playing.dropped:
        feet = stroke.surface in FEET_ONLY
        here = tuple(s for s in playing.beat.strokes if s.at == stroke.at and (s.surface in FEET_ONLY) == feet)
        ornament = stroke if what == "grace" else None
        found[stroke.at, feet, ornament.id if ornament else ""] = here, feet, ornament
    return list(found.values())


def _impossible(playing: Playing) -> tuple[Trouble, ...]:
    groups: dict[tuple[str, str], list[tuple[Stroke, ...]]] = {}
    for here, feet, ornament in _wanting(playing):
        groups.setdefault(_short_of(here, feet, ornament, playing), []).append(here)
    found = []
    for (head, tail), places in groups.items():
        at = places[0][0].at
        text = f"{head} on {place(at, playing.beat)}{more_places(len(places) - 1)}{tail}"
        ids = tuple(stroke.id for here in places for stroke in here)
        found.append((-max(map(len, places)), at, Trouble(IMPOSSIBLE, at, text, ids, None)))
    return tuple(trouble for _, _, trouble in sorted(found))


def _short_of(here: Sequence[Stroke], feet: bool, ornament: Stroke | None, playing: Playing) -> tuple[str, str]:
    """Say what is wanting, as the words before and behind the place."""
    player = playing.player
    limb = "foot" if feet else "hand"
    if ornament is not None:
        grace = f"a {GRACE_WORDS[ornament.grace]}"
        others = [stroke for stroke in here if stroke is not ornament]
        if others and not (feet and not player.double_pedal):
            return grace, f" needs a third {limb}: leave out the {things(others)} there"
        return f"{grace} with the {ornament.surface}", " needs a second foot on one pedal: play it plain"
    count = number_word(len(here))
    if len(here) > 2:
        return f"{count} things for two {'feet' if feet else 'hands'}", f": {things(here)}"
    if feet:
        return f"{count} things for the {player.limbs[HAT_FOOT]}", f": {things(here)}"
    hand = "right" if here[0].hand == "R" else "left"
    return f"{count} things for the {hand} hand", f": {things(here)}"


def possible_at(row: Row, playing: Playing) -> int:
    """The whole beats a minute up to which every step of a row stays within its floor."""
    parts = playing.unit * playing.rings[0].track.parts
    return min(max(1, floor(60_000 * step.parts / ((step.floor + step.offset) * parts) + EASE)) for step in row)


def _beyond(playing: Playing) -> tuple[Trouble, ...]:
    steps = [step for step in playing.steps if not step.possible]
    if not steps:
        return ()
    whole = fastest(playing).bpm or 0  # there every place is possible, so each alone is
    found = []
    for group in _alike(rows(steps)):
        row = group[0]
        to = max(whole, min(possible_at(each, playing) for each in group))
        at = row[0].before.at
        gaps = milliseconds(step.gap for step in row)
        apart = " apart" if len(strokes_of(row)) > 2 else ""
        text = (
            f"{_who(row, playing)}{more_places(len(group) - 1)}: {gaps}{apart}, "
            f"no faster than {max(step.floor for step in row):.0f}; possible up to {to}"
        )
        ids = dict.fromkeys(stroke.id for each in group for stroke in strokes_of(each))
        found.append(Trouble(BEYOND, at, text, tuple(ids), to))
    return tuple(found)


def _alike(found: Iterable[Row]) -> list[list[Row]]:
    """Put rows together that are the same figure; the longest first, then those that are farthest from their limits."""
    groups: dict[tuple[object, ...], list[Row]] = {}
    for row in found:
        key = row[0].limb, *((step.about, round(step.gap), step.floor) for step in row)
        groups.setdefault(key, []).append(row)

    def telling(group: list[Row]) -> tuple[object, ...]:
        row = group[0]
        return -len(strokes_of(row)), min(step.gap / step.floor for step in row), row[0].limb, row[0].before.at

    return sorted(groups.values(), key=telling)


def _who(row: Row, playing: Playing) -> str:
    """Say which limb from where to where: "the left hand from the a of 3 to 4", or "at a of 3, 4, e of 4"."""
    step, beat = row[0], playing.beat
    limb = f"the {playing.player.limbs[step.limb]}"
    strokes = strokes_of(row)
    ends = strokes[0].at, strokes[-1].at
    if step.about == INSIDE:
        return f"{limb} inside the diddle on {place(ends[0], beat)}"
    if is_around(row):
        return f"{limb} all the way around"
    if len(strokes) > 2:
        if len(strokes) <= MOST_LISTED:
            return f"{limb} at {listing([stroke.at for stroke in strokes], beat)}"
        return f"{limb} {number_word(len(strokes))} times from {span(*ends, beat)}"
    if strokes[0].surface != strokes[1].surface:
        first, second = strokes
        start, end = (f"the {stroke.surface} on {place(stroke.at, beat)}" for stroke in (first, second))
        return f"{limb} from {start} to {end}"
    return f"{limb} from {span(*ends, beat)}"


def _limited(row: Row, playing: Playing) -> str:
    """Say what limits a row, and how far apart its strokes are."""
    step = row[0]
    apart = milliseconds(each.gap for each in row)
    if step.about == INSIDE:
        return f"two strokes of one hand, {apart} apart there"
    kinds = {each.about for each in row}
    strokes = strokes_of(row)
    if len(strokes) > 2:
        what = f"{number_word(len(strokes) - is_around(row))} in a row"
    elif kinds == {TRAVEL}:
        what = "a move to another surface"
    elif kinds == {PEDAL}:
        what = "the hi-hat pedal"
    elif kinds == {DOUBLE}:
        what = "a double of one hand"
    else:
        what = f"one {'foot' if step.limb >= KICK_FOOT else 'hand'} in a row"
    return f"{what}, {apart} apart there"


def _rings(playing: Playing) -> tuple[Trouble, ...]:
    """Tell where a closed hi-hat rings because its foot is on a kick."""
    strokes = playing.released
    if not strokes:
        return ()
    beat: Beat = playing.beat
    at = strokes[0].at
    foot = playing.player.limbs[HAT_FOOT]
    text = (
        f"the hi-hat rings on {place(at, beat)}{more_places(len(strokes) - 1)} because the {foot} is on the second kick"
    )
    return (Trouble(RINGS, at, text, tuple(stroke.id for stroke in strokes), None),)
