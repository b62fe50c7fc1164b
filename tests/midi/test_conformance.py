"""Every file of the conformance and the hand-made set has one expected outcome, written down here by name.

The counts of notes are checked against mido wherever mido reads the file as the standard does; the others hold a
scale of eight notes, or a groove of two, like their neighbours.
"""

from __future__ import annotations

from pathlib import Path

import mido
import pytest

from groundbeat.errors import MidiError
from groundbeat.midi.base_beat import base_beat
from groundbeat.midi.reader import read

# File: how many notes it holds.
CONFORMANCE: dict[str, int] = {
    "test-2-tracks-type-0.mid": 16,
    "test-2-tracks-type-1.mid": 16,
    "test-2-tracks-type-2.mid": 16,
    "test-all-gm-percussion.mid": 183,
    "test-all-gm-sounds.mid": 512,
    "test-all-gm2-sounds.mid": 1060,
    "test-all-gs-sounds.mid": 5044,
    "test-all-microsoft-gs-wavetable-synth-sounds.mid": 904,
    "test-all-xg-sounds.mid": 4560,
    "test-c-major-scale.mid": 8,
    "test-control-00-20-bank-select.mid": 8,
    "test-control-40-damper.mid": 8,
    "test-control-41-portamento.mid": 8,
    "test-control-54-portamento-control.mid": 1,
    "test-control-7c-omni-mode-off.mid": 0,
    "test-control-7d-omni-mode-on.mid": 0,
    "test-control-7e-mono-mode-on.mid": 0,
    "test-control-7f-poly-mode-on.mid": 0,
    "test-corrupt-file-extra-byte.mid": 8,
    "test-corrupt-file-missing-byte.mid": 8,
    "test-empty.mid": 0,
    "test-gm2-doggy-78-00-38-4c.mid": 3,
    "test-gm2-doggy-79-01-7b.mid": 3,
    "test-gs-doggy-01-00-7b.mid": 3,
    "test-illegal-message-all.mid": 8,
    "test-illegal-message-f1-xx.mid": 8,
    "test-illegal-message-f2-xx-xx.mid": 8,
    "test-illegal-message-f3-xx.mid": 8,
    "test-illegal-message-f4.mid": 8,
    "test-illegal-message-f5.mid": 8,
    "test-illegal-message-f6.mid": 8,
    "test-illegal-message-f8.mid": 8,
    "test-illegal-message-f9.mid": 8,
    "test-illegal-message-fa.mid": 8,
    "test-illegal-message-fb.mid": 8,
    "test-illegal-message-fc.mid": 8,
    "test-illegal-message-fd.mid": 8,
    "test-illegal-message-fe.mid": 8,
    "test-karaoke-kar.mid": 29,
    "test-multichannel-chords-0.mid": 24,
    "test-multichannel-chords-1.mid": 24,
    "test-multichannel-chords-2.mid": 24,
    "test-multichannel-chords-3.mid": 24,
    "test-non-midi-track.mid": 8,
    "test-note-on-velocity.mid": 9,
    "test-rpn-00-00-pitch-bend-range.mid": 5,
    "test-rpn-00-01-fine-tuning.mid": 25,
    "test-rpn-00-02-coarse-tuning.mid": 8,
    "test-rpn-00-05-modulation-depth-range.mid": 5,
    "test-running-status-metaevent.mid": 8,
    "test-running-status-sysex.mid": 8,
    "test-silence-all-notes-off.mid": 0,
    "test-silence-end-of-track.mid": 0,
    "test-silence-text-metaevent.mid": 0,
    "test-smpte-offset.mid": 8,
    "test-sysex-7e-06-01-id-request.mid": 0,
    "test-sysex-7e-09-01-gm1-enable.mid": 0,
    "test-sysex-7e-09-02-gm-disable.mid": 0,
    "test-sysex-7e-09-03-gm2-enable.mid": 0,
    "test-sysex-7f-04-03-master-fine-tuning.mid": 5,
    "test-sysex-7f-04-04-master-coarse-tuning.mid": 8,
    "test-sysex-7x-08-0x-scale-tuning.mid": 65,
    "test-sysex-gs-40-1x-15-drum-part-change.mid": 8,
    "test-sysex-gs-40-1x-4x-scale-tuning.mid": 3,
    "test-track-length.mid": 1,
    "test-vlq-2-byte.mid": 8,
    "test-vlq-3-byte.mid": 8,
    "test-vlq-4-byte.mid": 8,
    "test-xg-doggy-40-00-30.mid": 3,
    "test-xg-doggy-7e-00-00-54.mid": 3,
}
HANDMADE: dict[str, int] = {
    "alien-chunk-before-mtrk.mid": 2,
    "division-32767.mid": 2,
    "double-on-one-off.mid": 2,
    "events-after-eot.mid": 2,
    "key-sig-len-0.mid": 2,
    "no-eot.mid": 2,
    "note-on-vel-0.mid": 1,
    "ntrk-says-2-has-1.mid": 2,
    "orphan-off.mid": 0,
    "running-status-after-meta.mid": 1,
    "shift-jis-name.mid": 2,
    "smpte-29-80.mid": 2,
    "tempo-len-2.mid": 2,
    "time-sig-denom-2-200.mid": 2,
    "track-length-too-long.mid": 2,
    "trailing-garbage.mid": 2,
    "type-2.mid": 4,
    "type0-two-tracks.mid": 4,
    "unknown-meta.mid": 2,
    "zero-length.mid": 1,
}

# File that does not read: the byte, and what is said.
REFUSED: dict[str, tuple[int, str]] = {
    "test-empty-file.mid": (0, "the file is empty"),
    "test-not-a-midi-file.mid": (0, 'the file begins with "not "'),
    "test-syx-7e-06-01-id-request.syx": (0, "a SysEx dump"),
    "5-byte-vlq.mid": (22, "a time of more than four bytes"),
    "division-0.mid": (12, "the division is 0"),
    "header-only.mid": (14, "no track"),
    "running-status-first.mid": (23, "found 24 where an event must begin with a status byte"),
    "sysex-unterminated.mid": (23, "a SysEx message of 127 bytes begins here"),
}

# File that gives a base beat: how many strokes its first bar with strokes has. Every other file that reads holds
# no drums and says so.
STROKES: dict[str, int] = {
    "test-all-gm-percussion.mid": 3,
    "test-gm2-doggy-78-00-38-4c.mid": 3,
    "test-sysex-gs-40-1x-15-drum-part-change.mid": 3,
    "alien-chunk-before-mtrk.mid": 2,
    "division-32767.mid": 2,
    "double-on-one-off.mid": 2,
    "events-after-eot.mid": 2,
    "key-sig-len-0.mid": 2,
    "no-eot.mid": 2,
    "note-on-vel-0.mid": 1,
    "ntrk-says-2-has-1.mid": 2,
    "running-status-after-meta.mid": 1,
    "shift-jis-name.mid": 2,
    "smpte-29-80.mid": 2,
    "tempo-len-2.mid": 2,
    "time-sig-denom-2-200.mid": 2,
    "track-length-too-long.mid": 2,
    "trailing-garbage.mid": 2,
    "type-2.mid": 2,
    "type0-two-tracks.mid": 2,
    "unknown-meta.mid": 2,
    "zero-length.mid": 1,
}

# Where mido counts other notes than the standard: it reads on after an End of Track.
MIDO_DIFFERS = {"events-after-eot.mid"}
# What mido refuses and we read: alien chunks, bad meta events, undefined status bytes, wrong lengths, a SysEx that
# interrupts running status.
MIDO_REFUSES = {
    "test-corrupt-file-missing-byte.mid", "test-illegal-message-all.mid", "test-illegal-message-f4.mid",
    "test-illegal-message-f5.mid", "test-illegal-message-f9.mid", "test-illegal-message-fd.mid",
    "test-non-midi-track.mid", "test-running-status-sysex.mid", "alien-chunk-before-mtrk.mid", "key-sig-len-0.mid",
    "ntrk-says-2-has-1.mid", "tempo-len-2.mid", "track-length-too-long.mid",
}  # fmt: skip


def path_of(name: str, data: Path) -> Path:
    folder = data / "midi_handmade" if name in HANDMADE or not name.startswith("test-") else None
    return (folder or data / "midi_conformance" / "midi") / name


def mido_count(path: Path) -> int | None:
    try:
        file = mido.MidiFile(path)
    except (OSError, EOFError, ValueError, IndexError, KeyError):
        return None
    return sum(m.type == "note_on" and m.velocity > 0 for track in file.tracks for m in track)


def test_the_tables_name_every_file(data: Path) -> None:
    there = {path.name for path in (data / "midi_conformance" / "midi").iterdir()}
    there |= {path.name for path in (data / "midi_handmade").iterdir()}
    assert there == CONFORMANCE.keys() | HANDMADE.keys() | REFUSED.keys()
    assert len(there) == 73 + 25


@pytest.mark.parametrize("name", [*CONFORMANCE, *HANDMADE])
def test_every_good_enough_file_reads_with_all_its_notes(name: str, data: Path) -> None:
    path = path_of(name, data)
    expected = (CONFORMANCE | HANDMADE)[name]
    assert len(read(path.read_bytes()).notes) == expected
    second = mido_count(path)
    assert (second is None) == (name in MIDO_REFUSES)
    if second is not None and name not in MIDO_DIFFERS:
        assert second == expected


@pytest.mark.parametrize("name", REFUSED)
def test_every_other_file_is_refused_at_its_byte(name: str, data: Path) -> None:
    offset, words = REFUSED[name]
    with pytest.raises(MidiError, match=words) as caught:
        read(path_of(name, data).read_bytes())
    assert caught.value.offset == offset


@pytest.mark.parametrize("name", [*CONFORMANCE, *HANDMADE])
def test_drums_become_a_base_beat_and_the_rest_is_told(name: str, data: Path) -> None:
    file = read(path_of(name, data).read_bytes())
    if name in STROKES:
        found = base_beat(file)
        assert len(found.beat.strokes) == STROKES[name]
        assert found.says[0].startswith("Read bar ")
        return
    words = "no notes" if not file.notes else "found no drums|on a key of a drum kit"
    with pytest.raises(MidiError, match=words) as caught:
        base_beat(file)
    assert caught.value.offset in ({note.offset for note in file.notes} or {file.size})
