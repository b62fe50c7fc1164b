"""What stands in the files that we write, and what comes back of them when another program has had them."""

from __future__ import annotations

import io
from pathlib import Path
from typing import Any

import mido
import pytest

from groundbeat.codec.groove_read import read_groove
from groundbeat.errors import RequestError
from groundbeat.midi.base_beat import BaseBeatError, Import, base_beat
from groundbeat.midi.export import MAX_ROUNDS, midi_file
from groundbeat.midi.laying import Wish
from groundbeat.midi.profiles import keys_of, meanings
from groundbeat.midi.reader import read
from groundbeat.model.beat import Beat, Stroke
from groundbeat.model.beat import base_beat as born
from groundbeat.model.feel import Feel
from groundbeat.model.groove import Groove
from groundbeat.model.kit import SURFACES
from groundbeat.model.meter import Meter
from groundbeat.variation.stack import add, grow, switch

ROOT = Path(__file__).parents[2]
EXAMPLES = sorted((ROOT / "examples").rglob("*.toml"))
Q, SIXTEENTH = 10080, 2520


def groove(*strokes: Stroke, meter: str = "4/4", bars: int = 1, columns: str = "sixteenths", **more: Any) -> Groove:
    return Groove(base=born(Meter.of(meter), bars, columns, strokes), tempo=more.pop("tempo", 12000), **more)


def written(document: Groove, **wish: Any) -> bytes:
    return midi_file(document, grow(document), Wish(**wish)).data


def back(document: Groove, **wish: Any) -> Import:
    return base_beat(read(written(document, **wish)))


def rows(data: bytes) -> list[list[tuple[int, Any]]]:
    """The tracks as mido reads them, with ticks from the start."""
    tracks = []
    for track in mido.MidiFile(file=io.BytesIO(data), charset="utf-8").tracks:
        now = 0
        tracks.append([(now := now + message.time, message) for message in track])
    return tracks


def notes(data: bytes) -> list[tuple[int, int, int]]:
    return [(now, m.note, m.velocity) for now, m in rows(data)[1] if m.type == "note_on"]


def ends(data: bytes) -> list[tuple[int, int]]:
    return [(now, m.note) for now, m in rows(data)[1] if m.type == "note_off"]


def texts(data: bytes) -> list[tuple[int, str]]:
    return [(now, m.text) for now, m in rows(data)[1] if m.type == "text"]


def edited(data: bytes, change: Any) -> bytes:
    """The file after another program: `change` gets every message of the drum track with its tick, and gives those that
    stay."""
    file = mido.MidiFile(file=io.BytesIO(data), charset="utf-8")
    now, kept = 0, []
    for message in file.tracks[1]:
        now += message.time
        kept += change(now, message)
    track, last = mido.MidiTrack(), 0
    for tick, message in sorted(kept, key=lambda row: row[0]):
        track.append(message.copy(time=tick - last))
        last = tick
    file.tracks[1] = track
    file.charset = "utf-8"
    out = io.BytesIO()
    file.save(file=out)
    return out.getvalue()


def strokes(beat: Beat) -> list[tuple[int, str, str, str, str]]:
    return [(s.at, s.surface, s.dynamic, s.grace, s.hand) for s in beat.strokes]


def test_the_bytes_of_a_small_file_are_those_of_the_standard() -> None:
    data = written(groove(Stroke(0, "kick"), meter="2/4", columns="eighths", title="Ä"), ticks=480)
    head = "4d546864 00000006 0001 0002 01e0"
    first = (
        "4d54726b 00000031"
        " 00 ff0302 c384"  # the title in UTF-8
        " 00 ff5103 07a120"  # 500,000 microseconds a quarter note
        " 00 ff5804 02 02 18 08"  # 2/4, 24 clocks a click
        " 00 ff0613" + b"Stage 0: Base beat.".hex() + " 8740 ff2f00"  # 960 ticks
    )
    assert data.startswith(bytes.fromhex(head + first))
    # The note: on at 84, off a 32nd (60 ticks) later, each with its status byte; End of Track where the bar ends.
    assert data.endswith(bytes.fromhex("00 99 24 54 3c 89 24 40 8704 ff2f00"))


def test_keys_and_velocities_are_those_of_the_table() -> None:
    beat = [Stroke(n * SIXTEENTH, "snare", d) for n, d in enumerate(("ghost", "soft", "normal", "accent"))]
    beat += [
        Stroke(4 * SIXTEENTH, "rimshot"),
        Stroke(5 * SIXTEENTH, "floor tom"),
        Stroke(6 * SIXTEENTH, "high tom rim"),
    ]
    for profile, keys in (("gm", [38, 38, 38, 38, 40, 43, 50]), ("kit", [38, 38, 38, 38, 40, 41, 50])):
        found = notes(written(groove(*beat), profile=profile))
        assert [key for _, key, _ in found] == keys
        assert [velocity for _, _, velocity in found] == [32, 56, 84, 112, 84, 84, 84]


@pytest.mark.parametrize("profile", ["gm", "kit"])
@pytest.mark.parametrize("rimshot", [40, 38])
def test_every_surface_comes_back_as_itself(profile: str, rimshot: int) -> None:
    document = groove(*(Stroke(n * SIXTEENTH, s.name) for n, s in enumerate(SURFACES)), bars=2)
    assert back(document, profile=profile, rimshot=rimshot).beat == document.base


def test_what_shares_a_key_is_named_and_nothing_else_is() -> None:
    document = groove(Stroke(0, "open hi-hat"), Stroke(Q, "half-open hi-hat"), Stroke(2 * Q, "rimshot"))
    assert texts(written(document))[1:] == [(Q, "groundbeat 46: half-open hi-hat")]
    assert texts(written(document, rimshot=38))[1:] == [
        (Q, "groundbeat 46: half-open hi-hat"), (2 * Q, "groundbeat 38: rimshot"),
    ]  # fmt: skip


def test_the_pedal_tells_an_electronic_kit_how_far_the_hi_hat_is_open() -> None:
    names = ("hi-hat", "hi-hat", "half-open hi-hat", "open hi-hat")
    document = groove(*(Stroke(n * Q, name) for n, name in enumerate(names)))
    moves = [
        (now, m.control, m.value) for now, m in rows(written(document, profile="kit"))[1] if m.type == "control_change"
    ]
    assert moves == [(0, 4, 90), (2 * Q, 4, 62), (3 * Q, 4, 33)]
    assert not [m for _, m in rows(written(document))[1] if m.type == "control_change"]


def test_two_strokes_on_one_key_at_once_are_one_note_and_come_back_as_two() -> None:
    document = groove(Stroke(Q, "china", "soft"), Stroke(Q, "stack cymbal", "accent", "choke", "L"))
    data = written(document)
    assert notes(data) == [(Q, 52, 112)]
    assert texts(data)[1:] == [
        (Q, "groundbeat 52: china, soft"), (Q, "groundbeat 52: stack cymbal, choke, left hand"),
    ]  # fmt: skip
    assert back(document).beat == document.base
    assert "A stroke shares the key of another" in " ".join(midi_file(document, grow(document)).says)


def test_a_flam_is_a_quiet_note_before_and_comes_back_as_a_flam() -> None:
    data = written(groove(Stroke(Q, "snare", "accent", "flam", "R")))
    assert notes(data) == [(Q - 605, 38, 56), (Q, 38, 112)]  # 30 ms of 500 are 604.8 ticks
    assert texts(data)[1:] == [(Q - 605, "groundbeat 38: grace"), (Q, "groundbeat 38: flam, right hand")]
    assert strokes(base_beat(read(data)).beat) == [(Q, "snare", "accent", "flam", "R")]


@pytest.mark.parametrize(("grace", "count"), [("drag", 3), ("ruff", 4), ("buzz", 11), ("diddle", 2), ("choke", 1)])
def test_every_grace_is_heard_and_comes_back(grace: str, count: int) -> None:
    document = groove(Stroke(2 * Q, "snare", "normal", grace))
    assert len(notes(written(document))) == count
    assert back(document).beat == document.base


def test_graces_come_closer_at_a_quick_tempo_than_the_stroke_before() -> None:
    document = groove(*(Stroke(k * SIXTEENTH, "snare", "normal", "ruff") for k in range(3, 16)), tempo=30000)
    found = notes(written(document))
    assert [now for now, _, velocity in found if velocity == 84] == [k * SIXTEENTH for k in range(3, 16)]
    assert all(now == k * SIXTEENTH for k in range(3, 16) for now, _, _ in found[(k - 3) * 4 + 3 : (k - 2) * 4])
    assert back(document).beat == document.base


def test_a_choked_cymbal_ends_where_it_is_stopped() -> None:
    assert ends(written(groove(Stroke(0, "crash", "accent", "choke")))) == [(3024, 49)]  # 150 ms of 500


def test_a_note_is_a_32nd_long_or_until_its_key_sounds_again_or_to_the_end() -> None:
    document = groove(Stroke(0, "snare"), Stroke(300, "snare"), Stroke(4 * Q - 1, "kick"))
    assert ends(written(document)) == [(300, 38), (300 + Q // 8, 38), (4 * Q, 36)]


def test_what_sounds_before_the_beginning_gets_a_bar_of_rest() -> None:
    made = midi_file(document := groove(Stroke(0, "snare", "normal", "flam")), grow(document))
    assert notes(made.data)[-1] == (4 * Q, 38, 84)
    assert any("a rest stands first" in line for line in made.says)
    found = base_beat(read(made.data))
    assert found.beat == document.base
    assert found.says[0] == "Read bar 2 of 2."


def test_what_sounds_after_the_end_gets_a_bar_more() -> None:
    late = groove(Stroke(4 * Q - 1260, "snare"), feel=Feel(pushes=(("snare", 100),)))
    made = midi_file(late, grow(late))
    assert rows(made.data)[1][-1][0] == 8 * Q
    assert any("a bar more" in line for line in made.says)
    assert base_beat(read(made.data)).beat == late.base


def test_swing_and_pushes_are_in_the_ticks_or_only_named() -> None:
    feel = Feel("eighths", 2, 1, (("snare", 10),))
    document = groove(Stroke(0, "hi-hat"), Stroke(5040, "hi-hat"), Stroke(Q, "snare"), feel=feel)
    assert [tick for tick, _, _ in notes(written(document))] == [0, 6720, Q + 202]  # 10 ms of 500 are 201.6 ticks
    assert [tick for tick, _, _ in notes(written(document, straight=True))] == [0, 5040, Q]
    for straight in (False, True):
        found = back(document, straight=straight)
        assert (found.beat, found.feel) == (document.base, feel)


def test_with_480_ticks_the_loss_is_told_and_the_places_come_back() -> None:
    document = groove(Stroke(0, "kick"), Stroke(Q // 7, "kick"))
    made = midi_file(document, grow(document), Wish(ticks=480))
    assert made.says[0] == (
        "With 480 ticks a quarter note 1 notes stand beside their place, at most 0.43 ticks (0.45 ms)."
    )
    assert base_beat(read(made.data)).beat == document.base
    assert texts(made.data)[1:] == [(69, "groundbeat 36: at 1/28")]  # a seventh of 480 is 68.57


@pytest.mark.parametrize("tempo", [2000, 9250, 9999, 12345, 39999, 40000])
@pytest.mark.parametrize("meter", ["4/4", "2/2", "6/8", "7/8", "5/16"])
def test_the_tempo_comes_back_to_the_hundredth(tempo: int, meter: str) -> None:
    assert back(groove(Stroke(0, "kick"), meter=meter, tempo=tempo)).tempo == tempo


def test_markers_tell_each_stage_and_stages_that_are_off_are_left_out() -> None:
    document = groove(Stroke(0, "kick"), Stroke(Q, "snare"))
    document = add(add(document, "half-time", {}), "displace", {"surface": "kick", "by": "1/8 later"})
    document = switch(add(document, "half-time", {}), 3, False)
    stages = grow(document)
    data = midi_file(document, stages, Wish(through=True, rounds=2)).data
    found = [(now, m.text) for now, m in rows(data)[0] if m.type == "marker"]
    assert [(now, text.partition(":")[0]) for now, text in found] == [
        (0, "Stage 0"),
        (8 * Q, "Stage 1"),
        (16 * Q, "Stage 2"),
    ]
    assert found[2][1] == "Stage 2: Move every stroke of the kick an eighth later."


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_stage_of_every_example_comes_back_and_is_as_mido_reads_it(path: Path) -> None:
    document = read_groove(path.read_text(encoding="utf-8"))
    stages = grow(document)
    for wish in (Wish(through=True), Wish(through=True, profile="kit", ticks=480, rimshot=38)):
        data = midi_file(document, stages, wish).data
        file = read(data)
        assert [(n.tick, n.key, n.velocity) for n in file.notes] == notes(data)
        bar = 1 + next(text.tick for text in file.texts if text.kind == 6) // (
            file.division * stages[0].beat.meter.bar // Q
        )
        for stage in (s for s in stages if s.variation is None or s.variation.on):
            found = base_beat(file, (bar, bar + stage.beat.bars - 1))
            assert strokes(found.beat) == strokes(stage.beat)
            assert (found.beat.meter, found.beat.columns, found.feel) == (
                stage.beat.meter,
                stage.beat.columns,
                stage.feel,
            )
            bar += stage.beat.bars
        assert base_beat(file).title == document.title


# What another program does to a file.


def backbeat() -> Groove:
    return groove(
        Stroke(0, "kick"), Stroke(Q, "rimshot", "accent", "", "L"), Stroke(2 * Q, "kick"), Stroke(3 * Q, "rimshot")
    )


def test_a_note_that_is_moved_takes_its_column_and_loses_its_name() -> None:
    def later(now: int, message: Any) -> list[tuple[int, Any]]:
        moved = message.type in ("note_on", "note_off") and message.note == 40 and now < 2 * Q
        return [(now + SIXTEENTH + 200, message) if moved else (now, message)]

    found = base_beat(read(edited(written(backbeat()), later)))
    assert (Q + SIXTEENTH, "rimshot", "accent", "", "") in strokes(found.beat)
    assert "1 note that the file names is no longer where it was written." in found.says
    assert any(line.startswith("Strokes were moved") and "10 ms at most" in line for line in found.says)


def test_a_note_that_is_taken_out_does_not_come_back_by_its_name() -> None:
    found = base_beat(
        read(
            edited(
                written(backbeat()), lambda now, m: [] if getattr(m, "note", 0) == 40 and now < 2 * Q else [(now, m)]
            )
        )
    )
    assert [row[:2] for row in strokes(found.beat)] == [(0, "kick"), (2 * Q, "kick"), (3 * Q, "rimshot")]


def test_notes_that_are_added_are_read_by_their_keys() -> None:
    more = [(Q // 2, mido.Message("note_on", channel=9, note=key, velocity=60)) for key in (42, 22, 54)]
    data = edited(written(backbeat()), lambda now, m: [(now, m), *(more if m.type == "program_change" else [])])
    found = base_beat(read(data))
    assert (5040, "hi-hat", "soft", "", "") in strokes(found.beat)
    assert "Left out of the file, because the kit does not have them: 1 on tambourine (key 54)." in found.says


def test_everything_moved_by_bars_is_the_same_beat() -> None:
    data = edited(written(backbeat()), lambda now, m: [(now + 8 * Q, m)])
    found = base_beat(read(data))
    assert found.beat == backbeat().base
    assert found.says[0] == "Read bar 3 of 3."


def test_without_its_texts_a_file_is_read_as_any_other() -> None:
    data = edited(written(backbeat()), lambda now, m: [] if m.type == "text" else [(now, m)])
    found = base_beat(read(data))
    assert {row[1] for row in strokes(found.beat)} == {"kick", "snare"}
    assert not found.own


def test_a_file_of_a_newer_version_is_read_as_any_other_and_says_so() -> None:
    data = written(backbeat()).replace(b"groundbeat 1;", b"groundbeat 9;")
    found = base_beat(read(data))
    assert not found.own
    assert any("newer Groundbeat" in line for line in found.says)


@pytest.mark.parametrize(
    "text", [b"groundbeat 1;", b"groundbeat 1; bars=\xff; columns=; grouping=9+; swing=eighths 0:0; rounds=-1; stage"]
)
def test_a_damaged_text_does_no_harm(text: bytes) -> None:
    data = written(backbeat())
    start = data.index(b"groundbeat 1;")
    length = data[start - 1]
    damaged = data[:start] + text[:length].ljust(length) + data[start + length :]
    assert strokes(base_beat(read(damaged)).beat) == strokes(backbeat().base)


@pytest.mark.parametrize(
    ("bars", "columns", "told"),
    [
        ((3, 3), None, "asked for bar 3, but the beat is in bars 1-2 of the file; try 2-2"),
        ((2, 1), None, "a beat has 1 to 16 bars"),
        (None, "sixteenth triplets", ""),
    ],
)
def test_bars_that_are_not_there_are_refused_with_those_that_are(bars: Any, columns: Any, told: str) -> None:
    file = read(written(backbeat(), rounds=2))
    if not told:
        assert base_beat(file, bars, columns).beat.columns == columns
        return
    with pytest.raises(BaseBeatError, match=told):
        base_beat(file, bars, columns)


@pytest.mark.parametrize(
    ("wish", "told"),
    [
        ({"stage": 5}, "there are stages 0 to 0, not 5"),
        ({"ticks": 96}, "10080 ticks a quarter note, which is exact, or 480; not 96"),
        ({"rounds": 0}, f"1 to {MAX_ROUNDS} times, not 0"),
        ({"tempo": 1}, "a tempo is 20 to 400"),
        ({"profile": "gn"}, 'there is no profile "gn"; known are gm, kit'),
        ({"rimshot": 39}, "a rimshot is written on key 40 or 38, not 39"),
    ],
)
def test_a_wish_that_cannot_be_had_is_refused(wish: dict[str, Any], told: str) -> None:
    document = backbeat()
    with pytest.raises(RequestError, match=told):
        midi_file(document, grow(document), Wish(**wish))


def test_a_file_that_would_grow_too_long_is_refused() -> None:
    dense = [Stroke(n * 1260, name) for n in range(64) for name in ("snare", "ride", "floor tom", "crash")]
    document = groove(*dense, bars=2, columns="thirty-seconds")
    with pytest.raises(RequestError, match="would hold 16384 strokes, at most 8000 are written"):
        written(document, rounds=64)


def test_the_document_has_the_keys_that_are_written() -> None:
    text = (ROOT / "engine/groundbeat/midi/MIDI.md").read_text(encoding="utf-8")
    table = text[text.index("## Keys") : text.index("## The texts")]
    cells = [
        cell.strip() for line in table.splitlines() if line.startswith("| ") for cell in line.strip("|").split("|")
    ]
    told = {}
    for names, *keys in zip(cells[::3], cells[1::3], cells[2::3], strict=True):
        for n, name in enumerate(names.split(", ")):
            told[name] = [key.split(", ")[n] if ", " in key else key for key in keys]
    told.pop("surface")
    assert told.pop("rimshot") == ["40 (`--rimshot 38`)", "the same"]
    keys = [keys_of(profile) for profile in ("gm", "kit")]
    shared = [set(table) - set(meanings(table).values()) for table in keys]
    assert told == {
        s.name: [f"{k[s.name]}{' *' * (s.name in other)}" for k, other in zip(keys, shared, strict=True)]
        for s in SURFACES
        if s.name != "rimshot"
    }
