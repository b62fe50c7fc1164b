"""A groove survives the way through a MIDI file, and another reader finds in the file what the timeline says."""

from __future__ import annotations

import io
from dataclasses import replace
from fractions import Fraction
from math import floor

import mido
from hypothesis import given, settings
from hypothesis import strategies as st

from groundbeat.midi.base_beat import base_beat
from groundbeat.midi.export import TICKS, midi_file
from groundbeat.midi.laying import Wish
from groundbeat.midi.profiles import PROFILES, RIMSHOTS, VELOCITIES, keys_of
from groundbeat.midi.reader import read
from groundbeat.model.beat import base_beat as born
from groundbeat.model.feel import Feel
from groundbeat.model.groove import MAX_TEMPO, MIN_TEMPO
from groundbeat.timeline.unroll import unroll
from groundbeat.variation.stack import grow, plain
from tests.strategies import grooves

wishes = st.builds(
    lambda rounds, profile, ticks, straight, rimshot: Wish(
        rounds=rounds, profile=profile, ticks=ticks, straight=straight, rimshot=rimshot
    ),
    st.integers(1, 3),
    st.sampled_from(PROFILES),
    st.sampled_from(TICKS),
    st.booleans(),
    st.sampled_from(RIMSHOTS),
)


def fresh(beat):
    """A beat as a base beat: its strokes born where they stand."""
    return born(beat.meter, beat.bars, beat.columns, [replace(s, id="", origin=0, changed_by=()) for s in beat.strokes])


def in_unit(tempo: int, old: int, new: int) -> float:
    """A tempo that counts notes of `old` ticks as one that counts notes of `new` ticks, within a groove's limits."""
    return min(max(tempo * old / new, MIN_TEMPO), MAX_TEMPO)


@settings(max_examples=200)
@given(grooves(max_variations=1, max_bars=2), wishes)
def test_a_stage_comes_back_and_another_reader_finds_what_the_timeline_says(groove, wish):
    stages = grow(groove)
    data = midi_file(groove, stages, wish).data
    comes_back(groove, stages[-1], data)
    other = mido.MidiFile(file=io.BytesIO(data), charset="utf-8")
    is_as_the_timeline_says(other, groove, stages, wish)
    every_note_ends_before_its_key_sounds_again(other)


def comes_back(groove, stage, data):
    """Our own reader gives the stage as it was."""
    found = base_beat(read(data))
    assert found.beat == fresh(stage.beat)
    assert found.feel == stage.feel
    # A file's texts hold no signs that cannot be printed, and one space between words.
    assert found.title == " ".join("".join(c if c.isprintable() else " " for c in groove.title).split())
    units = groove.base.meter.tempo_unit[1], stage.beat.meter.tempo_unit[1]
    assert abs(found.tempo - in_unit(groove.tempo, *units)) <= (0 if units[0] == units[1] else 2)


@settings(max_examples=40)
@given(grooves(max_variations=3, max_bars=2), wishes)
def test_every_stage_of_a_file_with_all_comes_back_from_its_bars(groove, wish):
    stages = grow(groove)
    file = read(midi_file(groove, stages, wish._replace(through=True)).data)
    markers = [text for text in file.texts if text.kind == 6]
    told = [stage for stage in stages if stage.variation is None or stage.variation.on]
    assert [text.text.split(":")[0] for text in markers] == [f"Stage {stage.number}" for stage in told]
    bar = 1 + _bars_before(markers[0].tick, file.division, told[0].beat.meter)
    for stage in told:
        for turn in range(wish.rounds):
            first = bar + turn * stage.beat.bars
            found = base_beat(file, (first, first + stage.beat.bars - 1))
            assert found.beat == fresh(stage.beat), stage.number
            assert found.feel == stage.feel
        bar += wish.rounds * stage.beat.bars


def _bars_before(tick, division, meter) -> int:
    ticks, rest = divmod(tick * 10080, division * meter.bar)
    assert rest == 0
    return ticks


def is_as_the_timeline_says(file, groove, stages, wish):
    """Keys, ticks, velocities, tempo, meter and marker, as mido reads them."""
    stage = stages[-1]
    assert (file.type, file.ticks_per_beat, len(file.tracks)) == (1, wish.ticks, 2)
    head, drums = ([(now, message) for now, message in _absolute(track)] for track in file.tracks)
    us = next(message.tempo for _, message in head if message.type == "set_tempo")
    unit = groove.base.meter.tempo_unit[1]
    assert abs(60_000_000 / us * 10080 / unit - groove.tempo / 100) < 0.005
    meter = next(message for _, message in head if message.type == "time_signature")
    assert (meter.numerator, meter.denominator) == (stage.beat.meter.count, stage.beat.meter.unit)
    start, marker = next((now, message.text) for now, message in head if message.type == "marker")
    numbers = {each.key: each.number for each in stages}
    sentence = plain(stage.variation, numbers) if stage.variation else "Base beat."
    assert marker == f"Stage {stage.number}: {sentence}"

    keys = keys_of(wish.profile, wish.rimshot)
    heard = replace(stage, feel=Feel()) if wish.straight else stage
    strokes: dict[tuple[int, int], int] = {}
    graces: dict[tuple[int, int], int] = {}
    line = unroll(groove, (heard, heard), 1)
    for turn in range(wish.rounds):
        for event in line.events:
            if event.stop:
                continue
            exact = (Fraction(event.at, line.parts) + turn * line.loop // line.parts) * wish.ticks / 10080
            own = Fraction(event.lead * wish.ticks, us)
            room = Fraction(event.room, line.parts) * wish.ticks / 10080
            bound = max(-room, min(room, own)) if event.room else own  # a grace comes closer at a quick tempo
            late = Fraction(event.us * wish.ticks, us) - own + bound
            place = floor(exact + late + Fraction(1, 2)), keys[event.surface]
            into = graces if event.grace else strokes
            into[place] = max(into.get(place, 0), VELOCITIES[event.dynamic])
    wanted = graces | strokes
    ons = {(now - start, m.note): m.velocity for now, m in drums if m.type == "note_on"}
    assert ons == wanted
    assert sum(m.type == "note_on" for _, m in drums) == len(wanted)
    assert all(m.channel == 9 and m.velocity for _, m in drums if m.type == "note_on")


def every_note_ends_before_its_key_sounds_again(file):
    """No key sounds twice at once, and both tracks end at one tick."""
    open_since: dict[int, int] = {}
    for now, message in _absolute(file.tracks[1]):
        if message.type == "note_on":
            assert message.note not in open_since
            open_since[message.note] = now
        elif message.type == "note_off":
            assert now > open_since.pop(message.note)
    assert not open_since
    ends = [_absolute(track)[-1] for track in file.tracks]
    assert len({now for now, _ in ends}) == 1
    assert [message.type for _, message in ends] == ["end_of_track"] * 2


def _absolute(track):
    now, rows = 0, []
    for message in track:
        now += message.time
        rows.append((now, message))
    return rows
