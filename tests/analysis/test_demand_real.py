"""The parts of the demand rank beats that people played as a drummer would: fast jazz above slow rock in speed."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

import pytest

from groundbeat.analysis.demand import Part
from groundbeat.midi.base_beat import base_beat
from groundbeat.midi.reader import read
from tests.bench.demand_real import FOLDER, asked, last_bar, typical

# The bar of each performance that is most like the others, as the bench finds it.
BARS = {
    "drummer1__103_funk_95_fill_4-4": 1,
    "drummer1__10_jazz-funk_116_fill_4-4": 1,
    "drummer1__10_soul-groove10_102_beat_4-4": 4,
    "drummer1__111_rock-prog_110_beat_5-4": 14,
    "drummer1__112_afrocuban-bembe_122_beat_4-4": 29,
    "drummer1__126_funk-fast_125_beat_4-4": 24,
    "drummer1__12_latin-bomba_96_beat_4-4": 18,
    "drummer1__142_gospel_120_beat_4-4": 24,
    "drummer1__184_reggae_78_beat_4-4": 3,
    "drummer1__1_funk-groove1_138_beat_4-4": 7,
    "drummer1__1_latin-chacarera_157_beat_3-4": 18,
    "drummer1__2_funk-groove2_105_beat_4-4": 7,
    "drummer1__35_punk_128_beat_4-4": 31,
    "drummer1__3_soul-groove3_86_beat_4-4": 10,
    "drummer1__4_jazz_120_beat_3-4": 6,
    "drummer1__4_soul-groove4_80_beat_4-4": 3,
    "drummer1__5_funk-groove5_84_beat_4-4": 7,
    "drummer1__5_jazz_200_beat_3-4": 18,
    "drummer1__6_hiphop-groove6_87_beat_4-4": 1,
    "drummer1__6_rock_102_beat_3-4": 66,
    "drummer1__78_jazz-fast_290_beat_4-4": 43,
    "drummer1__7_dance-disco_120_beat_4-4": 14,
    "drummer1__7_pop-groove7_138_beat_4-4": 12,
    "drummer1__81_dance-breakbeat_170_beat_4-4": 1,
    "drummer1__8_rock-groove8_65_beat_4-4": 1,
    "drummer1__9_soul-groove9_105_beat_4-4": 2,
    "drummer4__2_jazz_158_beat_4-4": 28,
    "drummer4__8_blues-shuffle_112_beat_4-4": 3,
    "drummer5__16_latin-ando_125_beat_3-4": 82,
    "drummer5__18_afrocuban_128_beat_4-4": 113,
    "drummer5__19_middleeastern_126_beat_4-4": 48,
    "drummer5__7_pop-groove7_138_beat_4-4": 14,
    "drummer5__8_latin-venezuelan-merengue_162_beat_5-8": 85,
    "drummer5__8_neworleans-chacha_124_beat_4-4": 56,
    "drummer6__1_rock_70_beat_6-8": 10,
    "drummer6__2_rock_70_beat_6-8": 18,
    "drummer6__3_rock_80_beat_6-8": 6,
    "drummer6__4_rock_80_beat_6-8": 8,
    "drummer6__5_rock_60_beat_6-8": 11,
    "drummer7__12_funk_102_beat_4-4": 4,
    "drummer7__38_hiphop_67_beat_4-4": 4,
    "drummer7__6_hiphop-groove6_87_beat_4-4": 5,
    "drummer7__80_country_78_beat_4-4": 26,
    "drummer7__91_neworleans-funk_93_beat_4-4": 2,
    "drummer7__96_pop_142_beat_4-4": 24,
    "drummer8__13_latin_118_beat_4-4": 1,
    "drummer8__18_afrobeat_85_beat_4-4": 7,
    "drummer8__42_highlife_126_beat_4-4": 1,
}

JAZZ = "drummer1__78_jazz-fast_290_beat_4-4"
PROG = "drummer1__111_rock-prog_110_beat_5-4"
SLOW_ROCK = "drummer1__8_rock-groove8_65_beat_4-4"
REGGAE, COUNTRY = "drummer1__184_reggae_78_beat_4-4", "drummer7__80_country_78_beat_4-4"
FAST_FUNK, SLOW_SOUL = "drummer1__126_funk-fast_125_beat_4-4", "drummer1__4_soul-groove4_80_beat_4-4"
HIGHLIFE = "drummer8__42_highlife_126_beat_4-4"
POP = "drummer1__7_pop-groove7_138_beat_4-4"


@lru_cache(maxsize=64)
def parts(path: Path) -> dict[str, Part]:
    bar = BARS[path.stem]
    _, found = asked(base_beat(read(path.read_bytes()), (bar, bar)))
    return {part.name: part for part in found}


@pytest.fixture(scope="module")
def real(real_inputs: Path) -> dict[str, dict[str, Part]]:
    return {path.stem: parts(path) for path in sorted((real_inputs / "drum_midi").glob("*.mid"))}


def test_all_48_have_all_parts_with_words(real):
    assert len(real) == 48 == len(BARS)
    for name, row in real.items():
        assert all(0 <= part.value <= 100 and part.text for part in row.values()), name
        assert row["newness"].value == 0, "one bar by itself is a base beat"


@pytest.mark.parametrize(
    ("part", "more", "less"),
    [
        ("speed", JAZZ, SLOW_ROCK),
        ("density", JAZZ, SLOW_ROCK),
        ("reach", JAZZ, SLOW_ROCK),
        ("speed", PROG, SLOW_ROCK),
        ("density", PROG, SLOW_ROCK),
        ("independence", PROG, SLOW_ROCK),
        ("syncopation", PROG, SLOW_ROCK),
        ("speed", FAST_FUNK, SLOW_SOUL),
        ("density", FAST_FUNK, REGGAE),
        ("independence", HIGHLIFE, REGGAE),
        ("independence", HIGHLIFE, COUNTRY),
        ("syncopation", FAST_FUNK, POP),
        ("dynamics", FAST_FUNK, SLOW_ROCK),
    ],
)
def test_one_asks_for_more_than_the_other(real, part: str, more: str, less: str):
    assert real[more][part].value >= real[less][part].value + 10, (real[more][part], real[less][part])


def test_the_scales_are_used_from_end_to_end_and_are_not_crowded(real):
    for name in ("density", "independence", "syncopation", "speed", "dynamics"):
        values = sorted(row[name].value for row in real.values())
        assert 35 <= values[len(values) // 2] <= 65, f"the middle of {name} lies near 50"
        assert values[-5] - values[4] >= 20, f"{name} tells beats apart"


def test_hands_that_have_a_place_of_their_own_do_not_travel(real):
    still = [name for name, row in real.items() if row["reach"].value == 0]
    assert len(still) >= 30, "a hand on the hi-hat or ride, a hand on the snare: most beats"
    assert JAZZ not in still


def test_the_bars_are_those_that_are_most_like_the_others(real_inputs):
    for name in (SLOW_ROCK, COUNTRY):
        file = read((real_inputs / "drum_midi" / f"{name}.mid").read_bytes())
        assert typical(file) == BARS[name] <= last_bar(file)


def test_the_bench_reads_the_same_folder(real_inputs):
    assert FOLDER.resolve() == (real_inputs / "drum_midi").resolve()
