"""What holds of the spelling of every beat: nothing lost, every bar full, every value true, every beam closed."""

from __future__ import annotations

import random
from collections import Counter
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from groundbeat.model.beat import Beat, Stroke, base_beat
from groundbeat.model.kit import BY_NAME
from groundbeat.model.meter import WHOLE, Meter
from groundbeat.notation import grids, signs
from groundbeat.notation.grids import PLAIN, layout
from groundbeat.notation.score import Chord, Score, Voice
from groundbeat.notation.spelling import spell
from groundbeat.notation.staff import place
from groundbeat.notation.values import FINEST
from tests.strategies import beats, meters

LEVELS = {8: 1, 16: 2, 32: 3, 64: 4}


@st.composite
def played(draw) -> Beat:
    """Strokes anywhere, to the tick, as a file of a performance has them."""
    meter = draw(meters())
    bars = draw(st.integers(1, 2))
    rows = draw(st.lists(st.tuples(st.integers(0, bars * meter.bar - 1), st.sampled_from("AB")), max_size=12))
    names = {"A": "snare", "B": "kick"}
    strokes = {(at, letter): Stroke(at, names[letter]) for at, letter in rows}
    fits = "eighths" if meter.bar % 5040 == 0 else "sixteenths"
    return base_beat(meter, bars, fits, strokes.values())


def voices(score: Score) -> list[tuple[int, Voice]]:
    return [(bar.start, voice) for bar in score.bars for voice in bar.voices if voice.chords]


def chords(score: Score) -> list[Chord]:
    return [chord for _, voice in voices(score) for chord in voice.chords]


def every_stroke_is_written_exactly_once(beat: Beat, count: int, score: Score) -> None:
    found = Counter(stroke.id for chord in chords(score) for stroke in chord.strokes)
    assert found == Counter(stroke.id for stroke in beat.strokes)


def strokes_stand_where_they_are_but_those_that_are_named(beat: Beat, count: int, score: Score) -> None:
    away = {
        stroke.id: abs(chord.at - stroke.at)
        for chord in chords(score)
        for stroke in chord.strokes
        if chord.at != stroke.at
    }
    assert set(away) == set(score.moved)
    assert len(score.moved) == len(set(score.moved))
    assert bool(score.says) == bool(score.moved)
    # A 64th is the coarsest grid; to the last 64th of the cycle it may be a whole one, and a second move may follow.
    assert all(ticks <= 2 * FINEST for ticks in away.values())


def what_lies_on_columns_is_never_moved(beat: Beat, count: int, score: Score) -> None:
    if all(stroke.at % beat.column == 0 for stroke in beat.strokes):
        assert score.moved == ()


def the_chords_of_a_voice_fill_its_bar_exactly(beat: Beat, count: int, score: Score) -> None:
    assert [bar.start for bar in score.bars] == [number * beat.meter.bar for number in range(beat.bars)]
    for start, voice in voices(score):
        at = start
        for chord in voice.chords:
            assert chord.at == at
            assert chord.ticks > 0
            at += chord.ticks
        assert at == start + beat.meter.bar
    assert all(any(voice.chords for voice in bar.voices) for bar in score.bars)


def value_dots_and_tuplet_give_the_length(beat: Beat, count: int, score: Score) -> None:
    for chord in chords(score):
        if chord.value == 1 and not chord.strokes:
            assert chord.ticks == beat.meter.bar
            continue
        actual, normal = chord.tuplet
        assert chord.value in (1, 2, 4, 8, 16, 32, 64)
        assert chord.dots in (0, 1)
        assert chord.ticks == Fraction(WHOLE, chord.value) * (2 - Fraction(1, 2**chord.dots)) * normal / actual


def the_chords_of_a_tuplet_add_up_to_its_span(beat: Beat, count: int, score: Score) -> None:
    for _, voice in voices(score):
        row: list[Chord] = []
        for chord in voice.chords:
            if chord.tuplet == PLAIN:
                assert chord.edge == "" and not row
                continue
            assert (chord.edge == "start") == (not row)
            row.append(chord)
            assert chord.tuplet == row[0].tuplet
            if chord.edge == "stop":
                span = sum(one.ticks for one in row)
                actual, normal = chord.tuplet
                # `normal` notes of one plain value fill the span, `actual` of them stand in it
                assert WHOLE % (span // normal) == 0 and (WHOLE // (span // normal)) in (1, 2, 4, 8, 16, 32, 64)
                written = sum(Fraction(WHOLE, one.value) * (2 - Fraction(1, 2**one.dots)) for one in row)
                assert written == Fraction(span * actual, normal)
                assert any(one.strokes for one in row)
                row = []
        assert not row


def beams_are_closed_and_stay_inside_a_beat(beat: Beat, count: int, score: Score) -> None:
    beats_ = layout(beat.meter)
    for start, voice in voices(score):
        open_: dict[int, int] = {}  # level: where it began
        for chord in voice.chords:
            if not chord.beams:
                if open_:
                    assert set(open_) == {0} and not chord.strokes and chord.value >= 8
                continue
            assert chord.strokes, "a rest has no beams"
            assert len(chord.beams) == LEVELS[chord.value]
            for level, word in enumerate(chord.beams):
                if word == "begin":
                    assert level not in open_
                    open_[level] = chord.at
                elif word in ("continue", "end"):
                    assert level in open_
                    if word == "end":
                        began = open_.pop(level)
                        assert began < chord.at
                        home = [low for low, ticks in beats_ if low <= began - start < low + ticks]
                        assert home == [low for low, ticks in beats_ if low <= chord.at - start < low + ticks]
                else:
                    assert level > 0 and level not in open_
                    above = chord.beams[level - 1]
                    assert (word, above) not in [("forward hook", "end"), ("backward hook", "begin")]
        assert not open_


def rests_stay_inside_a_beat_or_half_a_bar_of_four(beat: Beat, count: int, score: Score) -> None:
    for start, voice in voices(score):
        for chord in voice.chords:
            if chord.strokes or chord.tuplet != PLAIN or chord.value == 1:
                continue
            if str(beat.meter) == "4/4" and chord.value == 2 and (chord.at - start) % (WHOLE // 2) == 0:
                continue
            at = chord.at - start
            assert any(low <= at and at + chord.ticks <= low + ticks for low, ticks in layout(beat.meter))


def hands_stand_above_and_feet_below_and_high_before_low(beat: Beat, count: int, score: Score) -> None:
    for bar in score.bars:
        assert [voice.stem for voice in bar.voices] == ["up", "down"][:count]
    for _, voice in voices(score):
        for chord in voice.chords:
            lines = [place(stroke.surface).line for stroke in chord.strokes]
            assert lines == sorted(lines, reverse=True)
            if count == 2 and chord.strokes:
                limbs = {BY_NAME[stroke.surface].limb for stroke in chord.strokes}
                assert limbs == {"hand" if voice.stem == "up" else "foot"}


def spelling_twice_gives_the_same(beat: Beat, count: int, score: Score) -> None:
    grids.runs.cache_clear()
    signs.signs.cache_clear()
    assert spell(beat, count) == score


LAWS = (
    every_stroke_is_written_exactly_once,
    strokes_stand_where_they_are_but_those_that_are_named,
    what_lies_on_columns_is_never_moved,
    the_chords_of_a_voice_fill_its_bar_exactly,
    value_dots_and_tuplet_give_the_length,
    the_chords_of_a_tuplet_add_up_to_its_span,
    beams_are_closed_and_stay_inside_a_beat,
    rests_stay_inside_a_beat_or_half_a_bar_of_four,
    hands_stand_above_and_feet_below_and_high_before_low,
    spelling_twice_gives_the_same,
)


@given(st.one_of(beats(), played()), st.sampled_from([1, 2]))
def test_every_law_holds_of_every_beat(beat, count):
    """The laws share their beats, because drawing them takes longer than spelling them; the failing one is named."""
    score = spell(beat, count)
    for law in LAWS:
        law(beat, count, score)


@settings(max_examples=30)
@given(beats(max_bars=1))
def test_a_beat_written_twice_repeats_its_bar(beat):
    again = [stroke.__class__(stroke.at + beat.cycle, stroke.surface, stroke.dynamic, stroke.grace, stroke.hand)
             for stroke in beat.strokes]  # fmt: skip
    score = spell(base_beat(beat.meter, 2, beat.columns, (*beat.strokes, *again)))
    # A stroke within half a 64th of the bar line is written behind it, but at the end of the cycle before it.
    if not any(stroke.at >= beat.cycle - FINEST // 2 for stroke in beat.strokes):
        assert [bar.repeats for bar in score.bars] == [False, bool(beat.strokes)]


@pytest.mark.parametrize("step", [FINEST, FINEST * 2 // 3])
def test_every_64th_and_every_triplet_of_it_can_be_written_alone(step):
    for beat in (2520, 5040, 7560, 10080, 15120, 20160):
        assert [at for at in range(0, beat, step) if not grids.reached(beat, at)] == []


def test_every_law_holds_where_each_voice_divides_each_beat_its_own_way():
    dice = random.Random(5)
    divisions = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 15, 16, 20, 24, 32]
    for _ in range(60):
        meter = Meter.of(dice.choice(["4/4", "3/4", "6/8", "7/8", "2/2", "5/4", "7/16", "12/8"]))
        strokes = []
        for name in ("snare", "kick", "hi-hat"):
            for low, ticks in layout(meter):
                count = dice.choice(divisions)
                parts = [low + ticks * part // count for part in range(count) if ticks * part % count == 0]
                strokes += [Stroke(at, name) for at in parts if dice.random() < 0.4]
        beat, count = base_beat(meter, 1, "sixteenths", strokes), dice.choice([1, 2])
        score = spell(beat, count)
        for law in LAWS:
            law(beat, count, score)
