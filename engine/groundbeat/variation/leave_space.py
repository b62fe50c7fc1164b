"""Leave space: take strokes out: those that line up with another line, every third, or down to so many in a bar.

The strokes of the target at `at` that line up with `with` are counted by `every` and `start`; what is counted out is
left out, or thinned out `down-to` so many a bar. Strokes on the surfaces of `with` themselves are never meant.

Thinning keeps, bar by bar, the backbeats (unless `keep` is "nothing"), then the louder, then those on a beat of the
meter. Of m equal ones of which only k have room, those numbered floor(j * m / k), j from 0, stay: evenly spread
from the first. Our choice.

Backbeats stay by default: through them the first beat is still heard in the last.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from ..lineage.ledger import Ledger
from ..model.beat import Beat, Stroke
from ..model.meter import Meter
from ..model.roles import BACKBEAT_VOICE, RIDING
from .counting import MOST, counted, counted_words, meant_words
from .kind import Kind, Word, chosen
from .scene import Scene, surfaces_of
from .selection import ALL
from .setting import CHOICE, NUMBER, PLACES, TARGET, TARGETS, Setting
from .words import join, target_words

NOTHING, BACKBEATS = "nothing", "backbeats"

SETTINGS = (
    Setting("surface", 1, TARGET, RIDING, label="what is meant", example="Such as riding, kick or everything."),
    Setting(
        "at", 2, PLACES, ALL, label="which strokes", offer="only some of the strokes",
        example="Such as 2 4, e a, ghosts, last beat.",
    ),
    Setting("with", 3, TARGETS, (), label="what they line up with", offer="only where another line sounds too"),
    Setting(
        "every", 4, NUMBER, "1", low=1, high=MOST, label="counted in", offer="only every third",
        example="A number from 1 to 16.",
    ),
    Setting(
        "start", 5, NUMBER, "1", needs="every", low=1, high=MOST, label="counted from",
        offer="counted from another stroke",
        example="A number from 1 to 16.",
    ),
    Setting(
        "down-to", 6, NUMBER, "0", low=0, high=32, label="how many stay in a bar", offer="thin out to so many a bar",
        example="A number from 1 to 32; 0 leaves all of them out.",
    ),
    Setting("keep", 7, CHOICE, BACKBEATS, words=(NOTHING, BACKBEATS), label="what stays", offer="the backbeats too"),
)  # fmt: skip


def apply(scene: Scene, settings: dict[str, Any], ledger: Ledger) -> None:
    """Leave the meant strokes out."""
    meant = chosen(settings["surface"], settings["at"], scene, ledger)
    if meant and settings["with"]:
        meant = _lined_up(meant, settings, scene, ledger)
    picked = counted(meant, settings, scene, ledger)
    held = set(scene.backbeats) if settings["keep"] == BACKBEATS else set()
    limit = int(settings["down-to"])
    if limit:
        stay = _thinned(picked, limit, held, scene.beat, ledger)
    else:
        stay = {stroke.id for stroke in picked if stroke.id in held}
        if stay:
            ledger.say("a backbeat stays" if len(stay) == 1 else f"{len(stay)} backbeats stay")
    for stroke in picked:
        if stroke.id not in stay:
            ledger.leave_out(stroke)


def _lined_up(
    strokes: tuple[Stroke, ...], settings: dict[str, Any], scene: Scene, ledger: Ledger
) -> tuple[Stroke, ...]:
    """Those of the strokes that fall together with a stroke of the other lines."""
    names = {name for target in settings["with"] for name in surfaces_of(target, scene)}
    spots = {stroke.at for stroke in scene.beat.strokes if stroke.surface in names}
    found = tuple(stroke for stroke in strokes if stroke.at in spots and stroke.surface not in names)
    if not found:
        ledger.say(f"nothing of {target_words(settings['surface'])} lines up with {_others(settings['with'])}")
    return found


def _others(targets: tuple[str, ...]) -> str:
    return join([target_words(name) for name in targets], "or")


def _thinned(picked: Sequence[Stroke], limit: int, held: set[str], beat: Beat, ledger: Ledger) -> set[str]:
    """The ids of the strokes that stay where at most `limit` do in a bar."""
    bars: dict[int, list[Stroke]] = {}
    for stroke in picked:
        bars.setdefault(beat.bar_of(stroke.at), []).append(stroke)
    stay: set[str] = set()
    for row in bars.values():
        kept = [stroke for stroke in row if stroke.id in held]
        if len(kept) > limit:
            ledger.say(f"the backbeats alone are more than {limit} in a bar")
        stay.update(stroke.id for stroke in kept)
        ranks: dict[tuple[int, bool], list[Stroke]] = {}
        for stroke in row:
            if stroke.id not in held:
                ranks.setdefault((stroke.level, _on_beat(stroke.at, beat.meter)), []).append(stroke)
        room = max(limit - len(kept), 0)
        for rank in sorted(ranks, reverse=True):
            equal = ranks[rank]
            some = min(room, len(equal))
            stay.update(equal[index * len(equal) // some].id for index in range(some))
            room -= some
    if picked and len(stay) == len(picked):
        ledger.say(f"no bar has more than {limit} of them; nothing was left out")
    return stay


def _on_beat(at: int, meter: Meter) -> bool:
    number, rest = divmod(at % meter.bar, meter.number)
    return not rest and number + 1 in meter.beats


def sentence(settings: dict[str, Any]) -> tuple[Word, ...]:
    """Say it: "Leave out every stroke of the riding hand where the backbeat voice sounds too."."""
    limit = int(settings["down-to"])
    words = [Word("Thin out " if limit else "Leave out "), *meant_words(settings)]
    if settings["with"]:
        words += [Word(" where "), Word(_others(settings["with"]), "with"), Word(" sounds too")]
    words += counted_words(settings)
    if limit:
        words += [Word(", to "), Word(f"at most {limit} in a bar", "down-to")]
    if settings["keep"] == NOTHING:
        words += [Word(", "), Word("the backbeats too", "keep")]
    return (*words, Word("."))


KIND = Kind(
    "leave-space",
    "Leave space",
    SETTINGS,
    apply,
    sentence,
    {"with": (BACKBEAT_VOICE,)},
    family="More and fewer strokes",
)
