"""Every groove goes into a MusicXML file that the standard's schema holds valid and that another program plays as it is.

The other program is Verovio. It has no time for graces that have no note before them in their bar, and lets their
stroke sound late; so where a chord has graces its keys and velocities are compared and not its time. It plays a stem's
stroke as more notes of the chord: those may be there, none else. It gives a whole-bar rest in a bar of groups (3+2+2)
no time; those bars are in the schema's test alone.
"""

from __future__ import annotations

import base64
import io
import zipfile
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any, NamedTuple

import mido
import pytest
import verovio
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from lxml import etree

from groundbeat.codec.groove_read import read_groove
from groundbeat.midi import profiles
from groundbeat.model.beat import Stroke, base_beat
from groundbeat.model.groove import Groove
from groundbeat.model.kit import BY_NAME
from groundbeat.model.meter import QUARTER, Meter
from groundbeat.notation.score import Chord, Voice
from groundbeat.notation.spelling import spell
from groundbeat.notation.xml import notes
from groundbeat.notation.xml.notes import note_id
from groundbeat.notation.xml.packed import packed
from groundbeat.notation.xml.wish import STICKINGS, Wish
from groundbeat.notation.xml.write import musicxml
from groundbeat.variation.stack import grow
from tests.strategies import grooves

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").rglob("*.toml"))
GRACES = {"flam": 1, "drag": 2, "ruff": 3}
TICK = QUARTER // 120  # Verovio's MIDI files have 120 ticks a quarter note

wishes = st.builds(
    Wish,
    stage=st.just(-1),
    voices=st.sampled_from([1, 2]),
    through=st.booleans(),
    sticking=st.sampled_from(STICKINGS),
    counts=st.booleans(),
    signs=st.booleans(),
    older=st.booleans(),
    tempo=st.sampled_from([0, 2000, 9250, 40000]),
)


class Sound(NamedTuple):
    tick: int
    key: int
    velocity: int


@pytest.fixture(scope="module")
def schema(real_inputs: Path) -> etree.XMLSchema:
    return etree.XMLSchema(etree.parse(real_inputs / "musicxml_schema" / "musicxml-offline.xsd"))


@pytest.fixture(scope="module")
def reader() -> Iterator[Any]:
    verovio.enableLog(verovio.LOG_ERROR)
    toolkit = verovio.toolkit()
    toolkit.setOptions({"breaks": "none"})
    yield toolkit


@settings(max_examples=40)
@given(grooves(max_variations=2, max_bars=2), wishes)
def test_every_file_is_valid(schema, groove, wish):
    schema.assertValid(etree.fromstring(musicxml(groove, grow(groove), wish).text.encode()))


def test_the_container_of_a_packed_file_is_valid(real_inputs):
    container = etree.XMLSchema(etree.parse(real_inputs / "musicxml_schema" / "container.xsd"))
    with zipfile.ZipFile(io.BytesIO(packed("<score-partwise/>"))) as archive:
        container.assertValid(etree.fromstring(archive.read("META-INF/container.xml")))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_another_program_reads_the_examples_as_they_are(reader, path):
    groove = read_groove(path.read_text(encoding="utf-8"), path.name)
    stages = grow(groove)
    for stage in stages:
        is_played(reader, groove, stages, stage, 2)
    bare = grow(plain(groove))
    is_played(reader, plain(groove), bare, bare[0], 1)


@settings(max_examples=200)
@given(grooves(max_variations=1, max_bars=2), st.sampled_from([1, 2]))
def test_another_program_reads_grooves_as_they_are(reader, groove, voices):
    stages = grow(groove)
    meter = stages[-1].beat.meter
    assume(
        meter.is_usual
        or {stroke.at // meter.bar for stroke in stages[-1].beat.strokes} == {*range(stages[-1].beat.bars)}
    )
    is_played(reader, groove, stages, stages[-1], voices)


def plain(groove):
    """The base beat alone, without graces: then every time counts."""
    base = groove.base
    strokes = [replace(stroke, grace="") for stroke in base.strokes]
    return replace(groove, base=base_beat(base.meter, base.bars, base.columns, strokes), variations=())


def is_played(reader, groove, stages, stage, voices):
    """Every stroke and every grace with its key and velocity, at its place, on the drum channel; nothing else."""
    assert reader.loadData(musicxml(groove, stages, Wish(stage.number, voices=voices)).text)
    left = heard(reader)
    graces: Counter[tuple[int, int]] = Counter()
    rolls, late = [], []
    for voice, chord in chords(stage, voices):
        free = any(stroke.grace in GRACES for stroke in chord.strokes)
        for stroke in chord.strokes:
            sound = Sound(chord.at // TICK, BY_NAME[stroke.surface].key, profiles.VELOCITIES[stroke.dynamic])
            quiet = profiles.VELOCITIES["soft" if stroke.dynamic == "accent" else "ghost"]
            graces[sound.key, quiet] += GRACES.get(stroke.grace, 0)
            if any(each.grace == "diddle" for each in chord.strokes):
                rolls.append((sound, (chord.at + chord.ticks) // TICK))
            if free:
                late.append(sound)
                continue
            found = next((each for each in left if each[1:] == sound[1:] and abs(each.tick - sound.tick) <= 1), None)
            assert found, f"{stroke} of voice {voice.stem} is not heard"
            left.remove(found)
    wanted = Counter(sound[1:] for sound in late) + graces
    more = Counter(sound[1:] for sound in left) - wanted
    assert not wanted - Counter(sound[1:] for sound in left)
    assert all(any(roll[0][1:] == each for roll in rolls) for each in more), more


def heard(reader) -> list[Sound]:
    file = mido.MidiFile(file=io.BytesIO(base64.b64decode(reader.renderToMIDI())))
    assert file.ticks_per_beat * TICK == QUARTER
    found = []
    for track in file.tracks:
        tick = 0
        for message in track:
            tick += message.time
            if message.type == "note_on" and message.velocity:
                assert message.channel == 9
                found.append(Sound(tick, message.note, message.velocity))
    return found


def chords(stage, voices: int) -> Iterator[tuple[Voice, Chord]]:
    for bar in spell(stage.beat, voices).bars:
        for voice in bar.voices:
            for chord in voice.chords:
                yield voice, chord


@settings(max_examples=20)
@given(grooves(max_variations=0, max_bars=2))
def test_another_program_has_every_note_by_its_id_at_its_exact_place(reader, groove):
    groove = plain(groove)
    meter = groove.base.meter
    assume(meter.is_usual or {stroke.at // meter.bar for stroke in groove.base.strokes} == {*range(groove.base.bars)})
    stages = grow(groove)
    assert reader.loadData(musicxml(groove, stages).text)
    begins = {name: moment["qstamp"] for moment in reader.renderToTimemap() for name in moment.get("on", ())}
    wanted = {
        note_id(stroke, "s0."): chord.at / QUARTER for _, chord in chords(stages[0], 2) for stroke in chord.strokes
    }
    assert begins == pytest.approx(wanted, abs=0.001)


@pytest.mark.parametrize("grace", GRACES)
def test_graces_sound_before_their_stroke_and_it_on_its_place(reader, grace):
    strokes = [Stroke(0, "snare"), Stroke(QUARTER, "snare", grace=grace), Stroke(QUARTER, "hi-hat")]
    groove = Groove(base=base_beat(Meter.of("4/4"), 1, "sixteenths", strokes))
    assert reader.loadData(musicxml(groove, grow(groove)).text)
    snare = [(sound.tick, sound.velocity) for sound in heard(reader) if sound.key == 38]
    assert [velocity for _, velocity in snare] == [84, *[32] * GRACES[grace], 84]
    assert (snare[0][0], snare[-1][0]) == (0, 120) and all(60 < tick < 120 for tick, _ in snare[1:-1])


def test_velocities_are_those_of_our_midi_files():
    assert notes.VELOCITIES == profiles.VELOCITIES
