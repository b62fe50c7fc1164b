"""What is suggested can be played, keeps what was asked, reaches the wish, and was found on this very beat."""

from __future__ import annotations

import os
import subprocess
import sys
import types
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import combinations
from pathlib import Path
from typing import Any

import pytest

from groundbeat.analysis.demand import demand
from groundbeat.analysis.differences import Differences, hit
from groundbeat.analysis.keeping import kept, read_keep
from groundbeat.analysis.limbs import play
from groundbeat.analysis.player import USUAL, Player, read_player
from groundbeat.analysis.search import Search
from groundbeat.analysis.suggest import OFFERED, Suggestion, strain, suggest
from groundbeat.analysis.tempo import comfortable, fastest
from groundbeat.analysis.wish import OFFERED as WISHES
from groundbeat.analysis.wish import PARTS, read_wish
from groundbeat.bridge.midi_file import groove_of_bytes
from groundbeat.codec.groove_read import read_groove
from groundbeat.codec.groove_write import write_groove
from groundbeat.codec.link import read_link, write_link
from groundbeat.errors import RequestError, VariationError
from groundbeat.lineage.ledger import Ledger
from groundbeat.model.groove import Groove
from groundbeat.model.kit import FEET_ONLY
from groundbeat.variation import catalogue
from groundbeat.variation.kind import Kind, Scene, Word, chosen
from groundbeat.variation.setting import CHOICE, EVERYTHING, PLACES, TARGET, Setting
from groundbeat.variation.stack import Stage, add, grow, plain

ROOT = Path(__file__).parents[2]
BEATS = sorted((ROOT / "examples" / "beats").glob("*.toml"))
ROCK = """groundbeat = 1
tempo = 100
[base]
hi-hat = "x-x-x-x-x-x-x-x-"
snare  = "----O-------O---"
kick   = "{kick}"
"""


def rock(kick: str = "o-------o-------") -> Groove:
    return read_groove(ROCK.format(kick=kick))


def taken(groove: Groove, each: Suggestion) -> tuple[Groove, Sequence[Stage], Stage]:
    """The groove with a suggestion taken, its stages, and the suggestion's own stage."""
    assert each.key == 0
    new = add(groove, each.kind, each.settings, after=each.after)
    stages = grow(new)
    return new, stages, next(stage for stage in stages if stage.key == groove.next_key)


def check(
    groove: Groove, number: int, wish: str, keep: Sequence[str], found: Sequence[Suggestion], player: Player = USUAL
) -> None:
    """Hold all laws of suggestions against a round."""
    stages = grow(groove)
    before = stages[number]
    was = play(groove, before, player)
    asked = comfortable(was).bpm or 0
    one = demand(groove, stages, number, was)
    beats = []
    for each in found:
        new, grown, after = taken(groove, each)
        assert read_groove(write_groove(new)) == new
        assert read_link(write_link(new)).groove == new
        assert after.number == number + 1
        assert all(text.startswith(("cut at the loop", "a backbeat stays")) for text in after.says), (
            each.plain,
            after.says,
        )
        assert not Differences(before, after).nothing
        assert after.variation is not None
        assert each.plain == plain(after.variation, {stage.key: stage.number for stage in grown})
        playing = play(groove, after, player)
        assert playing.playable, each.plain
        assert (each.fastest, each.comfortable) == (fastest(playing).bpm, comfortable(playing).bpm)
        if "harder" not in wish:
            assert all(a <= b + 1e-9 for a, b in zip(strain(playing), strain(was), strict=True)), each.plain
            assert (each.comfortable or 0) >= min(asked, groove.tempo // 100), each.plain
        for word in read_keep(keep):
            assert kept(word, before, after, groove.roles), (word, each.plain)
        two = demand(groove, grown, number + 1, playing)
        assert each.parts == tuple((a.name, a.value, b.value) for a, b in zip(one, two, strict=True))
        assert each.why and each.why == each.why.strip("; ")
        beats.append((frozenset(hit(stroke) for stroke in after.beat.strokes), repr(after.feel), after.beat.cycle))
    assert len(found) <= OFFERED
    assert len(set(beats)) == len(beats)
    for (a, *_), (b, *_) in combinations(beats, 2):
        assert len(a & b) <= 0.9 * len(a | b), [each.plain for each in found]


@pytest.mark.parametrize("path", BEATS, ids=lambda path: path.stem)
def test_every_beat_gets_suggestions_that_hold_the_laws(path: Path):
    groove = read_groove(path.read_text(), path.name)
    found = suggest(groove, grow(groove), 0)
    assert len(found) >= 3
    check(groove, 0, "", (), found)


@pytest.mark.parametrize("number", [0, 2, 4])
def test_every_stage_of_slack_tide_gets_suggestions(slack_tide: Groove, number: int):
    found = suggest(slack_tide, grow(slack_tide), number)
    assert len(found) >= 3
    check(slack_tide, number, "", (), found)


@pytest.mark.parametrize("wish", [wish for wish in WISHES if wish != "easier"])
def test_every_wish_is_served_and_holds_the_laws(slack_tide: Groove, lantern_walk: Groove, wish: str):
    served = 0
    for groove, number in ((slack_tide, 1), (lantern_walk, 0)):
        found = suggest(groove, grow(groove), number, wish)
        check(groove, number, wish, (), found)
        served += len(found)
    assert served >= 4


def _sums(groove: Groove, wish: str) -> list[tuple[Stage, Stage, dict[str, int], Suggestion]]:
    before = grow(groove)[-1]
    found = suggest(groove, grow(groove), before.number, wish)
    assert found
    rows = []
    for each in found:
        _, _, after = taken(groove, each)
        rows.append((before, after, {name: two - one for name, one, two in each.parts}, each))
    return rows


def _rate(stage: Stage, feet: bool | None = None) -> float:
    row = [s for s in stage.beat.strokes if feet is None or (s.surface in FEET_ONLY) == feet]
    return len(row) / stage.beat.cycle


def test_busier_has_more_strokes_in_the_same_time_and_much_busier_more_still():
    more = [_rate(after) / _rate(before) for before, after, _, _ in _sums(rock(), "busier")]
    most = [_rate(after) / _rate(before) for before, after, _, _ in _sums(rock(), "much busier")]
    assert min(more) > 1 and min(most) >= 1 + 4 / 12
    assert all(_rate(after) < _rate(before) for before, after, _, _ in _sums(rock(), "airier"))


def test_harder_is_more_in_the_parts_of_demand_taken_together_and_simpler_less():
    assert all(3 <= sum(parts[name] for name in PARTS) <= 30 for _, _, parts, _ in _sums(rock(), "a little harder"))
    assert all(sum(parts[name] for name in PARTS) >= 50 for _, _, parts, _ in _sums(rock(), "much harder"))
    for _, _, parts, each in _sums(rock(), "simpler"):
        assert sum(parts[name] for name in PARTS) <= -5, each.plain
        assert max(parts[name] for name in PARTS) <= 4, each.plain


def test_syncopation_rises_and_falls_as_wished(lantern_walk: Groove):
    assert all(parts["syncopation"] >= 4 for _, _, parts, _ in _sums(lantern_walk, "more syncopated"))
    assert all(parts["syncopation"] <= -4 for _, _, parts, _ in _sums(lantern_walk, "straighter"))


def test_a_new_sound_was_not_heard_before_and_ghosts_and_accents_are_more():
    for before, after, _, each in _sums(rock(), "new sound"):
        assert {s.surface for s in after.beat.strokes} - {s.surface for s in before.beat.strokes}, each.plain
    for word, wish in (("ghost", "more ghosts"), ("accent", "more accents")):
        for before, after, _, each in _sums(rock(), wish):
            counts = [
                sum(s.dynamic == word for s in stage.beat.strokes) / stage.beat.cycle for stage in (before, after)
            ]
            assert counts[1] > counts[0], each.plain


def test_for_the_feet_brings_strokes_of_the_feet_and_for_a_hand_strokes_of_that_hand():
    for before, after, _, each in _sums(rock(), "for the feet"):
        old = {(s.at, s.surface) for s in before.beat.strokes}
        fresh = [s for s in after.beat.strokes if (s.at % before.beat.cycle, s.surface) not in old]
        feet = sum(s.surface in FEET_ONLY for s in fresh)
        assert feet and feet * 2 >= len(fresh), each.plain
    groove = rock()
    for hand in ("left hand", "right hand"):
        for before, after, _, each in _sums(groove, f"for the {hand}"):
            one, two = (play(groove, stage).limb_names() for stage in (before, after))
            had = {(s.at, s.surface, one[s.id]) for s in before.beat.strokes}
            played = [(s.at % before.beat.cycle, s.surface, two[s.id]) for s in after.beat.strokes]
            fresh = [limb for at, surface, limb in played if (at, surface, limb) not in had]
            assert hand in fresh and fresh.count(hand) * 2 >= len(fresh), each.plain


def test_a_left_handed_players_left_hand_rides():
    groove = rock()
    player = read_player("left-handed")
    for each in suggest(groove, grow(groove), 0, "for the left hand", player=player):
        _, _, after = taken(groove, each)
        names = play(groove, after, player).limb_names()
        assert list(names.values()).count("left hand") >= 8, each.plain


@pytest.mark.parametrize(
    "keep",
    [("backbeats",), ("kick",), ("riding",), ("backbeats", "kick"), ("backbeats", "kick", "riding"), ("hi-hat",)],
)
def test_what_is_asked_to_stay_stays(slack_tide: Groove, keep: tuple[str, ...]):
    number = len(slack_tide.variations)
    found = suggest(slack_tide, grow(slack_tide), number, "", keep)
    assert len(found) >= 2
    check(slack_tide, number, "", keep, found)


def test_kept_strokes_stand_where_they_stood_as_loud_and_on_the_same_surface():
    groove = rock("o--o--o---o-----")
    for each in suggest(groove, grow(groove), 0, "", ("kick", "backbeats")):
        _, _, after = taken(groove, each)
        times = max(1, after.beat.cycle // 40320)
        kick = sorted(s.at for s in after.beat.strokes if s.surface in ("kick", "second kick"))
        assert kick == [at + bar * 40320 for bar in range(times) for at in (0, 7560, 15120, 25200)], each.plain
        there = {(s.at, s.surface, s.dynamic) for s in after.beat.strokes}
        assert {(at, "snare", "accent") for at in (10080, 30240)} <= there, each.plain


def test_a_line_that_gets_more_strokes_or_another_feel_is_not_kept():
    groove = add(rock(), "embellish", {"surface": "kick", "at": "a", "dynamic": "normal"})
    before, after = grow(groove)
    assert not kept("kick", before, after) and kept("backbeats", before, after) and kept("riding", before, after)
    swung = grow(add(rock(), "feel", {"swing": "eighths 2:1"}))
    assert not kept("riding", *swung) and kept("backbeats", *swung) and kept("kick", *swung)
    louder = grow(add(rock(), "dynamics", {"surface": "kick"}))
    assert not kept("kick", *louder)
    moved = grow(add(rock(), "displace", {"surface": "snare", "by": "1/16 later"}))
    assert not kept("backbeats", *moved)
    longer = grow(add(rock(), "length", {"bars": "2"}))
    assert all(kept(word, *longer) for word in ("backbeats", "kick", "riding"))


def test_a_word_that_cannot_be_kept_is_refused():
    with pytest.raises(RequestError, match='"snair" cannot be kept; did you mean "snare"') as caught:
        suggest(rock(), grow(rock()), 0, "", ("snair",))
    assert caught.value.field == "keep"


def test_a_stage_that_there_is_not_is_refused():
    with pytest.raises(VariationError, match="there are stages 0 to 0, not 1"):
        suggest(rock(), grow(rock()), 1)


def test_two_beats_with_different_kicks_get_different_suggestions():
    one, other = rock("o-------o-------"), rock("o--o--o---o-----")
    first, second = (suggest(groove, grow(groove), 0) for groove in (one, other))
    assert [each.plain for each in first] != [each.plain for each in second]
    assert len({each.plain for each in first} ^ {each.plain for each in second}) >= 4


def test_the_same_seed_gives_the_same_and_another_seed_others(slack_tide: Groove):
    stages = grow(slack_tide)
    first, again, other = (suggest(slack_tide, stages, 1, "a little busier", seed=seed) for seed in (3, 3, 4))
    assert first == again
    assert {each.plain for each in first} != {each.plain for each in other}


def test_it_hangs_on_no_hash_seed():
    script = (
        "from groundbeat.codec.groove_read import read_groove; from groundbeat.variation.stack import grow\n"
        "from groundbeat.analysis.suggest import suggest; from groundbeat.analysis.easier import easier\n"
        f"g = read_groove(open({str(ROOT / 'examples' / 'slack-tide.toml')!r}).read()); s = grow(g)\n"
        "print(suggest(g, s, 2, 'busier'), suggest(g, s, 0), easier(g, s, 4, tempo=16000))"
    )
    told = {
        subprocess.run(
            [sys.executable, "-c", script], capture_output=True, text=True, check=True,
            env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": str(ROOT / "engine")},
        ).stdout
        for seed in ("1", "77")
    }  # fmt: skip
    assert len(told) == 1


def test_a_full_groove_and_an_empty_one_get_none():
    groove = rock()
    full = groove
    for _ in range(64):
        full = add(full, "touch-up", {"changes": ["= kick 1 accent"]})
    assert suggest(full, grow(full), 64) == ()
    empty = read_groove("groundbeat = 1\n[base]\n")
    check(empty, 0, "", (), suggest(empty, grow(empty), 0))


def test_nobody_is_told_to_use_a_pedal_that_is_not_there():
    groove = rock()
    for text, wanted in (("", False), ("double pedal", True)):
        second = False
        for seed in range(4):
            search = Search(groove, grow(groove), read_wish("for the feet"), (), seed, read_player(text))
            beats = [found.candidate.stage.beat for found in search.found()]
            assert beats
            second |= any(stroke.surface == "second kick" for beat in beats for stroke in beat.strokes)
        assert second == wanted, text


def test_a_beat_below_comfort_gets_nothing_that_is_further_below(slack_tide: Groove):
    fast = replace(slack_tide, tempo=13000)
    stages = grow(fast)
    assert strain(play(fast, stages[2]))[0] > 0
    for wish in ("", "busier"):
        check(fast, 2, wish, (), suggest(fast, stages, 2, wish))
    harder = suggest(fast, stages, 2, "much harder")
    check(fast, 2, "much harder", (), harder)


def _nod(scene: Scene, settings: dict[str, Any], ledger: Ledger) -> None:
    for stroke in chosen(settings["surface"], settings["at"], scene, ledger):
        ledger.alter(stroke, dynamic="ghost" if settings["how"] == "deeply" else "soft")


def _nodded(settings: dict[str, Any]) -> tuple[Word, ...]:
    return (Word("Nod "), Word(settings["how"], "how"), Word(f" at {settings['at']} of {settings['surface']}."))


@pytest.fixture
def nodding() -> Iterator[None]:
    """A kind that nobody but the catalogue has heard of; it is the only one."""
    settings = (
        Setting("surface", 1, TARGET, EVERYTHING),
        Setting("at", 2, PLACES, "all"),
        Setting("how", 3, CHOICE, "lightly", words=("lightly", "deeply")),
    )
    module = types.ModuleType("a_kind_that_nods")
    module.KIND = Kind("nod", "Nod", settings, _nod, _nodded)  # type: ignore[attr-defined]
    sys.modules[module.__name__] = module
    known = catalogue.ENTRIES[:]
    catalogue.ENTRIES[:] = [catalogue.Entry("nod", 91, module.__name__)]
    yield
    catalogue.ENTRIES[:] = known
    del sys.modules[module.__name__]
    catalogue._load.cache_clear()


@pytest.mark.usefixtures("nodding")
def test_a_kind_that_is_new_in_the_catalogue_is_suggested_without_being_known_here():
    groove = rock()
    found = suggest(groove, grow(groove), 0, "quieter", ("backbeats",))
    assert found and {each.kind for each in found} == {"nod"}
    check(groove, 0, "quieter", ("backbeats",), found)


def test_a_kind_that_changes_nothing_is_not_suggested(nodding: None):
    module = sys.modules["a_kind_that_nods"]
    module.KIND = module.KIND._replace(apply=lambda scene, settings, ledger: None)
    groove = rock()
    assert suggest(groove, grow(groove), 0) == ()


def test_a_push_of_what_does_not_sound_is_nothing():
    for settings, nothing in (({"surface": "ride", "push": "10 ms late"}, True), ({"push": "10 ms late"}, False)):
        assert Differences(*grow(add(rock(), "feel", settings))).nothing == nothing
    assert not Differences(*grow(add(rock(), "feel", {"swing": "eighths 2:1"}))).nothing
    assert Differences(*grow(add(rock(), "feel", {"swing": "sixteenths 2:1"}))).nothing  # it has no sixteenths


def test_sixteen_bars_are_suggested_for_as_well():
    groove = add(rock("o--o--o---o-----"), "length", {"bars": "16"})
    found = suggest(groove, grow(groove), 1)
    assert found
    check(groove, 1, "", (), found)


def _six(folder: Path) -> list[Path]:
    files = sorted((folder / "drum_midi").glob("*.mid"))
    return files[:: max(1, len(files) // 6)][:6]


def test_beats_that_people_played_get_suggestions(real_inputs: Path):
    served = 0
    for path in _six(real_inputs):
        base, _ = groove_of_bytes(path.name, path.read_bytes())
        for wish, keep in (("", ()), ("a little busier", ("backbeats",))):
            stages = grow(base)
            found = suggest(base, stages, 0, wish, keep)
            if play(base, stages[0]).playable:
                check(base, 0, wish, keep, found)
                served += len(found)
    assert served >= 15


def test_easier_is_a_wish_as_well(slack_tide: Groove):
    found = suggest(slack_tide, grow(slack_tide), 2, "easier", ("backbeats", "riding"))
    assert found
    stages = grow(slack_tide)
    for each in found:
        if each.key:
            continue
        _, _, after = taken(slack_tide, each)
        assert kept("riding", stages[2], after) and kept("backbeats", stages[2], after)


def test_what_is_suggested_on_a_middle_stage_goes_right_behind_it(slack_tide: Groove):
    for each in suggest(slack_tide, grow(slack_tide), 2):
        new, _, after = taken(slack_tide, each)
        assert [variation.key for variation in new.variations] == [1, 2, 5, 3, 4]
        assert after.number == 3
    assert replace(slack_tide, title="x").variations == slack_tide.variations
