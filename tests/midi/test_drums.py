"""Which notes are drums, on what, and how loud."""

from __future__ import annotations

from collections import Counter
from typing import Any

import pytest

from groundbeat.codec.drum_keys import surfaces
from groundbeat.errors import MidiError
from groundbeat.midi.drums import find_drums
from groundbeat.midi.reader import read
from groundbeat.model.kit import BY_NAME


def drums_of(smf: Any, *tracks: Any, **more: Any) -> Any:
    return find_drums(read(smf.file(*tracks, **more)))


def named(found: Any) -> list[str]:
    return [hit.surface for hit in found.hits]


def test_channel_10_is_read_and_nothing_told(smf: Any) -> None:
    found = drums_of(smf, [*smf.hits((0, 36)), *smf.hits((0, 38), (9, 36), channel=1)])
    assert (named(found), found.channel, found.says) == (["kick"], 10, ())


def test_a_declared_channel_comes_before_one_that_looks_like_drums(smf: Any) -> None:
    bank = [(0, b"\xba\x00\x78"), (0, b"\xca\x00")]  # channel 11, GM2 rhythm bank
    found = drums_of(smf, [*bank, *smf.hits((0, 36), (9, 42), channel=11), *smf.hits((0, 38), channel=2)])
    assert found.channel == 11
    assert found.says == ("Channel 11 was read as drums: the file declares it so (GM2 rhythm bank).",)


def test_only_what_comes_after_the_declaration_is_drums(smf: Any) -> None:
    bank = [(480, b"\xb0\x00\x78"), (480, b"\xc0\x00"), (960, b"\xb0\x00\x79"), (960, b"\xc0\x00")]
    found = drums_of(smf, [*bank, *smf.hits((0, 38), (480, 36), (961, 42), channel=1)])
    assert [(hit.tick, hit.surface) for hit in found.hits] == [(480, "kick")]


def test_channel_10_that_is_declared_a_melody_is_not_read(smf: Any) -> None:
    part = [(0, smf.sysex(bytes.fromhex("41 7F 42 12 40 10 15 00 1B F7")))]
    found = drums_of(smf, [*part, *smf.hits((0, 36), channel=10), *smf.hits((0, 38), channel=3)])
    assert found.channel == 3


def test_a_silent_channel_10_gives_way_to_the_channel_with_drum_keys_and_short_notes(smf: Any) -> None:
    bass = smf.hits((0, 36), (480, 38), channel=2, length=400)
    kit = smf.hits((0, 36), (480, 38), channel=5, length=10)
    piano = smf.hits((0, 60), (480, 64), channel=1, length=10)
    found = drums_of(smf, bass, kit, piano)
    assert found.channel == 5
    assert found.says == ("Channel 5 was read as drums: channel 10 is silent, and its keys are a drum kit's.",)


def test_a_track_named_drums_wins(smf: Any) -> None:
    kit = [(0, smf.meta(3, b"My Drums")), *smf.hits((0, 36), channel=7, length=400)]
    found = drums_of(smf, smf.hits((0, 36), channel=2), kit)
    assert found.channel == 7
    assert "its track is named so" in found.says[0]


def test_a_piece_without_drums_is_refused_with_its_channels(smf: Any) -> None:
    with pytest.raises(MidiError, match="no strokes on channel 10, and the notes on channels 1 and 2 are not"):
        drums_of(smf, [*smf.hits((0, 72), channel=1), *smf.hits((0, 100), channel=2)])
    with pytest.raises(MidiError, match="none of the 1 notes on channel 10 is on a key of a drum kit"):
        drums_of(smf, smf.hits((0, 60)))
    with pytest.raises(MidiError, match="found no notes"):
        drums_of(smf, [])


def test_tracks_of_format_2_do_not_sound_together(smf: Any) -> None:
    first, second = smf.hits((0, 60), channel=1), smf.hits((0, 36), (9, 42))
    found = drums_of(smf, first, second, smf.hits((0, 38)), format_=2)
    assert (named(found), found.track) == (["kick", "hi-hat"], 2)
    assert found.says == ("The 3 tracks of a format 2 file do not sound together: track 2 was read.",)


def test_general_midi_keys_find_their_surfaces() -> None:
    found = surfaces(set(range(128)) - {22, 26})
    assert set(found.values()) <= BY_NAME.keys()
    expected = {
        35: "second kick", 36: "kick", 37: "cross-stick", 38: "snare", 40: "snare", 42: "hi-hat", 44: "hi-hat foot",
        46: "open hi-hat", 49: "crash", 57: "second crash", 51: "ride", 59: "ride edge", 53: "ride bell",
        52: "china", 55: "splash", 56: "cowbell", 76: "wood block", 77: "wood block",
        50: "high tom", 48: "high tom", 47: "mid tom", 45: "mid tom", 43: "low tom", 41: "floor tom",
    }  # fmt: skip
    assert found == expected


def test_electronic_kit_keys_find_their_zones() -> None:
    keys = {36, 38, 40, 37, 48, 50, 45, 47, 43, 58, 46, 26, 42, 22, 44, 49, 55, 57, 52, 51, 59, 53}
    assert surfaces(keys) == {
        36: "kick", 38: "snare", 40: "rimshot", 37: "cross-stick", 48: "high tom", 50: "high tom rim",
        45: "mid tom", 47: "mid tom rim", 43: "floor tom", 58: "floor tom rim", 46: "open hi-hat",
        26: "open hi-hat", 42: "hi-hat", 22: "hi-hat", 44: "hi-hat foot", 49: "crash", 55: "crash",
        57: "second crash", 52: "second crash", 51: "ride", 59: "ride edge", 53: "ride bell",
    }  # fmt: skip


@pytest.mark.parametrize(
    ("keys", "pedal", "surface"),
    [
        ({38, 40}, False, "snare"),
        ({38, 40}, True, "rimshot"),
        ({38, 40, 22}, False, "rimshot"),
        ({38, 40, 26}, False, "rimshot"),
        ({38, 40, 58}, False, "rimshot"),
        ({38, 40, 58, 64}, False, "snare"),  # a conga beside it: 58 is the vibraslap
    ],
)
def test_key_40_is_a_rimshot_only_on_an_electronic_kit(keys: set[int], pedal: bool, surface: str) -> None:
    assert surfaces(keys, pedal)[40] == surface


@pytest.mark.parametrize(
    ("keys", "names"),
    [
        ({50}, "high"), ({48}, "high"), ({47}, "mid"), ({45}, "mid"), ({43}, "floor"), ({41}, "floor"),
        ({50, 45}, "high mid"), ({48, 43}, "high floor"), ({43, 41}, "low floor"),
        ({50, 47, 43}, "high mid floor"), ({48, 47, 45}, "high mid low"), ({47, 43, 41}, "mid low floor"),
        ({50, 47, 45, 43}, "high mid low floor"), ({50, 48, 47, 45}, "high mid low floor"),
        ({50, 48, 45, 43, 41}, "high high mid low floor"),
        ({50, 48, 47, 45, 43, 41}, "high high mid mid low floor"),
    ],
)  # fmt: skip
def test_toms_go_by_the_rank_of_the_keys_in_use(keys: set[int], names: str) -> None:
    found = surfaces(keys)
    assert [found[key].removesuffix(" tom") for key in sorted(keys, reverse=True)] == names.split()


def test_toms_of_an_electronic_kit_rank_without_their_rims() -> None:
    found = surfaces({48, 45, 43, 41, 50}, pedal=True)
    assert [found[key] for key in (48, 45, 43, 41)] == ["high tom", "mid tom", "low tom", "floor tom"]
    assert found[50] == "high tom rim"


def test_a_second_kick_needs_both_keys() -> None:
    assert surfaces({35}) == {35: "kick"}
    assert surfaces({36}) == {36: "kick"}
    assert surfaces({35, 36}) == {35: "second kick", 36: "kick"}


def test_every_key_once_reads_and_tells_what_the_kit_has_not(smf: Any) -> None:
    found = drums_of(smf, smf.hits(*((key * 120, key) for key in range(128))))
    assert len(found.hits) == 28
    assert found.says[0].startswith("Left out of the file, because the kit does not have them: 1 on key 0, 1 on key 1")
    assert found.says[0].endswith(" and 95 more keys.")


def test_strokes_left_out_are_named(smf: Any) -> None:
    found = drums_of(smf, smf.hits((0, 36), (10, 39), (20, 39), (30, 54)))
    assert found.says == (
        "Left out of the file, because the kit does not have them: 2 on hand clap (key 39), 1 on tambourine (key 54).",
    )


def dynamics(smf: Any, key: int, velocities: list[int]) -> list[str]:
    found = drums_of(smf, smf.hits(*((n * 60, key, velocity) for n, velocity in enumerate(velocities))))
    return [hit.dynamic for hit in found.hits]


def test_equal_velocities_are_all_normal(smf: Any) -> None:
    for velocity in (1, 64, 110, 127):
        assert set(dynamics(smf, 38, [velocity] * 8)) == {"normal"}


def test_a_snare_part_shows_its_four_levels(smf: Any) -> None:
    row = [84, 112, 32, 56, 84, 112, 32, 84, 84, 56]
    words = ["normal", "accent", "ghost", "soft", "normal", "accent", "ghost", "normal", "normal", "soft"]
    # With accents a tenth of the strokes reach 112; 84 is three quarters of it and stays normal.
    assert dynamics(smf, 38, row) == words


def test_a_quiet_kick_is_soft_and_never_a_ghost(smf: Any) -> None:
    assert dynamics(smf, 36, [100, 20, 100, 30]) == ["normal", "soft", "normal", "soft"]
    assert dynamics(smf, 44, [100, 20, 100, 30]) == ["normal", "soft", "normal", "soft"]


def test_loud_throughout_is_normal_not_all_accents(smf: Any) -> None:
    assert set(dynamics(smf, 38, [105, 110, 118, 127] * 3)) == {"normal"}
    assert set(dynamics(smf, 42, [100, 110] * 6)) == {"normal"}


def test_surfaces_are_judged_apart(smf: Any) -> None:
    rows = [(n * 60, 42, 40) for n in range(8)] + [(n * 60, 38, 120 if n % 2 else 40) for n in range(8)]
    found = drums_of(smf, smf.hits(*rows))
    counts = Counter((hit.surface, hit.dynamic) for hit in found.hits)
    assert counts == {("hi-hat", "normal"): 8, ("snare", "ghost"): 4, ("snare", "accent"): 4}


@pytest.mark.parametrize(("closed", "half", "open_"), [(90, 55, 0), (0, 40, 90), (127, 100, 20)])
def test_the_pedal_tells_half_open_whichever_way_it_counts(smf: Any, closed: int, half: int, open_: int) -> None:
    pedal = [(tick, bytes([0xB9, 4, value])) for tick, value in ((0, closed), (100, half), (200, open_), (300, closed))]
    found = drums_of(smf, [*pedal, *smf.hits((10, 42), (110, 46), (210, 46), (310, 46), (320, 22))])
    assert named(found) == ["hi-hat", "half-open hi-hat", "open hi-hat", "open hi-hat", "hi-hat"]


def test_a_pedal_that_hardly_moves_tells_nothing(smf: Any) -> None:
    pedal = [(0, b"\xb9\x04\x5a"), (100, b"\xb9\x04\x50")]
    assert named(drums_of(smf, [*pedal, *smf.hits((10, 42), (110, 46))])) == ["hi-hat", "open hi-hat"]
