"""A beat survives the way through tablature as far as letters carry it, and any text reads or is refused once."""

from __future__ import annotations

import time
from contextlib import suppress
from dataclasses import replace

from hypothesis import example, given, settings
from hypothesis import strategies as st

from groundbeat.codec.tab import columns_for
from groundbeat.codec.tab_read import MAX_TEXT, looks_like_tab, read_tab
from groundbeat.codec.tab_text import not_in_tab, tab_text
from groundbeat.errors import GroundbeatError, TabError
from groundbeat.model.beat import base_beat
from groundbeat.model.feel import Feel
from groundbeat.model.groove import Groove
from groundbeat.model.place import COLUMNS
from groundbeat.variation.stack import grow
from tests.strategies import beats, grooves

SLOW = 1.0  # seconds for a short text, on a machine that does other things


def fresh(beat, ticks: int):
    """A beat as a base beat: its strokes born where they stand, those off the columns left out."""
    kept = [replace(s, id="", origin=0, changed_by=()) for s in beat.strokes if s.at % ticks == 0]
    return base_beat(beat.meter, beat.bars, beat.columns, kept)


@settings(max_examples=50)
@given(beats(max_bars=6), st.integers(2000, 40000), st.sampled_from(["", "Low Water", "2: x – 4/4", "ø | - |"]))
def test_a_base_beat_reads_back_as_it_was_without_what_is_named(beat, tempo, title):
    groove = Groove(base=beat, tempo=tempo, title=title)
    stages = grow(groove)
    found = read_tab(tab_text(groove, stages))
    assert found.beat == fresh(beat, COLUMNS[columns_for(beat)])
    assert (found.tempo, found.title, found.says) == (tempo, title, ())
    off = len(beat.strokes) - len(found.beat.strokes)
    assert not_in_tab(groove, stages[0]) == (
        (f"{off} stroke{'s' * (off != 1)} off the columns (told below the tablature)",) if off else ()
    )


@settings(max_examples=30)
@given(grooves(max_variations=3), st.data())
def test_what_is_not_named_comes_back_of_any_stage_of_any_groove(groove, data):
    stages = grow(groove)
    number = data.draw(st.integers(0, len(stages) - 1))
    stage = stages[number]
    found = read_tab(tab_text(groove, stages, number))
    lost = not_in_tab(groove, stage)
    told = fresh(stage.beat, COLUMNS[columns_for(stage.beat)])
    assert found.beat.strokes == told.strokes
    assert found.tempo == groove.tempo
    if "the columns that the variations gave the stage" not in lost:
        assert found.beat == told
    assert ('a title that is "Untitled"' in lost) or found.title == groove.title
    assert ("swing and pushes" in lost) == (groove.feel != Feel())
    assert ("the note" in lost) == bool(groove.note)
    if any("off the columns" in what for what in lost):
        assert len(told.strokes) < len(stage.beat.strokes)


@settings(max_examples=15)
@given(grooves(max_variations=3))
def test_of_a_text_of_all_stages_the_base_beat_is_taken_and_that_is_told(groove):
    stages = grow(groove)
    found = read_tab(tab_text(groove, stages))
    assert found.beat.strokes == fresh(groove.base, COLUMNS[columns_for(groove.base)]).strokes
    told = (f"The text holds {len(stages)} stages; stage 0 was taken.",) if len(stages) > 1 else ()
    assert found.says == told


def reads_or_is_refused(text: str) -> None:
    """Reading ends soon in a beat or in one of our errors, and is the same for whoever asks first."""
    start = time.perf_counter()
    looks_like_tab(text)
    try:
        found = read_tab(text)
    except GroundbeatError as error:
        assert isinstance(error, TabError) and error.message.startswith("tablature")
        assert error.line <= text.count("\n") + text.count("\r") + 1
    else:
        assert 1 <= found.beat.bars <= 16
        assert all(found.says)
    assert time.perf_counter() - start < SLOW


names = st.sampled_from(["HH", "SN", "BD", "hi-hat", "ride", "snare", "T1", "Hf", "CC", "Tam", "", "graces", "Count:"])
letters = st.text(alphabet="xoXOgfdbB@#s-----.. |%:+()1e&a2e&a4\t", max_size=40)
lines = st.one_of(
    st.builds(
        lambda name, body, end: f"{name}|{body}|{end}", names, letters, st.sampled_from(["", " x4", "x2", " ho"])
    ),
    st.builds(lambda name, body: f"{name}: {body}", names, letters),
    letters,
    st.sampled_from(["", "  1e&a2e&a3e&a4e&a", "Time: 7/8", "q = 92", "x3", "Title: Ebb", "    1 & 2 & 3 & 4 &"]),
)


@settings(max_examples=150)
@given(st.lists(lines, max_size=10).map("\n".join))
@example("HH|%|\n")
@example("|: HH :|\n")
@example("HH||||\n")
def test_any_lines_of_tablature_read_or_raise_one_error(text):
    reads_or_is_refused(text)


@settings(max_examples=60)
@given(beats(max_bars=3), st.data())
def test_a_tablature_with_a_mistake_reads_or_raises_one_error(beat, data):
    groove = Groove(base=beat)
    text = tab_text(groove, grow(groove))
    if data.draw(st.booleans()):
        text = text[text.index("\n", text.index("0 Base beat")) :]  # as anybody else would have written it
    at = data.draw(st.integers(0, len(text) - 1))
    end = at + data.draw(st.sampled_from([0, 1, 1, 7, 30]))
    reads_or_is_refused(
        text[:at] + data.draw(st.sampled_from(["", "x", "|", "-", " ", "%", "é", "\n", "x4"])) + text[end:]
    )


def test_the_longest_texts_are_read_soon_or_refused_soon():
    bars = "HH|x-x-x-x-x-x-x-x-|\nSN|----o-------o---|\n\n"
    for piece in (" ", "\t", "\n", "x", "-", "|", "1 ", "(", "x4 ", "tempo ", "HH|x-|\n", "HH|%|\n", bars):
        for head in ("", "HH|"):
            text = (head + piece * (MAX_TEXT // len(piece) + 1))[:MAX_TEXT]
            start = time.perf_counter()
            with suppress(TabError):
                read_tab(text)
            took = time.perf_counter() - start
            assert took < 4 * SLOW, (head, piece, took)
