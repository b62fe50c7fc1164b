"""What is proposed to make a stage easier is easier, changes little, and is true to what it says."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

from groundbeat.analysis.differences import hit
from groundbeat.analysis.easier import easier
from groundbeat.analysis.keeping import kept
from groundbeat.analysis.limbs import Playing, play
from groundbeat.analysis.player import USUAL, Player, read_player
from groundbeat.analysis.suggest import OFFERED, Suggestion
from groundbeat.analysis.tempo import comfortable, fastest
from groundbeat.analysis.tricky import tricky
from groundbeat.bridge.midi_file import groove_of_bytes
from groundbeat.codec.groove_read import read_groove
from groundbeat.codec.groove_write import write_groove
from groundbeat.codec.link import read_link, write_link
from groundbeat.errors import RequestError, VariationError
from groundbeat.model.groove import Groove
from groundbeat.model.roles import find_roles
from groundbeat.variation.stack import Stage, add, edit, grow, plain

ROOT = Path(__file__).parents[2]
KINDS = sorted((ROOT / "examples" / "kinds").glob("*.toml"))
SIXTEENTHS = """groundbeat = 1
tempo = 120
[base]
hi-hat = "xxxxxxxxxxxxxxxx"
snare  = "----O-------O---"
kick   = "o-------o-------"
"""
THREE_HANDS = """groundbeat = 1
tempo = 90
[base]
crash  = "x---------------"
hi-hat = "x-x-x-x-x-x-x-x-"
snare  = "o---O-------O---"
kick   = "o-------o-------"
"""


def result(groove: Groove, each: Suggestion, number: int) -> tuple[Groove, Stage]:
    """The groove with a proposal taken, and the stage that it makes of stage `number`."""
    if each.key:
        old = dict(next(v for v in groove.variations if v.key == each.key).settings)
        new = edit(groove, each.key, {name: each.settings.get(name) for name in {*old, *each.settings}})
        return new, grow(new)[number]
    new = add(groove, each.kind, each.settings, after=each.after)
    return new, grow(new)[number + 1]


def facts(groove: Groove, stage: Stage, playing: Playing) -> int:
    found = tricky(playing, find_roles(stage.beat, stage.backbeats, groove.roles).riding)
    return sum(len(find.keys) for find in found)


def check(groove: Groove, number: int, tempo: int, found: Sequence[Suggestion], player: Player = USUAL) -> None:
    """Hold all laws of proposals against those for a stage."""
    stages = grow(groove)
    before = stages[number]
    was = play(groove, before, player, tempo)
    old = (len(was.dropped), sum(not s.possible for s in was.steps) / before.beat.cycle)
    fast, easy = fastest(was).bpm or 0, comfortable(was).bpm or 0
    beats = []
    for each in found:
        new, after = result(groove, each, number)
        assert read_groove(write_groove(new)) == new
        assert read_link(write_link(new)).groove == new
        assert after.variation is not None
        assert after.variation.kind == each.kind
        assert each.plain == plain(after.variation, {stage.key: stage.number for stage in grow(new)})
        assert set(after.says) <= set(before.says if each.key else ())
        now = play(groove, after, player, tempo)
        hard = (len(now.dropped), sum(not s.possible for s in now.steps) / after.beat.cycle)
        assert hard[0] <= old[0] and hard[1] <= old[1], each.plain
        assert (fastest(now).bpm or 0) >= fast and (comfortable(now).bpm or 0) >= easy, each.plain
        one, two = facts(groove, before, was), facts(groove, after, now)
        assert two <= one, each.plain
        gains = (hard != old, (fastest(now).bpm or 0) > fast, (comfortable(now).bpm or 0) > easy, two < one)
        assert any(gains), each.plain
        assert (each.fastest, each.comfortable) == (fastest(now).bpm, comfortable(now).bpm)
        beats.append(frozenset(hit(stroke) for stroke in after.beat.strokes))
    assert len(found) <= OFFERED
    assert len(set(beats)) == len(beats)


def test_the_hard_spot_of_slack_tide_is_taken_out_by_one_stroke(slack_tide: Groove):
    found = easier(slack_tide, grow(slack_tide), 2)
    check(slack_tide, 2, slack_tide.tempo, found)
    _, after = result(slack_tide, found[0], 2)
    assert len(after.beat.strokes) == len(grow(slack_tide)[2].beat.strokes) - 1
    assert "no tricky spot left" in found[0].why
    own = [each for each in found if each.key == 2]
    assert own and all(each.kind == "embellish" for each in own)


def test_sixteenths_of_one_hand_at_120_become_comfortable():
    groove = read_groove(SIXTEENTHS)
    found = easier(groove, grow(groove), 0)
    check(groove, 0, 12000, found)
    assert any((each.comfortable or 0) >= 120 for each in found)
    riding = [each for each in found if each.kind == "ostinato"]
    assert riding and all((each.comfortable or 0) > 100 for each in riding)
    assert all(kept("kick", grow(groove)[0], result(groove, each, 0)[1]) for each in riding)


def test_three_things_for_two_hands_become_two():
    groove = read_groove(THREE_HANDS)
    stages = grow(groove)
    assert not play(groove, stages[0]).possible
    found = easier(groove, stages, 0)
    check(groove, 0, 9000, found)
    for each in found:
        _, after = result(groove, each, 0)
        assert play(groove, after).possible, each.plain
        assert each.fastest and "there are limbs for everything" in each.why
    _, least = result(groove, found[0], 0)
    assert len(least.beat.strokes) == len(stages[0].beat.strokes) - 1


def test_the_least_change_comes_first_and_one_makes_all_of_it_playable(slack_tide: Groove):
    stages = grow(slack_tide)
    assert not play(slack_tide, stages[4], tempo=16000).playable
    found = easier(slack_tide, stages, 4, tempo=16000)
    check(slack_tide, 4, 16000, found)
    old = {hit(stroke) for stroke in stages[4].beat.strokes}
    sizes, solved = [], []
    for each in found:
        _, after = result(slack_tide, each, 4)
        new = {hit(stroke) for stroke in after.beat.strokes}
        sizes.append(max(len(old - new), len(new - old)))
        solved.append(play(slack_tide, after, tempo=16000).playable)
    assert sizes == sorted(sizes)
    assert any(solved)


def test_leaving_out_says_what_it_does_by_the_shorter_sentence():
    groove = read_groove(SIXTEENTHS)
    for each in easier(groove, grow(groove), 0, tempo=16000):
        if each.kind not in ("touch-up", "leave-space"):
            continue
        before, (_, after) = grow(groove)[0], result(groove, each, 0)
        gone = {hit(s) for s in before.beat.strokes} - {hit(s) for s in after.beat.strokes}
        assert {hit(s) for s in after.beat.strokes} < {hit(s) for s in before.beat.strokes}
        assert f"leaves out {len(gone)} of" in each.why
        assert each.kind == "leave-space" or len({surface for _, surface, *_ in gone}) > 1


def test_what_is_asked_to_stay_stays(slack_tide: Groove):
    stages = grow(slack_tide)
    for keep in (("kick",), ("riding", "backbeats")):
        found = easier(slack_tide, stages, 4, tempo=16000, keep=keep)
        assert found
        for each in found:
            _, after = result(slack_tide, each, 4)
            assert all(kept(word, stages[4], after) for word in keep), each.plain


def test_a_beat_that_could_not_be_easier_is_left_alone():
    groove = read_groove('groundbeat = 1\ntempo = 60\n[base]\nhi-hat = "x---x---x---x---"\n')
    assert easier(groove, grow(groove), 0) == ()


def test_a_slower_foot_gets_kicks_left_out():
    groove = read_groove(
        'groundbeat = 1\ntempo = 110\n[base]\nhi-hat = "x-x-x-x-x-x-x-x-"\nsnare = "----O-------O---"\n'
        'kick = "oo------oo------"\n'
    )
    player = read_player("right foot 20")
    found = easier(groove, grow(groove), 0, player)
    check(groove, 0, 11000, found, player)
    _, after = result(groove, found[0], 0)
    assert sum(s.surface == "kick" for s in after.beat.strokes) < 4


def test_a_stage_that_there_is_not_and_a_word_that_cannot_be_kept_are_refused():
    groove = read_groove(SIXTEENTHS)
    with pytest.raises(VariationError, match="there are stages 0 to 0, not 1"):
        easier(groove, grow(groove), 1)
    with pytest.raises(RequestError, match="cannot be kept"):
        easier(groove, grow(groove), 0, keep=("snair",))


@pytest.mark.parametrize("path", KINDS[::2], ids=lambda path: path.stem)
def test_proposals_for_every_kind_hold_the_laws(path: Path):
    groove = read_groove(path.read_text(), path.name)
    tempo = min(40000, groove.tempo * 2)
    number = len(groove.variations)
    check(groove, number, tempo, easier(groove, grow(groove), number, tempo=tempo))


def test_beats_that_people_played_get_easier_at_a_faster_tempo(real_inputs: Path):
    files = sorted((real_inputs / "drum_midi").glob("*.mid"))
    served = 0
    for path in files[::8]:
        base, _ = groove_of_bytes(path.name, path.read_bytes())
        tempo = min(40000, base.tempo * 3 // 2)
        found = easier(base, grow(base), 0, tempo=tempo)
        check(base, 0, tempo, found)
        served += bool(found)
    assert served >= 4
