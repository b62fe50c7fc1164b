"""When strokes of a score come, which of its bars are taken, and how they are played."""

from __future__ import annotations

import pytest

from groundbeat.errors import MusicXmlError
from groundbeat.model.feel import Feel
from tests.notation.xml.scores import read, rest, score, strike, struck, told

QUARTER = 10080
X = "<notehead>x</notehead>"


def chord(step: str, **more: object) -> str:
    """A note at the place of the one before."""
    return strike(step, first="<chord/>", **more)  # type: ignore[arg-type]


def notations(inside: str) -> str:
    """Marks at a note."""
    return f"<notations>{inside}</notations>"


def back(long: int) -> str:
    """Go back."""
    return f"<backup><duration>{long}</duration></backup>"


def on(long: int) -> str:
    """Go on."""
    return f"<forward><duration>{long}</duration></forward>"


def test_voices_jumps_and_partial_voices():
    bar = strike("G5", inside=X) * 4 + back(96) + on(48) + strike("F4") + back(24) + on(12) + strike("C5", long=12)
    assert struck(read(score(bar))) == [
        (0, "hi-hat"), (QUARTER, "hi-hat"), (2 * QUARTER, "hi-hat"), (2 * QUARTER, "kick"), (QUARTER * 5 // 2, "snare"),
        (3 * QUARTER, "hi-hat"),
    ]  # fmt: skip
    found = read(score(strike("C5") + back(500) + strike("F4") + rest(72)))
    assert struck(found) == [(0, "snare"), (0, "kick")]
    assert told(found, "bar 1: a backup reaches before the start")


def test_one_drum_in_two_voices_at_a_place_is_one_stroke():
    loud = strike("C5", inside=notations("<articulations><accent/></articulations>"))
    found = read(score(strike("C5") + rest(72) + back(96) + loud + rest(72)))
    assert [(s.at, s.dynamic) for s in found.beat.strokes] == [(0, "accent")]
    both = read(score(strike("C5") + chord("C5", inside=X) + rest(72)))
    assert len(both.beat.strokes) == 1
    assert told(both, "one instrument had a louder stroke at the place")


def test_tuplets_are_exact_though_a_program_rounds_them():
    seven = "<time-modification><actual-notes>7</actual-notes><normal-notes>4</normal-notes></time-modification>"
    note = (
        "<note><unpitched><display-step>C</display-step><display-octave>5</display-octave></unpitched>"
        f"<duration>69</duration><type>16th</type>{seven}</note>"
    )
    kick = strike("F4", long=480, kind="quarter")
    bar = f"<attributes><divisions>480</divisions></attributes>{note * 7}{back(3)}{kick}{rest(960)}"
    found = read(score(bar))
    assert [at for at, _ in struck(found)] == [n * QUARTER // 7 for n in range(7)] + [QUARTER]
    direct = read(score(f"<attributes><divisions>480</divisions></attributes>{note * 7}{kick}{rest(960)}"))
    assert struck(direct) == struck(found)
    assert not told(found, "written value")


def test_duration_wins_over_the_written_value_and_a_missing_one_is_written():
    found = read(score(strike("C5", long=12, kind="quarter") + strike("F4") + rest(60)))
    assert struck(found) == [(0, "snare"), (QUARTER // 2, "kick")]
    assert told(found, "bar 1: the duration of a note is not its written value")
    found = read(score(strike("C5", long=0, kind="eighth") + strike("F4") + rest(60)))
    assert struck(found) == [(0, "snare"), (QUARTER // 2, "kick")]
    assert told(found, "without a duration")


def test_divisions_may_change_inside_a_bar_or_be_missing():
    change = "<attributes><divisions>2</divisions></attributes>"
    assert struck(read(score(strike("C5") + change + strike("F4", long=2) + strike("C5", long=4)))) == [
        (0, "snare"), (QUARTER, "kick"), (2 * QUARTER, "snare")
    ]  # fmt: skip
    text = score(strike("C5", long=4, kind="eighth") + strike("F4", long=4, kind="eighth") + rest(24))
    found = read(text.replace("<divisions>24</divisions>", ""))
    assert struck(found) == [(0, "snare"), (QUARTER // 2, "kick")]
    assert told(found, "does not say how long a division is")


def test_places_between_ticks_are_rounded_and_told():
    eleven = "<time-modification><actual-notes>11</actual-notes><normal-notes>8</normal-notes></time-modification>"
    note = strike("C5", long=24, kind="32nd").replace("</note>", f"{eleven}</note>")
    text = score("<attributes><divisions>264</divisions></attributes>" + note * 11 + rest(792))
    found = read(text)
    assert [at for at, _ in struck(found)] == [round(n * QUARTER / 11) for n in range(11)]
    assert told(found, "10 strokes stand between our ticks")


# --- which bars ------------------------------------------------------------------------------------------------------


BAR = strike("C5") * 4
KICKS = strike("F4") * 4


def test_a_pickup_is_no_bar_and_is_told():
    pickup = f'<measure number="0" implicit="yes">{strike("C5")}</measure>'
    found = read(score(pickup, BAR, KICKS))
    assert (found.beat.bars, len(found.beat.strokes)) == (2, 8)
    assert told(found, "The pickup before bar 1 (1 stroke) was left out.")
    assert told(found, "Read bars 1-2 of 2.")


def test_a_bar_in_two_measures_is_one():
    halves = [
        f'<measure number="1">{strike("C5") * 2}</measure>',
        f'<measure number="X1" implicit="yes">{strike("F4") * 2}</measure>',
    ]
    found = read(score(*halves, BAR))
    assert found.beat.bars == 2
    assert [surface for _, surface in struck(found)] == ["snare"] * 2 + ["kick"] * 2 + ["snare"] * 4
    assert told(found, "The measures 1 and X1 are one bar.")


def test_short_and_long_bars_keep_what_fits():
    assert struck(read(score(strike("C5"), BAR))) == [(0, "snare")] + [(n * QUARTER, "snare") for n in range(4, 8)]
    found = read(score(strike("C5") * 5))
    assert len(found.beat.strokes) == 4
    assert told(found, "1 stroke in bar 1 stood beyond the end of a bar of 4/4 and was left out")


def test_a_sign_for_the_bar_before_is_written_out():
    sign = '<attributes><measure-style><measure-repeat type="start">1</measure-repeat></measure-style></attributes>'
    stop = '<attributes><measure-style><measure-repeat type="stop"/></measure-style></attributes>'
    found = read(score(BAR, sign, "", stop + rest(96)))
    assert [at // QUARTER for at, _ in struck(found)] == list(range(12))
    assert told(found, "bars 2, 3: a sign that repeats the bar before has no notes of its own")
    assert len(read(score(BAR, sign + KICKS)).beat.strokes) == 8


def test_repeats_are_told_and_not_played_out():
    end = '<barline location="right"><repeat direction="backward"/></barline>'
    found = read(score(BAR, KICKS + end))
    assert found.beat.bars == 2
    assert told(found, "Repeats and endings were not played out")


def meter(beats: str, unit: str) -> str:
    """A change of meter."""
    return f"<attributes><time><beats>{beats}</beats><beat-type>{unit}</beat-type></time></attributes>"


def test_a_section_of_one_meter_is_taken_and_a_change_inside_is_refused():
    text = score(BAR, BAR, meter("3", "4") + strike("F4") * 3)
    assert (read(text).beat.bars, str(read(text).beat.meter)) == (2, "4/4")
    assert str(read(text, (3, 3)).beat.meter) == "3/4"
    with pytest.raises(MusicXmlError, match="bars 2-3: the time signature changes from 4/4 to 3/4 in bar 3.*try 2-2"):
        read(text, (2, 3))
    with pytest.raises(MusicXmlError, match="asked for bars 2-9, but the score has 3; try 2-3"):
        read(text, (2, 9))


def test_a_rehearsal_mark_ends_a_section_and_a_long_one_gives_its_first_bar():
    mark = "<direction><direction-type><rehearsal>B</rehearsal></direction-type></direction>"
    assert read(score(BAR, BAR, mark + KICKS)).beat.bars == 2
    long = read(score(rest(96), *[BAR] * 17))
    assert (long.beat.bars, told(long, "Read bar 2 of 18.")) == (1, True)
    with pytest.raises(MusicXmlError, match="bars 1-17 are 17, a beat has at most 16; try 1-16"):
        read(score(*[BAR] * 18), (1, 17))
    with pytest.raises(MusicXmlError, match="no strokes in bar 1; there are some in bar 2"):
        read(score(rest(96), BAR), (1, 1))


@pytest.mark.parametrize(
    ("beats", "unit", "count", "grouping"), [("3+2", "8", 5, (3, 2)), ("2+2+3", "8", 7, (2, 2, 3))]
)
def test_a_grouped_meter_keeps_its_groups(beats: str, unit: str, count: int, grouping: tuple[int, ...]):
    found = read(score(meter(beats, unit) + strike("C5", long=12) * count))
    assert (found.beat.meter.count, found.beat.meter.grouping) == (count, grouping)


def test_meters_that_no_beat_has_and_none_at_all():
    with pytest.raises(MusicXmlError, match="bar 1: .*a meter over 32"):
        read(score(meter("3", "32") + strike("C5", long=3) * 3))
    text = score(strike("C5") * 3).replace("<time><beats>4</beats><beat-type>4</beat-type></time>", "")
    assert str(read(text).beat.meter) == "3/4"
    assert told(read(text), "no time signature; its bars were read as 3/4")


# --- how fast, how played --------------------------------------------------------------------------------------------


def test_tempo_counts_the_meters_beat():
    sound = '<sound tempo="120"/>'
    assert read(score(sound + BAR)).tempo == 12000
    mark = "<metronome><beat-unit>quarter</beat-unit><beat-unit-dot/><per-minute>80</per-minute></metronome>"
    compound = f"<direction><direction-type>{mark}</direction-type></direction>" + strike("C5", long=12) * 6
    assert read(score(compound, time="6/8")).tempo == 8000
    found = read(score(sound + strike("C5") * 2 + '<sound tempo="60"/>' + strike("C5") * 2))
    assert (found.tempo, told(found, "The tempo changes inside these bars")) == (12000, True)
    assert told(read(score(BAR)), "no tempo; 90 was taken")
    assert told(read(score('<sound tempo="900"/>' + BAR)), "tempo of 900 is out of range")


def test_swing_is_taken_where_the_score_says_how_much():
    swing = "<sound><swing><first>2</first><second>1</second><swing-type>eighth</swing-type></swing></sound>"
    assert read(score(swing + BAR)).feel == Feel("eighths", 2, 1)
    words = "<direction><direction-type><words>Swing!</words></direction-type></direction>"
    found = read(score(words + BAR))
    assert (found.feel, told(found, "says swing in words alone")) == (Feel(), True)


def test_several_drum_parts_are_one_player_s():
    text = score(BAR)
    second = text[text.index('<part id="P1">') : text.index("</score-partwise>")].replace('"P1"', '"P2"')
    second = second.replace(
        "<display-step>C</display-step><display-octave>5", "<display-step>F</display-step><display-octave>4"
    )
    text = text.replace("</part-list>", '<score-part id="P2"><part-name>Kicks</part-name></score-part></part-list>')
    found = read(text.replace("</score-partwise>", second + "</score-partwise>"))
    assert len(found.beat.strokes) == 8
    assert told(found, "2 drum parts were read together, as one player's: Drum set, Kicks.")
