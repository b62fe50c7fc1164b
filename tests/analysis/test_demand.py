"""The parts of the demand say what makes a beat hard, keep their laws, and are never added up."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundbeat.analysis.demand import PARTS, Part, demand
from groundbeat.analysis.limbs import play
from groundbeat.analysis.player import USUAL as USUAL_PLAYER
from groundbeat.analysis.player import Player, read_player
from groundbeat.analysis.tempo import comfortable, fastest
from groundbeat.codec.groove_read import read_groove
from groundbeat.errors import VariationError
from groundbeat.model.beat import Beat
from groundbeat.model.feel import Feel
from groundbeat.model.groove import Groove
from groundbeat.variation.stack import add, grow, switch
from tests.strategies import USUAL, beats, grooves

PLAYERS = [
    read_player(text)
    for text in (
        "", "left-handed", "open-handed", "double pedal", "double pedal; drop clutch", "left-handed; double pedal",
        "right hand 50; left foot 40", "double pedal; right foot 30; left foot 60",
    )
]  # fmt: skip
FEELS = [Feel(), Feel("eighths", 2, 1), Feel("sixteenths", 3, 2)]


def parts_of(groove: Groove, number: int = 0, player: Player = USUAL_PLAYER, tempo: int = 0) -> dict[str, Part]:
    stages = grow(groove)
    found = demand(groove, stages, number, play(groove, stages[number], player, tempo))
    assert tuple(part.name for part in found) == PARTS
    return {part.name: part for part in found}


def lines(text: str, tempo: float = 90, head: str = "") -> dict[str, Part]:
    return parts_of(read_groove(f'groundbeat = 1\ntitle = "Test"\ntempo = {tempo}\n{head}\n[base]\n{text}\n'))


ROCK = 'hi-hat = "x-x-x-x-x-x-x-x-"\nsnare = "----o-------o---"\nkick = "o-------o-------"'


# Density


def test_density_counts_strokes_a_second_by_hands_and_feet():
    part = lines(ROCK, 120)["density"]  # 8 + 2 + 2 strokes in 2 seconds
    assert part.value == 42  # 6 / (6 + 8)
    assert part.text == "6 strokes a second: hands 5, feet 1"  # three strokes in every beat: none is the busiest


def test_the_busiest_beat_is_named_with_its_count():
    text = 'hi-hat = "x-x-x-x-x-x-x-x-"\nsnare = "----o---oo--o---"\nkick = "o-------o-------"'
    assert lines(text, 60)["density"].text.endswith("; busiest on 3: 5 strokes")


def test_ornaments_are_strokes():
    plain = 'snare = "o-----------o---"\nkick = "----o-----------"'
    assert lines(plain, 240)["density"].text.startswith("3 strokes a second: hands 2")
    graced = plain + '\nsnare graces = "3-----------/---"'  # four-stroke ruff: three more; diddle: one more
    assert lines(graced, 240)["density"].text.startswith("7 strokes a second: hands 6")


# Independence


def test_limbs_that_go_together_ask_for_no_independence():
    assert lines('ride = "x-x-x-x-"\nkick = "o-o-o-o-"', head='columns = "eighths"')["independence"] == Part(
        "independence", 0, "all goes with the right hand"
    )


def test_one_limb_alone_asks_for_none():
    assert lines('kick = "o---o---o---o---"')["independence"] == Part("independence", 0, "one limb alone")


def test_the_near_foot_counts_more_than_the_far_foot_and_that_more_than_the_other_hand():
    ride = 'ride = "x---x---x---x---"\n'
    hand = lines(ride + 'snare = "x-----x---------"'.replace("x", "o"))["independence"].value
    foot = lines(ride + 'kick = "o-----o---------"')["independence"].value
    far = lines(ride + 'hi-hat-foot = "x-----x---------"')["independence"].value
    # 1 between + 2 changes = 3 points, times 1, 1 1/2, 2, over four quarters; 100 x / (x + 2)
    assert (hand, far, foot) == (27, 36, 42)


def test_what_changes_about_counts_more_than_what_is_always_between():
    ride = 'ride = "x---x---x---x---"\n'
    always = lines(ride + 'kick = "--o---o---o---o-"')["independence"]
    mixed = lines(ride + 'kick = "--o-o-----o-o---"')["independence"]
    assert always.value == 33  # 4 strokes, half a point each, times 2: one a quarter
    assert mixed.value == 60  # 2 between, 4 changes, times 2: three a quarter
    assert always.text == "between strokes of the right hand: right foot always"
    assert mixed.text == "between strokes of the right hand: right foot 2 of 4"


def test_limbs_that_cross_each_other_are_told_where_all_go_with_the_riding_hand():
    part = lines('hi-hat = "x-x-x-x-x-x-x-x-"\nsnare = "----o-------o---"\nkick = "o---o---o-------"')["independence"]
    # snare on 2 with the kick and on 4 without: 1 between and 2 changes, halved, times 1 1/2, over four quarters
    assert part.value == 21
    assert part.text == "all goes with the right hand; now together, now apart: left hand and right foot"


def test_a_beat_written_twice_asks_for_the_same_independence_and_dynamics():
    text = 'hi-hat = "x-x-xxx-x-x-x-x-"\nsnare = "--g-O--g-g--O---"\nkick = "o--o---o--o-----"'
    double = "\n".join(f'{row[:-1]}|%"' for row in text.splitlines())
    once, twice = lines(text), lines(double)
    for name in ("independence", "dynamics", "speed", "density", "syncopation"):
        assert once[name].value == twice[name].value, name


# Speed


def test_three_lefts_are_comfortable_to_exactly_100(slack_tide):
    parts = parts_of(slack_tide, 2)
    assert parts["speed"].value == 46  # 50 x 92 / 100
    assert parts["speed"].text == "comfortable up to 100; first of all the left hand, a of 3 to 4"


def test_fifty_is_the_comfortable_tempo_and_a_hundred_the_fastest(slack_tide):
    values = {tempo: parts_of(slack_tide, 2, tempo=tempo * 100)["speed"].value for tempo in (50, 100, 101, 125, 150)}
    assert values == {50: 25, 100: 50, 101: 51, 125: 75, 150: 100}
    beyond = parts_of(slack_tide, 2, tempo=16000)["speed"]
    assert beyond.value == 100
    assert beyond.text.startswith("at most 150, and this is faster")


def test_a_meter_in_eighths_is_not_cut_at_the_fastest_tempo_of_a_groove():
    head = 'meter = "5/8"\ncolumns = "sixteenths"'
    part = lines('kick = "o---------"', 60, head)["speed"]
    # one foot goes on for long at 231 ms a stroke: 1298 eighths a minute; measured against 400 it would be 7
    assert (part.value, part.text) == (2, "far from any limit")


def test_what_nobody_can_play_is_at_the_end_of_the_scale():
    parts = lines('ride = "x---"\nsnare = "o---"\nfloor-tom = "o---"', head='columns = "eighths"\nmeter = "2/4"')
    assert parts["speed"] == Part("speed", 100, "nobody has the limbs for it, at any tempo")
    assert parts["reach"].value == 100


# Reach


def test_hands_that_stay_where_they_are_reach_nowhere():
    part = lines(ROCK, 200)["reach"]
    assert (part.value, part.text) == (0, "no hand has to hurry to another surface")


def test_a_third_surface_makes_a_hand_move():
    text = 'hi-hat = "x-x-x-x-x-x-x-x-"\nsnare = "----o-----------"\nfloor-tom = "--------o---o---"'
    slow, fast = lines(text, 60)["reach"], lines(text, 200)["reach"]
    assert slow.value == 0, "a whole second from the snare to the tom"
    # The left hand goes 55.2 cm from snare to tom in 300 ms, and back in 600: time to spare. Hurry is
    # (528 - 300) / (528 - 145) = 0.595: 32.9 cm in 1.2 s, 27.4 cm a second; 100 x 27.4 / (27.4 + 60)
    assert fast.value == 31
    assert fast.text == "1 hurried move: the left hand from snare to floor tom for 3, 300 ms"


# Dynamics


def test_levels_of_a_hand_are_counted_in_steps_around_the_loop():
    flat = lines('hi-hat = "x-x-x-x-x-x-x-x-"', 60)["dynamics"]
    assert (flat.value, flat.text) == (0, "each hand stays at one level")
    accents = lines('hi-hat = "X---x---x---x---"', 60)["dynamics"]  # down one step, up one: 2 in four quarters
    assert (accents.value, accents.text) == (11, "the right hand changes twice")
    ghosts = lines('hi-hat = "X---g---g---g---"', 60)["dynamics"]
    assert ghosts.value == 27  # 3 + 3


def test_a_quick_change_counts_twice():
    slow = lines('hi-hat = "Xg------"', 60, 'columns = "eighths"\nroles = { riding = "hi-hat" }')["dynamics"]
    fast = lines('hi-hat = "Xg------"', 180, 'columns = "eighths"\nroles = { riding = "hi-hat" }')["dynamics"]
    # 3 steps down and 3 up in four quarters: 6 / 4 and, with the way down in 167 ms, 9 / 4; 100 x / (x + 4)
    assert (slow.value, fast.value) == (27, 36)
    assert fast.text == "the right hand changes twice, 1 of them within 200 ms"


def test_hands_together_at_different_levels_are_told():
    part = lines('hi-hat = "x---x---x---x---"\nsnare = "--------O-------"', 60)["dynamics"]
    assert part.text == "both hands at once, one louder, once"


# Newness


def test_the_base_beat_is_not_new(slack_tide):
    assert parts_of(slack_tide)["newness"].value == 0


def test_newness_is_the_share_of_new_moved_and_altered_strokes(slack_tide):
    values = [parts_of(slack_tide, number)["newness"] for number in range(5)]
    assert [part.value for part in values[1:]] == [
        7,  # 1 moved of 13
        27,  # 5 new of 18
        18,  # 4 new of 22
        27,  # 12 altered by half of 22
    ]
    assert values[1].text == "1 moved; 13 strokes in all"
    assert values[2].text == "5 new; 18 strokes in all"


def test_a_stage_that_is_off_has_nothing_new(slack_tide):
    assert parts_of(switch(slack_tide, 2, False), 2)["newness"] == Part("newness", 0, "nothing new to play")


def test_a_loop_that_is_only_repeated_has_nothing_new(slack_tide):
    longer = add(replace(slack_tide, variations=()), "length", {"bars": "2"})
    assert len(grow(longer)[1].beat.strokes) == 26
    assert parts_of(longer, 1)["newness"].value == 0


def test_another_feel_is_new_where_it_is_heard(slack_tide):
    swung = add(replace(slack_tide, variations=()), "feel", {"swing": "sixteenths 2:1"})
    part = parts_of(swung, 1)["newness"]
    assert part.text.startswith("1 with another feel"), "only the kick on the a of 2 lies on a swung place"


def test_a_stage_that_there_is_not_is_refused(slack_tide):
    stages = grow(slack_tide)
    with pytest.raises(VariationError, match="stages 0 to 4, not 5"):
        demand(slack_tide, stages, 5, play(slack_tide, stages[4]))


def test_tempos_that_are_known_already_change_nothing(slack_tide, lantern_walk):
    for groove in (slack_tide, lantern_walk):
        stages = grow(groove)
        for number, stage in enumerate(stages):
            playing = play(groove, stage)
            known = comfortable(playing), fastest(playing)
            assert demand(groove, stages, number, playing, known) == demand(groove, stages, number, playing)


def test_there_is_no_sum_anywhere(slack_tide):
    stages = grow(slack_tide)
    found = demand(slack_tide, stages, 4, play(slack_tide, stages[4]))
    assert {type(part) for part in found} == {Part}
    assert Part._fields == ("name", "value", "text")


# Laws


def test_a_foot_that_goes_back_to_the_hi_hat_does_not_make_a_beat_faster():
    head = 'columns = "eighths"'
    one = 'hi-hat = "xx------"\nhi-hat-foot = "--x-----"'
    both = f'{one}\nsecond-kick = "-----o--"'
    easy = []
    for text in (both, one):
        groove = read_groove(f'groundbeat = 1\ntitle = "Test"\n{head}\n[base]\n{text}\n')
        easy.append(comfortable(play(groove, grow(groove)[0])).bpm)
    assert easy == [400, 150], "with the kick the hi-hat may ring; without it the foot holds it, and has 200 ms to lift"
    assert lines(one, 180, head)["speed"].value <= lines(both, 180, head)["speed"].value


hands_and_feet = beats(max_bars=2, surfaces=[*USUAL, "second kick", "foot splash", "crash", "high tom"])
any_beats = st.one_of(hands_and_feet, beats(max_bars=2))
tempos = st.integers(2000, 40000)


def measured(beat: Beat, feel: Feel, tempo: int, player: Player) -> dict[str, int]:
    found = parts_of(Groove(base=beat, feel=feel, tempo=tempo), player=player)
    return {name: part.value for name, part in found.items()}


@given(any_beats, st.sampled_from(FEELS), tempos, tempos, st.sampled_from(PLAYERS))
def test_slower_never_raises_speed_and_reach(beat: Beat, feel: Feel, one: int, other: int, player: Player):
    slow, fast = (measured(beat, feel, tempo, player) for tempo in sorted((one, other)))
    for name in ("speed", "reach", "density"):
        assert slow[name] <= fast[name], name


@given(any_beats, st.sampled_from(FEELS), tempos, st.sampled_from(PLAYERS), st.randoms(use_true_random=False))
def test_leaving_strokes_out_never_raises_density_speed_and_reach(beat, feel, tempo, player, random):
    known = partial(measured, feel=feel, tempo=tempo, player=player)
    strokes = list(beat.strokes)
    before = known(beat)
    for _ in range(2):
        if strokes:
            strokes = sorted(random.sample(strokes, random.randrange(len(strokes))), key=beat.strokes.index)
            after = known(replace(beat, strokes=tuple(strokes)))
            for name in ("density", "speed", "reach"):
                assert after[name] <= before[name], name
            before = after


@given(any_beats, st.sampled_from(FEELS), tempos, st.sampled_from(PLAYERS))
def test_leaving_any_one_stroke_out_never_raises_them_either(beat, feel, tempo, player):
    before = measured(beat, feel, tempo, player)
    for index in range(min(len(beat.strokes), 12)):
        rest = beat.strokes[:index] + beat.strokes[index + 1 :]
        after = measured(replace(beat, strokes=rest), feel, tempo, player)
        for name in ("density", "speed", "reach"):
            assert after[name] <= before[name], (name, beat.strokes[index])


@given(grooves(max_variations=3, max_bars=2))
def test_every_stage_has_all_parts_between_0_and_100_with_words(groove):
    stages = grow(groove)
    for number, stage in enumerate(stages):
        for part in demand(groove, stages, number, play(groove, stage)):
            assert 0 <= part.value <= 100 and isinstance(part.value, int), part
            assert part.text and part.text == part.text.strip(), part
