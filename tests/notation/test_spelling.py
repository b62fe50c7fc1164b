r"""Rhythms worked out by hand, written as a line of signs.

`8` is an eighth, `r16` a rest, a dot dots; `<` `=` `>` begin, continue and end a beam, one letter a level, `/` and `\`
are hooks forward and backward; `{3:2 4 8}` is a tuplet. Bars are parted by `|`, `%` marks a bar that repeats the one
before. The line of the hands comes first.
"""

from __future__ import annotations

from collections.abc import Iterable

import pytest

from groundbeat.codec.groove_read import read_groove
from groundbeat.model.beat import Beat, Stroke, base_beat
from groundbeat.model.meter import QUARTER, Meter
from groundbeat.notation.grids import PLAIN, layout
from groundbeat.notation.score import Chord, Score
from groundbeat.notation.spelling import spell
from groundbeat.variation.stack import grow
from tests.conftest import EXAMPLES

WORDS = {"begin": "<", "continue": "=", "end": ">", "forward hook": "/", "backward hook": "\\"}
SIXTEENTH = QUARTER // 4


def sign(chord: Chord) -> str:
    value = f"{'' if chord.strokes else 'r'}{chord.value}{'.' * chord.dots}"
    value += "".join(WORDS[word] for word in chord.beams)
    if chord.tuplet == PLAIN:
        return value
    first, last = chord.edge.startswith("start"), chord.edge.endswith("stop")
    actual, normal = chord.tuplet
    return (f"{{{actual}:{normal} " if first else "") + value + ("}" if last else "")


def lines(score: Score) -> list[str]:
    rows = []
    for number in range(len(score.bars[0].voices)):
        bars = [
            ("% " if bar.repeats else "") + " ".join(sign(chord) for chord in bar.voices[number].chords)
            for bar in score.bars
        ]
        rows.append(" | ".join(bars))
    return rows


def beat(meter: str, hands: Iterable[int], feet: Iterable[int] = (), bars: int = 1, grouping: str = "") -> Beat:
    read = Meter.of(meter, grouping)
    columns = "sixteenths" if read.bar % SIXTEENTH == 0 else "thirty-seconds"
    strokes = [Stroke(at, "snare") for at in hands] + [Stroke(at, "kick") for at in feet]
    return base_beat(read, bars, columns, strokes)


def hands(meter: str, *places: int, grouping: str = "") -> str:
    score = spell(beat(meter, places, grouping=grouping))
    assert score.moved == ()
    return lines(score)[0]


def file(text: str) -> Score:
    return spell(read_groove(f"groundbeat = 1\n{text}").base)


def quarters(*parts: float) -> tuple[int, ...]:
    return tuple(round(part * QUARTER) for part in parts)


FEET = r"4 r8. 16 4 r4"
FOURS = r"16<< 16== 16== 16>>"
DOUBLED = f"{FOURS} 16<< 16=> 8> {FOURS} 16<< 16=> 8>"


def test_slack_tide_stage_by_stage():
    groove = read_groove((EXAMPLES / "slack-tide.toml").read_text())
    stages = [lines(spell(stage.beat)) for stage in grow(groove)]
    assert stages == [
        ["8< 8> 8< 8> 8< 8> 8< 8>", FEET],
        ["8< 8> 16<< 16=> 8> 8< 8> 8< 8>", FEET],
        [DOUBLED, FEET],
        [DOUBLED, FEET],
        [DOUBLED, FEET],
    ]


def test_slack_tide_chords_hold_the_ride_above_the_snare():
    last = list(grow(read_groove((EXAMPLES / "slack-tide.toml").read_text())))[-1]
    up = spell(last.beat).bars[0].voices[0]
    struck = [[stroke.surface for stroke in chord.strokes] for chord in up.chords[:3]]
    assert struck == [["ride bell"], ["ride", "snare"], ["ride"]]


def test_lantern_walk_before_and_after():
    groove = read_groove((EXAMPLES / "lantern-walk.toml").read_text())
    stages = [lines(spell(stage.beat)) for stage in grow(groove)]
    feet = r"8.< 16>\ r8 8 r8 16<< 16>> r4"
    assert stages[0] == ["8< 16=< 16>> 8< 16=< 16>> 16<< 16=> 8> 8< 16=< 16>>", feet]
    assert stages[4] == ["16</ 8= 16>\\ r16 16<< 16== 16>> 16</ 8.> 16</ 8= 16>\\", feet]


def test_a_shuffle_in_eighth_triplets_has_quarter_and_eighth_in_a_bracket():
    score = file(
        'columns = "eighth triplets"\n[base]\nride = "x-xx-xx-xx-x"\nkick = "o-----o-----"\nhi-hat-foot = "---x-----x--"'
    )
    assert lines(score) == ["{3:2 4 8} {3:2 4 8} {3:2 4 8} {3:2 4 8}", "4 4 4 4"]
    assert [count.syllable for count in score.counts[:4]] == ["1", "trip", "let", "2"]
    assert [count.played for count in score.counts[:4]] == [True, False, True, True]


@pytest.mark.parametrize(
    ("places", "written"),
    [
        ((0, 1 / 3, 2 / 3), "{3:2 8< 8= 8>}"),
        ((0, 2 / 3), "{3:2 4 8}"),
        ((0, 1 / 3), "{3:2 8 4}"),
        ((1 / 3, 2 / 3), "{3:2 r8 8< 8>}"),
        ((2 / 3,), "{3:2 r4 8}"),
        ((0,), "4"),
        ((0, 1 / 2), "8< 8>"),
        ((0, 1 / 4, 1 / 2, 3 / 4), "16<< 16== 16== 16>>"),
        ((0, 1 / 4, 1 / 2), "16<< 16=> 8>"),
        ((0, 1 / 2, 3 / 4), "8< 16=< 16>>"),
        ((0, 1 / 4, 3 / 4), "16</ 8= 16>\\"),
        ((0, 3 / 4), "8.< 16>\\"),
        ((0, 1 / 4), "16</ 8.>"),
        ((1 / 4,), "r16 8."),
        ((3 / 4,), "r8. 16"),
        ((1 / 2,), "r8 8"),
        ((1 / 4, 1 / 2), "r16 16</ 8>"),
        ((1 / 4, 3 / 4), "r16 8< 16>\\"),
        ((1 / 8,), "r32 16. r8"),
        ((0, 7 / 8), "8.< r32 32>\\\\"),
        ((0, 1 / 8, 1 / 4), "32<<< 32=>> 8.>"),
    ],
)  # fmt: skip
def test_one_beat_of_a_quarter(places, written):
    found = hands("2/4", *quarters(*places))
    assert found.removesuffix(" r4") == written


def test_32nds_part_at_the_eighth():
    eight = "32<<< 32=== 32=== 32=>> 32=<< 32=== 32=== 32>>>"
    assert hands("2/4", *range(0, QUARTER, QUARTER // 8)) == f"{eight} r4"


def test_sextuplets_are_read_as_two_triplets_or_three_pairs():
    sixths = [QUARTER * k // 6 for k in range(6)]
    six = "{6:4 16<< 16== 16== 16== 16== 16>>}"
    assert hands("2/4", *sixths) == f"{six} r4"
    # 1 trip - & - let: the last of each triplet belongs to its own
    assert hands("2/4", *(sixths[k] for k in (0, 2, 3, 5))) == r"{6:4 8< 16=\ 8= 16>\} r4"
    # two sixteenths, then two eighths: three pairs need no rest
    assert hands("2/4", *(sixths[k] for k in (0, 1, 2, 4))) == "{6:4 16<< 16=> 8= 8>} r4"


def test_a_beat_may_be_half_triplet_and_half_plain():
    assert hands("2/4", *quarters(0, 1 / 6, 1 / 3, 1 / 2)) == "{3:2 16<< 16== 16=>} 8> r4"
    assert hands("2/4", *quarters(0, 1 / 4, 1 / 2, 2 / 3, 5 / 6)) == "16<< 16=> {3:2 16=< 16== 16>>} r4"


def test_a_quintuplet_from_a_detail():
    score = file('meter = "2/4"\n[base]\nsnare = "o-------"\n[[detail]]\nat = "2[3/5]"\nsurface = "snare"')
    assert lines(score)[0] == "4 {5:4 r8 8.}"
    assert score.moved == ()


def test_fives_sevens_and_tens_of_a_quarter():
    assert hands("2/4", *quarters(*(k / 5 for k in range(5)))) == "{5:4 16<< 16== 16== 16== 16>>} r4"
    assert hands("2/4", *quarters(0, 1 / 7, 4 / 7, 6 / 7)) == r"{7:4 16</ 8.= 8= 16>\} r4"
    ten = "{10:8 32<<< 32=== 32=== 32=== 32=>> 32=<< 32=== 32=== 32=== 32>>>}"
    assert hands("2/4", *quarters(*(k / 10 for k in range(10)))) == f"{ten} r4"


def test_quarter_note_triplets_go_over_two_beats_of_one_half_bar():
    even = quarters(0, 2 / 3, 4 / 3)
    assert hands("4/4", *even) == "{3:2 4 4 4} r2"
    assert hands("4/4", *(at + 2 * QUARTER for at in even)) == "r2 {3:2 4 4 4}"
    assert hands("3/4", *(at + QUARTER for at in even)) == "r4 {3:2 4 4 4}"
    # over the middle of the bar the beats stay apart
    assert hands("4/4", *(at + QUARTER for at in even)) == "r4 {3:2 4 8} {3:2 r8 4} r4"
    # nor where something else is struck: the eighths are counted anyway
    assert hands("2/4", *even, QUARTER) == "{3:2 4 8} {3:2 8 4}"
    assert hands("2/2", *(2 * at for at in even)) == "{3:2 2 2 2}"


def test_two_two_has_halves_and_beams_by_the_half():
    assert hands("2/2", 0, 2 * QUARTER) == "2 2"
    assert hands("2/2", *range(0, 4 * QUARTER, QUARTER // 2)) == "8< 8= 8= 8> 8< 8= 8= 8>"
    sixteenths = "16<< 16== 16== 16=> 16=< 16== 16== 16>>"
    assert hands("2/2", *range(0, 2 * QUARTER, SIXTEENTH)) == f"{sixteenths} r2"
    triplets = "{3:2 8< 8= 8>} {3:2 8< 8= 8>}"
    assert hands("2/2", *range(0, 2 * QUARTER, QUARTER // 3)) == f"{triplets} r2"


def eighths(*numbers: float) -> tuple[int, ...]:
    return tuple(round((number - 1) * QUARTER / 2) for number in numbers)


@pytest.mark.parametrize(
    ("numbers", "written"),
    [
        ((1, 2, 3, 4, 5, 6), "8< 8= 8> 8< 8= 8>"),
        ((1, 4), "4. 4."),
        ((1, 3, 4, 5), "4 8 8 4"),
        ((1, 2.5, 3, 4), r"8.< 16=\ 8> 4."),
        ((6,), "r4. r4 8"),
        ((2, 4), "r8 4 4."),
        ((1, 1.5, 2, 2.5, 3, 3.5, 4), "16<< 16== 16== 16== 16== 16>> 4."),
        ((1, 2.5), "{2:3 8< 8>} r4."),
        ((1, 1.75, 2.5, 3.25), "{4:6 16<< 16== 16== 16>>} r4."),
        ((1, 1 + 1 / 3, 1 + 2 / 3, 2), "{3:2 16<< 16== 16>>} 4 r4."),
        ((1, 1.6, 2.2, 2.8, 3.4), "{5:6 16<< 16== 16== 16== 16>>} r4."),
    ],
)  # fmt: skip
def test_six_eight(numbers, written):
    assert hands("6/8", *eighths(*numbers)) == written


def test_a_duplet_beside_running_eighths_is_written_plain():
    running, duplet = eighths(1, 2, 3, 4, 5, 6), eighths(1, 2.5)
    assert lines(spell(beat("6/8", running, duplet))) == ["8< 8= 8> 8< 8= 8>", "8.< 16>\\ r8 r4."]


def test_twelve_eight_rests_by_the_beat():
    assert hands("12/8", *eighths(4, 10)) == "r4. 4. r4. 4."
    assert hands("12/8", *eighths(1, 3, 4, 6, 7, 9, 10, 12)) == "4 8 4 8 4 8 4 8"


def test_odd_meters_beam_by_their_grouping():
    assert hands("7/8", *eighths(1, 2, 3, 4, 5, 6, 7)) == "8< 8> 8< 8> 8< 8= 8>"
    assert hands("7/8", *eighths(1, 2, 3, 4, 5, 6, 7), grouping="3+2+2") == "8< 8= 8> 8< 8> 8< 8>"
    assert hands("7/8", *eighths(1, 5)) == "4 r4 4."
    assert hands("7/16", *range(0, 7 * SIXTEENTH, SIXTEENTH)) == "16<< 16>> 16<< 16>> 16<< 16== 16>>"
    assert hands("7/16", 0, 2 * SIXTEENTH, 4 * SIXTEENTH) == "8 8 8."
    assert hands("5/4", *quarters(0, 1, 2, 3, 4)) == "4 4 4 4 4"
    assert hands("5/4", *quarters(3.5)) == "r4 r4 r4 r8 8 r4"
    assert hands("8/8", *eighths(1, 2, 3, 4, 5, 6, 7, 8)) == "8< 8= 8> 8< 8= 8> 8< 8>"


def test_a_long_group_is_read_in_threes_and_twos():
    assert layout(Meter.of("5/8", "5")) == layout(Meter.of("5/8", "3+2"))
    assert hands("5/8", *eighths(1, 2, 3, 4, 5), grouping="5") == "8< 8= 8> 8< 8>"


def test_a_half_bar_of_rest_is_one_rest_in_four_four_only():
    assert hands("4/4", *quarters(2)) == "r2 4 r4"
    assert hands("4/4", *quarters(3)) == "r2 r4 4"
    assert hands("3/4", *quarters(2)) == "r4 r4 4"


def test_an_empty_bar_has_one_whole_rest_and_repeats_nothing():
    for meter in ("4/4", "7/8", "3/4", "5/16"):
        score = spell(beat(meter, (), bars=2))
        assert lines(score) == ["r1 | r1", " | "]
        assert [bar.voices[0].chords[0].ticks for bar in score.bars] == [score.meter.bar] * 2


def test_a_voice_that_rests_all_through_a_bar_is_left_out_of_it():
    score = spell(beat("2/4", quarters(0, 3), quarters(1, 2), bars=2))
    assert lines(score) == ["4 r4 | r4 4", "r4 4 | 4 r4"]
    alone = spell(beat("2/4", quarters(0), quarters(2), bars=2))
    assert lines(alone) == ["4 r4 | ", " | 4 r4"]


def test_one_voice_holds_hands_and_feet_together():
    score = spell(beat("2/4", quarters(0, 1), quarters(0, 0.75)), voices=1)
    assert lines(score) == ["8.< 16>\\ 4"]
    first = score.bars[0].voices[0].chords[0]
    assert [stroke.surface for stroke in first.strokes] == ["snare", "kick"]


def test_a_bar_repeats_only_where_dynamics_and_hands_are_the_same_too():
    def bars(**change: str) -> list[bool]:
        one, other = Stroke(0, "snare", "accent", "flam", "L"), Stroke(2 * QUARTER, "snare", "accent", "flam", "L")
        changed = Stroke(other.at, **{"surface": "snare", "dynamic": "accent", "grace": "flam", "hand": "L"} | change)
        return [bar.repeats for bar in spell(base_beat(Meter.of("2/4"), 2, "eighths", [one, changed])).bars]

    assert bars() == [False, True]
    for change in ({"surface": "rimshot"}, {"dynamic": "ghost"}, {"grace": "drag"}, {"hand": "R"}):
        assert bars(**change) == [False, False], change


def test_swing_and_pushes_change_nothing():
    straight = 'tempo = 90\n[base]\nride = "x-xxx-xxx-xxx-xx"\n'
    swung = straight + '[feel]\nswing = "eighths 2:1"\n'
    assert file(swung) == file(straight)


def test_what_no_value_reaches_stands_at_the_nearest_and_is_told():
    late = QUARTER + 13
    score = spell(base_beat(Meter.of("2/4"), 1, "eighths", [Stroke(0, "snare"), Stroke(late, "snare")]))
    assert lines(score)[0] == "4 4"
    written = score.bars[0].voices[0].chords[1]
    assert (written.at, written.strokes[0].at) == (QUARTER, late)
    assert score.moved == (written.strokes[0].id,)
    assert score.says == ("a stroke lies between the written values and stands at the nearest: snare near 2",)


def test_a_stroke_just_before_the_end_stays_in_the_last_bar():
    score = spell(
        base_beat(Meter.of("2/4"), 2, "eighths", [Stroke(2 * QUARTER - 1, "snare"), Stroke(4 * QUARTER - 1, "kick")])
    )
    assert lines(score) == ["r1 | 4 r4", " | r4 r8. r32. 64"]


def test_fives_and_sixths_in_one_beat_share_the_grid_that_moves_the_fewest():
    fives = quarters(0, 1 / 5, 2 / 5, 3 / 5, 4 / 5)
    score = spell(beat("2/4", (*fives, QUARTER // 6)))
    assert len(score.moved) == 1
    assert score.moved[0].endswith("@1/24")


def test_no_stroke_goes_far_to_spare_the_others():
    fives = [2 * QUARTER * k // 5 for k in range(5)]
    odd = 7 * QUARTER // 24  # on the tenths it would be moved alone, but by a tenth of a quarter
    score = spell(beat("2/2", (*fives, odd)))
    chords = score.bars[0].voices[0].chords
    away = [abs(chord.at - stroke.at) for chord in chords for stroke in chord.strokes]
    assert 0 < max(away) <= QUARTER // 16


def test_hands_and_feet_that_are_struck_together_are_moved_together():
    together, near = quarters(0, 2 / 5, 3 / 5), QUARTER // 6
    score = spell(beat("2/4", (*together, near), together))
    up, down = (voice.chords for voice in score.bars[0].voices)
    places = [{stroke.at: chord.at for chord in chords for stroke in chord.strokes} for chords in (up, down)]
    assert {at: places[0][at] for at in together} == places[1]


def test_nothing_is_said_over_a_column_without_a_syllable():
    score = file('meter = "2/4"\ncolumns = "thirty-seconds"\n[base]\nsnare = "oo------o-------"')
    assert [(count.syllable, count.played) for count in score.counts] == [
        ("1", True), ("e", False), ("&", False), ("a", False), ("2", True), ("e", False), ("&", False), ("a", False),
    ]  # fmt: skip
