"""The kit on disk is complete, small, and every stroke lies on the frame that the list says."""

from __future__ import annotations

import hashlib
import json

import numpy as np
import pytest

from groundbeat.model.kit import BY_NAME, DYNAMICS
from groundbeat.sound import encode, kit, render

RATE = 44100
LIMIT = 1_500_000  # bytes of the whole Ogg kit
FORMS = ("ogg", "mp3")


@pytest.fixture(scope="module")
def manifest(built):
    return json.loads((built[0] / "kit.json").read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def decoded(built, manifest):
    return {
        (part, form): encode.decode((built[0] / names[form]).read_bytes())
        for part, names in manifest["parts"].items()
        for form in FORMS
    }


def pieces(manifest):
    return [*manifest["voices"], *manifest["clicks"].values()]


def test_the_list_is_complete(manifest):
    assert (manifest["kit"], manifest["rate"]) == ("dry", RATE)
    assert set(manifest["parts"]) == {"kick", "snare", "toms", "hi-hat", "ride", "crashes", "extras", "click"}
    seen: dict[tuple[str, str], list[int]] = {}
    for row in manifest["voices"]:
        assert set(row) == {"surface", "dynamic", "alternate", "part", "start", "frames"}
        seen.setdefault((row["surface"], row["dynamic"]), []).append(row["alternate"])
    assert set(seen) == {(surface, dynamic) for surface in BY_NAME for dynamic in DYNAMICS}
    for (surface, _), numbers in seen.items():
        assert numbers == list(range(render.VOICES[surface].alternates))
    assert set(manifest["clicks"]) == {"strong", "weak"}


def test_pans_and_chokes_are_the_models(manifest):
    assert set(manifest["surfaces"]) == set(BY_NAME)
    for name, row in manifest["surfaces"].items():
        assert row["chokes"] == BY_NAME[name].choke
        assert -1 <= row["pan"] <= 1
        if BY_NAME[name].family in ("kick", "snare"):
            assert row["pan"] == 0
        else:
            assert row["pan"] * BY_NAME[name].seat[0] >= 0, "on the drummer's own side"


def test_files_are_named_by_their_bytes_and_sizes_are_told_and_small(built, manifest):
    out, report = built
    sizes = {"ogg": 0, "mp3": 0}
    for part, names in manifest["parts"].items():
        for form in FORMS:
            data = (out / names[form]).read_bytes()
            assert names[form] == f"{part}.{hashlib.sha256(data).hexdigest()[:10]}.{form}"
            assert report["parts"][part][form] == len(data)
            sizes[form] += len(data)
    assert {form: report[form] for form in FORMS} == sizes
    assert max(sizes.values()) < LIMIT
    assert report["voices"] == len(manifest["voices"])
    assert 0.2 < report["peak"] < 0.5
    listed = {name for names in manifest["parts"].values() for name in names.values()} | {"kit.json"}
    assert {path.name for path in out.iterdir()} == listed


def test_pieces_stand_apart_by_silence_and_inside_the_file(manifest, decoded):
    for form in FORMS:
        for part in manifest["parts"]:
            rows = sorted((p["start"], p["frames"]) for p in pieces(manifest) if p["part"] == part)
            end = 0
            for start, frames in rows:
                assert start - end >= 0.03 * RATE
                end = start + frames
            assert len(decoded[part, form]) == end + kit.GUARD


@pytest.mark.parametrize("form", FORMS)
def test_every_decoded_stroke_lies_on_its_frame(form, manifest, decoded, voice):
    window, reach = 6000, 200
    for row in manifest["voices"]:
        wanted = voice(row["surface"], row["dynamic"], row["alternate"])
        assert row["frames"] == len(wanted)
        # the difference of neighbours: a kick's slow swing alone would match a frame beside as well
        wanted = np.diff(wanted[:window].astype(np.float64), prepend=0.0)
        got = np.diff(decoded[row["part"], form][row["start"] - reach - 1 : row["start"] + len(wanted) + reach])
        size = 1 << 14
        match = np.fft.irfft(np.fft.rfft(got, size) * np.conj(np.fft.rfft(wanted, size)), size)[: 2 * reach + 1]
        assert match.argmax() == reach, row


@pytest.mark.parametrize("form", FORMS)
def test_decoded_strokes_start_at_once_and_stay_below_full_scale(form, manifest, decoded):
    for row in pieces(manifest):
        samples = decoded[row["part"], form]
        piece = samples[row["start"] : row["start"] + row["frames"]]
        peak = np.abs(piece).max()
        assert peak < 0.5
        assert np.flatnonzero(np.abs(piece) > 0.1 * peak)[0] < 0.002 * RATE
        before = samples[row["start"] - kit.GUARD // 2 : row["start"] - 8]
        assert np.abs(before).max() < 0.1 * peak, "what the coding smears ahead of a stroke is far under it"


@pytest.mark.parametrize("form", FORMS)
def test_coding_leaves_quiet_strokes_their_brightness(form, manifest, decoded, voice, ear):
    for row in manifest["voices"]:
        if row["surface"] in ("snare", "hi-hat", "ride", "crash") and row["dynamic"] == "ghost":
            piece = decoded[row["part"], form][row["start"] : row["start"] + row["frames"]]
            wanted = voice(row["surface"], "ghost", row["alternate"])
            high, whole = (
                ear.band(x, 5000, 15000).std() / ear.band(wanted, 5000, 15000).std()
                if k == 0
                else x.std() / wanted.std()
                for k, x in enumerate((piece, piece))
            )
            assert 0.84 < high < 1.19 and 0.9 < whole < 1.1, row


def test_ogg_pages_have_one_serial_number_and_right_check_sums():
    data = encode.ogg(render.voice("snare", "soft", 0), RATE)
    assert data == encode.ogg(render.voice("snare", "soft", 0), RATE)
    at = pages = 0
    while at < len(data):
        assert data[at : at + 4] == b"OggS"
        assert int.from_bytes(data[at + 14 : at + 18], "little") == encode.SERIAL
        segments = data[at + 26]
        size = 27 + segments + sum(data[at + 27 : at + 27 + segments])
        page = bytearray(data[at : at + size])
        told = int.from_bytes(page[22:26], "little")
        page[22:26] = bytes(4)
        assert told == plain_check_sum(bytes(page))
        at, pages = at + size, pages + 1
    assert pages >= 3


def plain_check_sum(page: bytes) -> int:
    """RFC 3533 bit by bit, slow and plain."""
    register = 0
    for byte in page:
        register ^= byte << 24
        for _ in range(8):
            register = (register << 1) ^ (0x04C11DB7 if register & 0x80000000 else 0)
            register &= 0xFFFFFFFF
    return register
