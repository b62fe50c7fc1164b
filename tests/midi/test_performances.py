"""48 performances on electronic kits become base beats that hold just what was played, by mido's reading."""

from __future__ import annotations

import re
from collections import Counter
from functools import lru_cache
from pathlib import Path

import mido
import pytest

from groundbeat.midi.base_beat import Import, base_beat
from groundbeat.midi.file import MidiFile
from groundbeat.midi.reader import read

NAMES = (
    "1__103_funk_95_fill_4-4", "1__10_jazz-funk_116_fill_4-4", "1__10_soul-groove10_102_beat_4-4",
    "1__111_rock-prog_110_beat_5-4", "1__112_afrocuban-bembe_122_beat_4-4", "1__126_funk-fast_125_beat_4-4",
    "1__12_latin-bomba_96_beat_4-4", "1__142_gospel_120_beat_4-4", "1__184_reggae_78_beat_4-4",
    "1__1_funk-groove1_138_beat_4-4", "1__1_latin-chacarera_157_beat_3-4", "1__2_funk-groove2_105_beat_4-4",
    "1__35_punk_128_beat_4-4", "1__3_soul-groove3_86_beat_4-4", "1__4_jazz_120_beat_3-4",
    "1__4_soul-groove4_80_beat_4-4", "1__5_funk-groove5_84_beat_4-4", "1__5_jazz_200_beat_3-4",
    "1__6_hiphop-groove6_87_beat_4-4", "1__6_rock_102_beat_3-4", "1__78_jazz-fast_290_beat_4-4",
    "1__7_dance-disco_120_beat_4-4", "1__7_pop-groove7_138_beat_4-4", "1__81_dance-breakbeat_170_beat_4-4",
    "1__8_rock-groove8_65_beat_4-4", "1__9_soul-groove9_105_beat_4-4", "4__2_jazz_158_beat_4-4",
    "4__8_blues-shuffle_112_beat_4-4", "5__16_latin-ando_125_beat_3-4", "5__18_afrocuban_128_beat_4-4",
    "5__19_middleeastern_126_beat_4-4", "5__7_pop-groove7_138_beat_4-4",
    "5__8_latin-venezuelan-merengue_162_beat_5-8", "5__8_neworleans-chacha_124_beat_4-4", "6__1_rock_70_beat_6-8",
    "6__2_rock_70_beat_6-8", "6__3_rock_80_beat_6-8", "6__4_rock_80_beat_6-8", "6__5_rock_60_beat_6-8",
    "7__12_funk_102_beat_4-4", "7__38_hiphop_67_beat_4-4", "7__6_hiphop-groove6_87_beat_4-4",
    "7__80_country_78_beat_4-4", "7__91_neworleans-funk_93_beat_4-4", "7__96_pop_142_beat_4-4",
    "8__13_latin_118_beat_4-4", "8__18_afrobeat_85_beat_4-4", "8__42_highlife_126_beat_4-4",
)  # fmt: skip

# The kit that these were played on, by the maker's list of keys; instruments only.
INSTRUMENT = {
    36: "kick", 38: "snare", 40: "snare", 37: "snare", 48: "tom 1", 50: "tom 1", 45: "tom 2", 47: "tom 2", 43: "tom 3",
    58: "tom 3", 46: "hi-hat", 26: "hi-hat", 42: "hi-hat", 22: "hi-hat", 44: "pedal", 49: "crash 1", 55: "crash 1",
    57: "crash 2", 52: "crash 2", 51: "ride", 59: "ride", 53: "ride",
}  # fmt: skip
OURS = {
    "high tom": "tom 1", "mid tom": "tom 2", "low tom": "tom 2", "floor tom": "tom 3", "crash": "crash 1",
    "second crash": "crash 2", "hi-hat pedal": "pedal",
}  # fmt: skip


@lru_cache(maxsize=4)
def second_opinion(path: Path) -> tuple[int, tuple[tuple[int, int], ...], float]:
    """Ticks a quarter, note-ons as (tick, key), and tempo, as mido reads them."""
    file = mido.MidiFile(path)
    notes, us = [], 0
    for track in file.tracks:
        now = 0
        for message in track:
            now += message.time
            if message.type == "note_on" and message.velocity > 0 and message.channel == 9:
                notes.append((now, message.note))
            elif message.type == "set_tempo":
                us = message.tempo
    return file.ticks_per_beat, tuple(notes), 60_000_000 / us


@lru_cache(maxsize=4)
def reading(path: Path) -> MidiFile:
    return read(path.read_bytes())


def path_of(name: str, data: Path) -> Path:
    return data / "drum_midi" / f"drummer{name}.mid"


def bars_of(found: Import) -> tuple[int, int, int]:
    said = re.match(r"Read bars? (\d+)(?:-(\d+))? of (\d+)", found.says[0])
    assert said
    return int(said[1]), int(said[2] or said[1]), int(said[3])


def told_lost(found: Import) -> int:
    """How many strokes the sentences say were left out."""
    said = [re.match(r"(A|\d+) strokes? (?:was|were) left out", says) for says in found.says]
    return sum(1 if one[1] == "A" else int(one[1]) for one in said if one)


def assert_it_holds_what_was_played(found: Import, path: Path) -> int:
    """Compare a base beat with mido's note-ons of its bars; return how many there are."""
    quarter, notes, tempo = second_opinion(path)
    beat, (first, last, _) = found.beat, bars_of(found)
    bar = beat.meter.bar * quarter / 10080  # file ticks
    column = beat.column * quarter / 10080
    played: Counter[tuple[int, str]] = Counter()
    latest: dict[str, tuple[int, bool]] = {}
    split = 0  # pairs close enough for a flam, of which one lies in these bars and one outside
    for tick, key in notes:
        number = int(((tick - (first - 1) * bar) / column + 0.5) // 1)
        inside = 0 <= number < (last - first + 1) * bar / column
        if inside:
            played[number, INSTRUMENT[key]] += 1
        before, was_inside = latest.get(INSTRUMENT[key], (-1000, inside))
        split += inside != was_inside and (tick - before) * 60_000 / tempo / quarter <= 25
        latest[INSTRUMENT[key]] = tick, inside
    flams = sum(stroke.grace == "flam" for stroke in beat.strokes)
    kept = {(stroke.at // beat.column, OURS.get(stroke.instrument, stroke.instrument)) for stroke in beat.strokes}
    assert len(kept) == len(beat.strokes)
    assert kept <= played.keys()
    assert len(played) - len(kept) <= flams + split  # a grace note may have stood on a column of its own
    # Every note-on is a stroke, the grace of a flam, or was told to be left out.
    assert abs(played.total() - len(kept) - told_lost(found) - flams) <= split
    return played.total()


def test_all_performances_are_named_here(data: Path) -> None:
    assert {path.name for path in (data / "drum_midi").glob("*.mid")} == {f"drummer{name}.mid" for name in NAMES}
    assert len(NAMES) == 48


@pytest.mark.parametrize("name", NAMES)
def test_a_performance_gives_a_base_beat_of_its_first_bar_and_of_two_more(name: str, data: Path) -> None:
    path = path_of(name, data)
    file = reading(path)
    _, notes, tempo = second_opinion(path)
    assert [(note.tick, note.key) for note in file.notes] == list(notes)
    found = base_beat(file)
    first, last, total = bars_of(found)
    assert first == last
    assert assert_it_holds_what_was_played(found, path) > 0
    if total > 1:
        start = min(first + 1, total - 1)
        two = base_beat(file, (start, start + 1))
        assert two.beat.bars == 2
        assert assert_it_holds_what_was_played(two, path) > 0
    assert str(found.beat.meter) == name[-3:].replace("-", "/")
    unit = found.beat.meter.tempo_unit[1] / 10080
    assert found.tempo == pytest.approx(100 * tempo / unit, abs=0.51)
    said = int(re.search(r"_(\d+)_(?:beat|fill)_", name)[1])  # type: ignore[index]
    assert found.tempo == pytest.approx(100 * said / unit, abs=0.51)


@pytest.mark.parametrize("name", NAMES)
def test_strokes_are_moved_by_less_than_half_a_column(name: str, data: Path) -> None:
    found = base_beat(reading(path_of(name, data)))
    beat = found.beat
    column = beat.column / beat.meter.tempo_unit[1] * 60_000 / (found.tempo / 100)
    for spread in found.residue:
        assert abs(spread.mean) - 1e-9 <= spread.moved <= spread.worst + 1e-9
        assert spread.worst <= column / 2 + 0.1  # the tempo is rounded
        assert spread.median <= spread.worst
    assert sum(spread.strokes for spread in found.residue[1:]) == found.residue[0].strokes == len(beat.strokes)


# What the names of their styles lead one to expect.
@pytest.mark.parametrize(
    ("columns", "names"),
    [
        (
            "eighth triplets",
            "4__8_blues-shuffle_112_beat_4-4 1__112_afrocuban-bembe_122_beat_4-4 1__4_jazz_120_beat_3-4",
        ),
        ("sixteenths", "1__6_hiphop-groove6_87_beat_4-4 1__4_soul-groove4_80_beat_4-4 8__18_afrobeat_85_beat_4-4"),
        ("eighths", "1__1_latin-chacarera_157_beat_3-4 1__7_pop-groove7_138_beat_4-4 1__78_jazz-fast_290_beat_4-4"),
        ("sixteenth triplets", "6__1_rock_70_beat_6-8 6__2_rock_70_beat_6-8 6__3_rock_80_beat_6-8"),
    ],
)
def test_the_columns_are_those_of_the_style(columns: str, names: str, data: Path) -> None:
    for name in names.split():
        assert base_beat(reading(path_of(name, data))).beat.columns == columns


def test_every_note_of_a_performance_belongs_to_just_one_bar(data: Path) -> None:
    for name in ("1__4_soul-groove4_80_beat_4-4", "6__1_rock_70_beat_6-8", "7__91_neworleans-funk_93_beat_4-4"):
        path = path_of(name, data)
        file = reading(path)
        whole = base_beat(file)
        first, _, total = bars_of(whole)
        counts = [
            assert_it_holds_what_was_played(base_beat(file, (bar, bar), whole.beat.columns), path)
            for bar in range(first, total + 1)
        ]
        assert sum(counts) == len(file.notes)
