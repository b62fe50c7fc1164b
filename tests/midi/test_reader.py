"""Failure kinds of MIDI files, each as bytes with their meaning, and what the reader makes of them."""

from __future__ import annotations

import time

import pytest

from groundbeat.errors import MidiError
from groundbeat.midi import reader, track
from groundbeat.midi.file import NEVER_ENDED, TRACK_NAME, MidiFile
from groundbeat.midi.reader import read

HEADER = "4D546864 00000006 0000 0001 01E0"  # MThd, 6 bytes: format 0, 1 track, 480 ticks a quarter
END = "00 FF2F00"  # End of Track
GROOVE = "00 99 2464 78 89 2440 00 99 2668 78 89 2640"  # kick on 0, snare on 120, both 120 long


def of(text: str) -> bytes:
    """Bytes from hex; what follows # on a line is a remark."""
    return bytes.fromhex("".join(line.partition("#")[0] for line in text.splitlines()))


def one_track(body: str, header: str = HEADER) -> bytes:
    inside = of(body)
    return of(header) + b"MTrk" + len(inside).to_bytes(4, "big") + inside


def keys(file: MidiFile) -> list[tuple[int, int]]:
    return [(note.tick, note.key) for note in file.notes]


def test_a_plain_file_gives_its_notes_with_ticks_lengths_and_bytes() -> None:
    file = read(one_track(GROOVE + END))
    assert (file.format, file.division, file.tracks, file.says) == (0, 480, 1, ())
    assert [note[:6] for note in file.notes] == [(0, 10, 36, 100, 120, 1), (120, 10, 38, 104, 120, 1)]
    assert [note.offset for note in file.notes] == [23, 31]


def test_zero_length_notes_are_hits() -> None:
    file = read(one_track("00 99 2464 00 89 2440 60 99 2464 00 89 2440" + END))
    assert [(note.tick, note.length) for note in file.notes] == [(0, 0), (96, 0)]


def test_velocity_0_ends_a_note() -> None:
    file = read(one_track("00 99 2464 78 99 2400" + END))
    assert [note.length for note in file.notes] == [120]


def test_off_on_off_at_one_tick_does_not_merge_repeated_hits() -> None:
    body = """
    00 99 2464        # on
    78 89 2440        # off at 120
    00 99 2464        # on again at 120
    00 89 2440        # and off at 120
    """
    assert [(note.tick, note.length) for note in read(one_track(body + END)).notes] == [(0, 120), (120, 0)]


def test_two_ons_and_one_off_are_two_hits() -> None:
    file = read(one_track("00 99 2664 3C 99 263C 3C 89 2640" + END))
    assert [(note.tick, note.length) for note in file.notes] == [(0, 120), (60, NEVER_ENDED)]


def test_an_off_without_a_note_and_a_note_without_an_off_are_no_faults() -> None:
    file = read(one_track("00 89 2640 00 99 2464" + END))
    assert [(note.key, note.length) for note in file.notes] == [(36, NEVER_ENDED)]
    assert file.says == ()


@pytest.mark.parametrize(
    "between",
    [
        "00 FF0101 61",  # a text
        "00 F003 7E7F F7",  # a SysEx
        "00 F8",  # a clock tick, which belongs on a cable
        "00 F702 F3 01",  # an escape
    ],
)
def test_running_status_goes_on_after_what_ends_it_by_the_standard(between: str) -> None:
    file = read(one_track(f"00 99 2464 {between} 78 2664" + END))
    assert keys(file) == [(0, 36), (120, 38)]


def test_a_data_byte_before_any_status_is_refused_at_its_byte() -> None:
    with pytest.raises(MidiError, match=r"byte 23: found 24 where an event must begin with a status byte") as caught:
        read(one_track("00 24 64" + END))
    assert caught.value.offset == 23


def test_a_missing_end_of_track_is_told() -> None:
    file = read(one_track(GROOVE))
    assert len(file.notes) == 2
    assert file.says == ("Track 1 has no End of Track.",)


def test_events_after_the_end_of_track_are_not_read() -> None:
    file = read(one_track(GROOVE + END + GROOVE))
    assert len(file.notes) == 2
    assert file.says == ("16 bytes after the End of Track of track 1 were skipped.",)


def test_rubbish_after_the_last_track_is_skipped() -> None:
    file = read(one_track(GROOVE + END) + bytes(64))
    assert len(file.notes) == 2
    assert file.says == ("64 bytes that belong to no chunk were skipped.",)


def test_rubbish_after_a_track_without_end_is_not_read_as_events() -> None:
    file = read(one_track(GROOVE) + b"\x00\xc9\xff\xff\xff" * 9)
    assert len(file.notes) == 2
    assert file.says[0] == "Track 1 has no End of Track."


@pytest.mark.parametrize("wrong", [-20, -19, -18, -3, 1, 50, 2**31])
def test_a_wrong_track_length_hides_neither_this_track_nor_the_next(wrong: int) -> None:
    first, second = of(GROOVE + END), of("00 99 2A50 00 89 2A40" + END)
    data = of("4D546864 00000006 0001 0002 01E0")
    data += b"MTrk" + (len(first) + wrong).to_bytes(4, "big") + first
    data += b"MTrk" + len(second).to_bytes(4, "big") + second
    file = read(data)
    assert sorted(note.key for note in file.notes) == [36, 38, 42]
    assert any("The length of track 1 is wrong" in says for says in file.says)


@pytest.mark.parametrize(("said", "has"), [(2, 1), (1, 2), (0, 1)])
def test_the_number_of_tracks_is_counted_not_believed(said: int, has: int) -> None:
    body = of(GROOVE + END)
    data = of(f"4D546864 00000006 0001 {said:04X} 01E0")
    data += (b"MTrk" + len(body).to_bytes(4, "big") + body) * has
    file = read(data)
    assert (file.tracks, len(file.notes)) == (has, 2 * has)
    assert f"the file has {has}" in file.says[0]


def test_chunks_of_other_kinds_are_passed_over_wherever_they_stand() -> None:
    alien = of("58464948 00000004 4D54726B")  # XFIH; its body spells MTrk
    file = read(of(HEADER) + alien + one_track(GROOVE + END)[14:] + alien)
    assert (file.tracks, len(file.notes)) == (1, 2)
    assert [says for says in file.says if "XFIH" in says] == [
        'A chunk of another kind ("XFIH", 4 bytes) was skipped.'
    ] * 2


def test_a_riff_wrapper_is_opened() -> None:
    plain = one_track(GROOVE + END)
    inside = b"RMID" + b"DISP" + of("03000000 616263 00") + b"data" + len(plain).to_bytes(4, "little") + plain
    file = read(b"RIFF" + len(inside).to_bytes(4, "little") + inside)
    assert len(file.notes) == 2
    assert file.says == ("The file stands in a RIFF wrapper.",)


def test_a_riff_wrapper_without_a_midi_file_is_refused() -> None:
    with pytest.raises(MidiError, match="RIFF wrapper without a MIDI file"):
        read(b"RIFF\x0c\0\0\0RMIDDISP\0\0\0\0")


def test_a_longer_header_is_read_to_its_end() -> None:
    header = "4D546864 00000008 0000 0001 01E0 BEEF"
    assert len(read(one_track(GROOVE + END, header)).notes) == 2


@pytest.mark.parametrize(
    ("data", "offset", "words"),
    [
        (b"", 0, "the file is empty"),
        (b"not a midi file", 0, r'begins with "not ", a MIDI file with "MThd"'),
        (of("F0 7E7F 0601 F7"), 0, "a SysEx dump"),
        (b"MThd\0\0\0\6\0\0", 10, "the header ends after 10 of 14 bytes"),
        (of("4D546864 00000002 0000 0001 01E0"), 4, "header's length is 2"),
        (of("4D546864 00000999 0000 0001 01E0"), 4, "header's length is 2457, but only 6 bytes follow"),
        (of(HEADER), 14, r"no track \(MTrk\) found"),
        (one_track(GROOVE, "4D546864 00000006 0000 0001 0000"), 12, "the division is 0.*480 ticks"),
        (one_track(GROOVE, "4D546864 00000006 0000 0001 E728")[:13] + b"\0", 12, "film frames"),
        (one_track(GROOVE, "4D546864 00000006 0000 0001 8028"), 12, "known are 24, 25, 29 and 30"),
        (one_track(GROOVE, "4D546864 00000006 0000 0001 E700"), 12, "25 film frames a second of 0 ticks"),
        (one_track("8FFFFFFF7F 99 2464" + END), 22, "a time of more than four bytes"),
        (one_track("00 FF01 8180808000" + END), 25, "a length of more than four bytes"),
        (one_track("00 99 24FF" + END), 25, r"found FF where a velocity \(00 to 7F\) of message 99 belongs"),
        (one_track("00 99 A464" + END), 24, r"found A4 where a key"),
        (one_track("00 C9 80" + END), 24, "found 80 where a program"),
        (one_track("00 F2 7FFF" + END), 25, "found FF where a data byte"),
        (one_track("00 F07F 00992464" + END), 23, "a SysEx message of 127 bytes begins here, but only 8"),
        (one_track("00 FF0164 61" + END), 23, "a meta event of 100 bytes begins here"),
        (one_track("00 99 24"), 25, "the file ends where a velocity was expected"),
        (one_track("00 99 2464 00"), 27, "the file ends where an event was expected"),
    ],
)
def test_what_does_not_read_names_its_byte(data: bytes, offset: int, words: str) -> None:
    with pytest.raises(MidiError, match=words) as caught:
        read(data)
    assert caught.value.offset == offset
    assert str(caught.value).startswith(f"MIDI file, byte {offset}: ")


def test_an_event_that_runs_into_the_next_track_is_refused() -> None:
    data = one_track("00 FF0108 6162") + one_track(GROOVE + END)[14:]
    with pytest.raises(MidiError, match="only 2 bytes are left of the track") as caught:
        read(data)
    assert caught.value.offset == 23


def test_an_end_of_track_that_lost_its_last_byte_still_ends_the_track() -> None:
    file = read(one_track(GROOVE + END)[:-1])
    assert len(file.notes) == 2
    assert "The End of Track was cut short." in file.says


@pytest.mark.parametrize("division", [1, 96, 480, 960, 32767])
def test_every_metrical_division_reads(division: int) -> None:
    file = read(one_track(GROOVE + END, f"4D546864 00000006 0000 0001 {division:04X}"))
    assert (file.division, keys(file)) == (division, [(0, 36), (120, 38)])


@pytest.mark.parametrize(
    ("bytes_", "rate"),
    [("E728", (1000, 1)), ("E350", (30000 * 80, 1001)), ("E804", (96, 1)), ("E201", (30, 1))],
)
def test_film_frames_give_ticks_a_second(bytes_: str, rate: tuple[int, int]) -> None:
    file = read(one_track(GROOVE + END, f"4D546864 00000006 0000 0001 {bytes_}"))
    assert (file.division, file.ticks_a_second) == (0, rate)
    assert [note.tick for note in file.notes] == [0, 120]


def test_format_0_with_two_tracks_format_2_and_format_3_read() -> None:
    body = one_track(GROOVE + END)[14:]
    for format_, kept in ((0, 0), (1, 1), (2, 2), (3, 1)):
        file = read(of(f"4D546864 00000006 {format_:04X} 0002 01E0") + body + body)
        assert (file.format, len(file.notes), {note.track for note in file.notes}) == (kept, 4, {1, 2})
    assert "There is no format 3; the file was read as format 1." in file.says


@pytest.mark.parametrize(
    "meta",
    [
        "FF5902 1200",  # a key signature of 18 sharps
        "FF5900",  # a key signature without bytes
        "FF5801 04",  # a time signature of one byte
        "FF5804 04C81808",  # 4 over 2 to the power of 200
        "FF5804 00021808",  # 0/4
        "FF5103 000000",  # a tempo of 0
        "FF5102 07A1",  # a tempo of two bytes
        "FF5104 0007A120",  # a tempo of four
        "FF6002 6162",  # an unknown kind
        "FF2001 40",  # a channel prefix of 64
        "FF5405 FFFFFFFFFF",  # an SMPTE offset that is none
    ],
)
def test_a_bad_meta_event_does_not_cost_the_groove(meta: str) -> None:
    file = read(one_track(f"00 {meta} {GROOVE}" + END))
    assert keys(file) == [(0, 36), (120, 38)]
    assert (file.tempos, file.signatures) == ((), ())


def test_a_tempo_or_signature_that_is_none_is_told() -> None:
    file = read(one_track("00 FF5102 07A1 00 FF5102 07A1 00 FF5801 04" + END))
    assert "A tempo that is none was skipped (2 times)." in file.says
    assert "A time signature that is none was skipped." in file.says


def test_tempo_and_signature_are_read_on_any_track(smf) -> None:  # type: ignore[no-untyped-def]
    file = read(smf.file([(0, smf.signature(7, 8))], [(1200, smf.tempo(400_000)), *smf.hits((0, 36))]))
    assert [(tempo.tick, tempo.us, tempo.track) for tempo in file.tempos] == [(1200, 400_000, 2)]
    assert [(s.upper, s.lower) for s in file.signatures] == [(7, 8)]


@pytest.mark.parametrize(
    ("raw", "name"),
    [
        ("Schlagzeug ä".encode(), "Schlagzeug ä"),
        ("ドラム".encode("shift-jis"), "ドラム"),
        ("Schläge © Käfer".encode("latin-1"), "Schläge © Käfer"),
        ("Drummer’s".encode("cp1252"), "Drummer’s"),
        (b"\x81\x8d", ""),  # no text in any encoding
        (b"two\nlines\0", "two lines"),
        (("x" * 479 + "ä").encode(), "x" * 479),  # the limit falls inside the last character
    ],
)
def test_names_read_in_the_encodings_that_files_use(smf, raw: bytes, name: str) -> None:  # type: ignore[no-untyped-def]
    file = read(smf.file([(0, smf.meta(3, raw)), *smf.hits((0, 36))]))
    assert [text.text for text in file.texts if text.kind == TRACK_NAME] == [name]


def test_banks_and_sysex_tell_which_channels_are_drums(smf) -> None:  # type: ignore[no-untyped-def]
    events = [
        (0, b"\xb0\x00\x78"), (0, b"\xc0\x00"),  # GM2 rhythm bank on channel 1
        (96, b"\xb0\x00\x79"), (96, b"\xc0\x00"),  # and melody again
        (0, smf.sysex(bytes.fromhex("41 7F 42 12 40 11 15 02 18 F7"))),  # GS: part 1 is drums
        (0, smf.sysex(bytes.fromhex("41 7F 42 12 40 10 15 00 1B F7"))),  # GS: part 0, channel 10, is not
        (0, smf.sysex(bytes.fromhex("43 10 4C 08 0A 07 01 F7"))),  # XG: channel 11 is drums
    ]  # fmt: skip
    parts = read(smf.file(events)).parts
    assert sorted((part.tick, part.channel, part.drums) for part in parts) == [
        (0, 1, True), (0, 1, True), (0, 10, False), (0, 11, True), (96, 1, False),
    ]  # fmt: skip


def test_limits_hold_before_anything_is_built(monkeypatch: pytest.MonkeyPatch) -> None:
    with pytest.raises(MidiError, match=f"at most {reader.MAX_BYTES} are read") as caught:
        read(bytes(reader.MAX_BYTES + 1))
    assert caught.value.code == "midi.limit"
    monkeypatch.setattr(track, "MAX_EVENTS", 3)
    with pytest.raises(MidiError, match="more than 3 events"):
        read(one_track(GROOVE + END))
    monkeypatch.setattr(reader, "MAX_TRACKS", 1)
    with pytest.raises(MidiError, match="more than 1 tracks"):
        read(one_track(END) + one_track(END)[14:])


def test_a_time_beyond_all_music_is_refused() -> None:
    with pytest.raises(MidiError, match=f"at most {track.MAX_TICK} are read"):
        read(one_track("FFFFFF7F 99 2464" * 9 + END))


@pytest.mark.parametrize(
    "pattern",
    [
        b"MTrk\0\0\0\1\0\x99\x24\x64",  # every track says one byte and goes on
        b"MTrk\0\0\0\4\0\x99\x24\x64",
        b"MTrk\xff\xff\xff\xff",
        b"\0\xff\1\0",  # empty texts
        b"MTr",
        b"Junk\0\0\0\0",
        b"\x24\x64\0",
    ],
)
def test_no_pattern_of_bytes_takes_long(pattern: bytes) -> None:
    for head in (of(HEADER), one_track("00 99 2464")):
        data = head + pattern * (150_000 // len(pattern))
        begin = time.process_time()
        try:
            read(data)
        except MidiError as error:
            assert 0 <= error.offset <= len(data)  # reading is as good as refusing here
        assert time.process_time() - begin < 2
