"""Any bytes either read or raise one GroundbeatError; nothing else escapes, and nothing hangs."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from groundbeat.errors import GroundbeatError, MidiError
from groundbeat.midi.base_beat import Import, base_beat
from groundbeat.midi.reader import read
from groundbeat.model.beat import Beat
from groundbeat.model.place import COLUMNS

# The writer of the fixture holds nothing between examples.
LAWS = settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])

keys = st.one_of(st.sampled_from([35, 36, 38, 40, 42, 46, 22, 26, 51, 53, 45, 48, 43]), st.integers(0, 127))
rows = st.lists(st.tuples(st.integers(0, 20_000), keys, st.integers(1, 127)), max_size=40)
divisions = st.one_of(st.sampled_from([0, 1, 96, 480, 32767, 0xE728, 0xE350]), st.integers(0, 65535))


@st.composite
def pieces(draw: Any) -> dict[str, Any]:
    """What a file is made of; the test writes it."""
    return {
        "tracks": draw(st.lists(st.tuples(rows, st.integers(1, 16)), min_size=1, max_size=3)),
        "signatures": draw(
            st.lists(
                st.tuples(st.integers(0, 9000), st.integers(0, 255), st.sampled_from([1, 2, 4, 8, 16, 32])), max_size=3
            )
        ),
        "tempos": draw(st.lists(st.tuples(st.integers(0, 9000), st.integers(0, 0xFFFFFF)), max_size=3)),
        "pedals": draw(st.lists(st.tuples(st.integers(0, 9000), st.integers(0, 127)), max_size=5)),
        "names": draw(st.lists(st.binary(max_size=20), max_size=2)),
        "division": draw(divisions),
        "format_": draw(st.integers(0, 3)),
    }


def written(smf: Any, piece: dict[str, Any]) -> bytes:
    tracks = [smf.hits(*hits, channel=channel) for hits, channel in piece["tracks"]]
    tracks[0] += [(tick, smf.signature(upper, lower)) for tick, upper, lower in piece["signatures"]]
    tracks[0] += [(tick, smf.tempo(us)) for tick, us in piece["tempos"]]
    tracks[-1] += [(tick, bytes([0xB9, 4, value])) for tick, value in piece["pedals"]]
    tracks[0] += [(0, smf.meta(3, name)) for name in piece["names"]]
    return smf.file(*tracks, division=piece["division"], format_=piece["format_"])


def come_out_well(data: bytes, bars: tuple[int, int] | None = None, division: str | None = None) -> Import | None:
    """Read and import; None where either refused as it should."""
    try:
        file = read(data)
    except MidiError as error:
        assert 0 <= error.offset <= len(data)
        assert str(error).startswith(f"MIDI file, byte {error.offset}: ")
        return None
    assert all(0 <= note.offset < len(data) for note in file.notes)
    try:
        found = base_beat(file, bars, division)
    except GroundbeatError as error:
        assert error.message
        return None
    assert isinstance(found.beat, Beat)
    assert isinstance(hash(found.beat), int)
    assert len(found.beat.strokes) == found.residue[0].strokes > 0
    assert all(stroke.at % found.beat.column == 0 for stroke in found.beat.strokes)
    assert all(says.endswith(".") for says in found.says)
    return found


@LAWS
@given(st.binary(max_size=400))
def test_random_bytes_read_or_are_refused(data: bytes) -> None:
    come_out_well(data)


@LAWS
@given(st.binary(max_size=300), st.integers(0, 400), divisions)
def test_random_events_behind_a_good_header_read_or_are_refused(body: bytes, length: int, division: int) -> None:
    head = b"MThd\0\0\0\6\0\1\0\1" + division.to_bytes(2, "big")
    come_out_well(head + b"MTrk" + length.to_bytes(4, "big") + body)
    come_out_well(head + b"MTrk" + len(body).to_bytes(4, "big") + body)


bar_ranges = st.one_of(st.none(), st.tuples(st.integers(-1, 6), st.integers(-1, 20)))


@LAWS
@given(pieces(), bar_ranges, st.one_of(st.none(), st.sampled_from([*COLUMNS, "columns"])))
def test_any_file_gives_a_base_beat_or_one_error(
    smf: Any, piece: dict[str, Any], bars: tuple[int, int] | None, division: str | None
) -> None:
    data = written(smf, piece)
    come_out_well(data, bars, division)
    if piece["division"] in range(1, 0x8000):
        assert len(read(data).notes) == sum(len(hits) for hits, _ in piece["tracks"])


@LAWS
@given(pieces(), st.data())
def test_a_damaged_file_reads_or_is_refused(smf: Any, piece: dict[str, Any], choose: Any) -> None:
    data = bytearray(written(smf, piece))
    for _ in range(choose.draw(st.integers(1, 4))):
        at = choose.draw(st.integers(0, len(data) - 1))
        match choose.draw(st.sampled_from(["set", "cut", "insert", "end", "twice"])):
            case "set":
                data[at] = choose.draw(st.integers(0, 255))
            case "cut":
                del data[at : at + choose.draw(st.integers(1, 8))]
            case "insert":
                data[at:at] = choose.draw(st.binary(min_size=1, max_size=8))
            case "end":
                del data[at:]
            case "twice":
                data[at:at] = data[at : at + 40]
        if not data:
            break
    come_out_well(bytes(data))


@pytest.mark.parametrize("name", ["no-eot", "running-status-after-meta", "type-2", "smpte-29-80", "tempo-len-2"])
def test_every_single_byte_of_a_real_file_may_be_wrong(name: str, data: Any) -> None:
    whole = (data / "midi_handmade" / f"{name}.mid").read_bytes()
    for at in range(len(whole)):
        come_out_well(whole[:at])
        for value in (0x00, 0x7F, 0x80, 0xFF, 0x4D):
            come_out_well(whole[:at] + bytes([value]) + whole[at + 1 :])
