"""A few bars of a file as a base beat: bars, columns, meter, tempo, flams, meetings, and what is told."""

from __future__ import annotations

from typing import Any

import pytest

from groundbeat.errors import GroundbeatError, MidiError
from groundbeat.midi.base_beat import BaseBeatError, base_beat
from groundbeat.midi.reader import read
from groundbeat.model.place import COLUMNS

Q = 480  # file ticks a quarter
SIXTEENTH = 2520  # model ticks


def beat_of(smf: Any, rows: Any, *extra: Any, **more: Any) -> Any:
    bars, division = more.pop("bars", None), more.pop("division", None)
    return base_beat(read(smf.file([*extra, *smf.hits(*rows)], **more)), bars, division)


def places(found: Any) -> list[tuple[int, str]]:
    return [(stroke.at // found.beat.column, stroke.surface) for stroke in found.beat.strokes]


def rock(bars: int, start: int = 0) -> list[tuple[int, int, int]]:
    """Eighths on the hi-hat, backbeats, kick on 1 and the & of 2, with a sixteenth before 4."""
    rows = []
    for bar in range(bars):
        at = start + bar * 4 * Q
        rows += [(at + n * Q // 2, 42, 84) for n in range(8)]
        rows += [(at + Q, 38, 100), (at + 3 * Q, 38, 100), (at, 36, 90), (at + 11 * Q // 4, 36, 90)]
    return rows


def test_exact_strokes_stay_where_they_are(smf: Any) -> None:
    found = beat_of(smf, rock(1))
    assert (str(found.beat.meter), found.beat.bars, found.beat.columns, found.tempo) == ("4/4", 1, "sixteenths", 12000)
    assert [at for at, surface in places(found) if surface == "hi-hat"] == [0, 2, 4, 6, 8, 10, 12, 14]
    assert [at for at, surface in places(found) if surface == "kick"] == [0, 11]
    assert found.says[:2] == ("Read bar 1 of 1.", "All strokes lay on the columns.")
    assert found.residue[0][:2] == ("", 12)
    assert {spread.worst for spread in found.residue} == {0}


def test_strokes_get_the_ids_of_a_base_beat(smf: Any) -> None:
    assert [stroke.id for stroke in beat_of(smf, [(0, 36), (Q, 38)]).beat.strokes] == ["0/kick@0", "0/snare@1/4"]


def test_bars_are_those_asked_for(smf: Any) -> None:
    rows = [(0, 36), (4 * Q, 38), (8 * Q, 42), (12 * Q, 51)]
    found = beat_of(smf, rows, bars=(2, 3))
    assert [(stroke.at, stroke.surface) for stroke in found.beat.strokes] == [(0, "snare"), (40320, "hi-hat")]
    assert found.beat.bars == 2
    assert found.says[0] == "Read bars 2-3 of 4 (here bars 1-2)."


def test_the_first_bar_with_strokes_is_taken_after_a_rest(smf: Any) -> None:
    found = beat_of(smf, rock(2, start=8 * Q))
    assert found.says[0] == "Read bar 3 of 4."
    assert len(found.beat.strokes) == 12


def test_a_pickup_points_to_the_next_bar(smf: Any) -> None:
    found = beat_of(smf, [(3 * Q, 38), *rock(2, start=4 * Q)])
    assert places(found) == [(12, "snare")]
    assert "Bar 1 begins with a rest: its first stroke is on 4. Bar 2 may be the one that you want." in found.says


def test_a_stroke_just_before_the_bar_line_belongs_to_the_bar_it_begins(smf: Any) -> None:
    rows = [row for row in rock(3) if row[:2] != (4 * Q, 36)] + [(4 * Q - 9, 36, 90)]
    first, second = (beat_of(smf, rows, bars=(n, n)) for n in (1, 2))
    assert [at for at, surface in places(first) if surface == "kick"] == [0, 11]
    assert [at for at, surface in places(second) if surface == "kick"] == [0, 11]


def test_an_early_first_stroke_chooses_the_bar_that_it_begins(smf: Any) -> None:
    rows = [(tick - 9, key, velocity) for tick, key, velocity in rock(1, start=4 * Q)]
    found = beat_of(smf, rows)
    assert found.says[0] == "Read bar 2 of 2."
    assert places(found)[0][0] == 0
    assert len(found.beat.strokes) == 12


@pytest.mark.parametrize(
    ("step", "columns"),
    [
        (Q // 2, "eighths"),
        (Q // 4, "sixteenths"),
        (Q // 8, "thirty-seconds"),
        (Q // 3, "eighth triplets"),
        (Q // 6, "sixteenth triplets"),
    ],
)
@pytest.mark.parametrize("jitter", [0, 9])
def test_the_columns_are_found_from_the_strokes(smf: Any, step: int, columns: str, jitter: int) -> None:
    wobble = (0, 5, -7, 9, -3, 2, -9, 4)  # ticks of 480: up to 9 ms at 120
    rows = [(n * step + 40 + wobble[n % 8] * jitter // 9, 42) for n in range(4 * Q // step)]
    rows = [(max(tick - 40, 0), key) for tick, key in rows]
    found = beat_of(smf, rows)
    assert found.beat.columns == columns
    assert [at for at, _ in places(found)] == list(range(4 * Q // step))


def test_a_few_finer_strokes_are_worth_finer_columns_only_where_all_is_exact(smf: Any) -> None:
    rows = [*rock(4), (Q + Q // 8, 45)]
    assert beat_of(smf, rows).beat.columns == "thirty-seconds"
    loose = [(max(tick + (n % 5 - 2) * 8, 0), key, velocity) for n, (tick, key, velocity) in enumerate(rock(4))]
    assert beat_of(smf, [*loose, (Q + Q // 8, 45)]).beat.columns == "sixteenths"


def test_strokes_off_the_tempo_are_told(smf: Any) -> None:
    rows = [(n * 173, 42) for n in range(40)]  # 173 ticks: a pulse of its own
    found = beat_of(smf, rows)
    assert found.beat.columns == "sixteenths"
    assert any("do not follow the file's tempo" in says for says in found.says)


@pytest.mark.parametrize("division", COLUMNS)
def test_columns_can_be_chosen(smf: Any, division: str) -> None:
    found = beat_of(smf, rock(1), division=division)
    assert found.beat.columns == division
    assert all(stroke.at % COLUMNS[division] == 0 for stroke in found.beat.strokes)
    assert not any("The columns are" in says for says in found.says)


def test_columns_that_do_not_fit_the_meter_are_refused(smf: Any) -> None:
    with pytest.raises(
        BaseBeatError, match=r"a bar of 7/8 does not hold a whole number of eighth triplets; try one of"
    ):
        beat_of(smf, [(0, 36)], (0, smf.signature(7, 8)), division="eighth triplets")
    with pytest.raises(BaseBeatError, match='did you mean "sixteenths"'):
        beat_of(smf, [(0, 36)], division="sixteenth")


@pytest.mark.parametrize("meter", ["2/4", "3/4", "5/4", "7/4", "2/2", "6/8", "5/8", "7/8", "12/8", "5/16", "15/16"])
def test_the_time_signature_makes_the_meter(smf: Any, meter: str) -> None:
    upper, lower = map(int, meter.split("/"))
    bar = upper * 4 * Q // lower
    rows = [(n * 4 * Q // lower, 42) for n in range(2 * upper)] + [(bar, 36)]
    found = beat_of(smf, rows, (0, smf.signature(upper, lower)), bars=(2, 2))
    assert str(found.beat.meter) == meter
    assert len(found.beat.strokes) == upper + 1
    assert found.beat.strokes[-1].surface == "hi-hat"
    assert [stroke.at for stroke in found.beat.strokes if stroke.surface == "kick"] == [0]


def test_a_meter_that_no_beat_has_is_refused_at_its_byte(smf: Any) -> None:
    with pytest.raises(MidiError, match=r"time signature of bar 1 does not read: 19/4.*try 7/4") as caught:
        beat_of(smf, [(0, 36)], (0, smf.signature(19, 4)))
    assert caught.value.offset == 23
    with pytest.raises(MidiError, match="a meter over 32 is not known"):
        beat_of(smf, [(0, 36)], (0, smf.signature(4, 32)))


def test_bars_are_counted_through_changes_of_meter(smf: Any) -> None:
    changes = [(0, smf.signature(3, 4)), (6 * Q, smf.signature(7, 8)), (13 * Q, smf.signature(4, 4))]
    rows = [(0, 36), (3 * Q, 38), (6 * Q, 42), (6 * Q + 7 * Q // 2, 51), (13 * Q, 49)]
    found = [beat_of(smf, rows, *changes, bars=(n, n)) for n in range(1, 6)]
    assert [str(one.beat.meter) for one in found] == ["3/4", "3/4", "7/8", "7/8", "4/4"]
    assert [one.beat.strokes[0].surface for one in found] == ["kick", "snare", "hi-hat", "ride", "crash"]
    assert {one.beat.strokes[0].at for one in found} == {0}
    with pytest.raises(BaseBeatError, match=r"bars 2-3: the time signature changes from 3/4 inside them.*try 2-2"):
        beat_of(smf, rows, *changes, bars=(2, 3))


def test_a_repeated_time_signature_does_not_move_the_bar_lines(smf: Any) -> None:
    found = beat_of(smf, [(0, 36), (4 * Q, 38)], (0, smf.signature(4, 4)), (Q, smf.signature(4, 4)), bars=(2, 2))
    assert places(found) == [(0, "snare")]


@pytest.mark.parametrize(
    ("bars", "words"),
    [
        ((0, 1), "bars 0-1: bars count from 1"),
        ((3, 2), "bars 3-2: bars count from 1"),
        ((1, 17), "bars 1-17 are 17, a beat has at most 16; try 1-16"),
        ((4, 5), "asked for bars 4-5, but the file's last stroke is in bar 4; try 4-4"),
        ((99, 99), "asked for bar 99, but the file's last stroke is in bar 4; try 4-4"),
        ((2, 3), "no strokes in bars 2-3; there are some in bar 4"),
    ],
)
def test_bars_that_cannot_be_had_say_which_can(smf: Any, bars: tuple[int, int], words: str) -> None:
    with pytest.raises(BaseBeatError, match=words) as caught:
        beat_of(smf, [*rock(1), *rock(1, start=12 * Q)], bars=bars)
    assert caught.value.field == "bars"


@pytest.mark.parametrize(
    ("us", "meter", "tempo"),
    [
        (631_578, "4/4", 9500),  # 95.0001
        (434_783, "4/4", 13800),
        (500_000, "6/8", 8000),  # 120 quarters are 80 dotted quarters
        (500_000, "7/8", 24000),  # eighths
        (500_000, "2/2", 6000),  # halves
        (652_174, "4/4", 9200),
        (648_648, "4/4", 9250),
    ],
)
def test_the_tempo_counts_the_beat_of_the_meter_to_the_hundredth(smf: Any, us: int, meter: str, tempo: int) -> None:
    upper, lower = map(int, meter.split("/"))
    found = beat_of(smf, [(0, 36)], (0, smf.tempo(us)), (0, smf.signature(upper, lower)))
    assert found.tempo == tempo


def test_without_a_tempo_it_is_120(smf: Any) -> None:
    assert beat_of(smf, [(0, 36)]).tempo == 12000


def test_the_tempo_is_that_of_the_chosen_bars(smf: Any) -> None:
    tempos = [(0, smf.tempo(500_000)), (4 * Q, smf.tempo(600_000)), (10 * Q, smf.tempo(400_000))]
    rows = rock(3)
    assert beat_of(smf, rows, *tempos, bars=(1, 1)).tempo == 12000
    second = beat_of(smf, rows, *tempos, bars=(2, 2))
    assert (second.tempo, any("tempo changes" in says for says in second.says)) == (10000, False)
    third = beat_of(smf, rows, *tempos, bars=(3, 3))
    assert third.tempo == 10000
    assert "The tempo changes inside these bars; the one at their start was taken." in third.says


def test_a_tempo_out_of_range_is_taken_to_the_limit_and_told(smf: Any) -> None:
    found = beat_of(smf, [(0, 36)], (0, smf.tempo(100_000)))
    assert found.tempo == 40000
    assert "The file's tempo of 600 is out of range (20 to 400); 400 was taken." in found.says


def test_the_residue_is_in_milliseconds_by_surface(smf: Any) -> None:
    # At 120 a tick of 480 is 1.0417 ms: the snare 24 ticks late and 12 early, the kick exact.
    found = beat_of(smf, [(0, 36), (Q + 24, 38), (3 * Q - 12, 38), (2 * Q, 36)], division="sixteenths")
    rows = {spread.surface: spread for spread in found.residue}
    assert rows["kick"][1:] == (2, 0, 0, 0, 0)
    assert rows["snare"][1:] == pytest.approx((2, 6.25, 18.75, 18.75, 25))
    assert rows[""][1:] == pytest.approx((4, 3.125, 9.375, 6.25, 25))
    assert "Strokes were moved 9 ms on average, 25 ms at most (snare, 2)." in found.says


def test_milliseconds_follow_the_tempo(smf: Any) -> None:
    rows = [(0, 36), (Q + 24, 38)]
    slow = beat_of(smf, rows, (0, smf.tempo(1_000_000)), division="sixteenths")
    assert slow.residue[0].worst == pytest.approx(50)


def test_a_drummer_who_is_late_throughout_is_told_so(smf: Any) -> None:
    found = beat_of(smf, [(tick + 15, key, velocity) for tick, key, velocity in rock(1)])
    assert found.says[1].endswith(" They were 16 ms late as a whole.")


def test_two_close_strokes_of_a_surface_are_a_flam(smf: Any) -> None:
    found = beat_of(smf, [*rock(1), (Q - 20, 38, 40)])  # 20.8 ms before the backbeat
    graces = [(stroke.at // SIXTEENTH, stroke.grace) for stroke in found.beat.strokes if stroke.surface == "snare"]
    assert graces == [(4, "flam"), (12, "")]
    assert "Two strokes within 25 ms became a flam: snare, 2." in found.says


@pytest.mark.parametrize(
    ("key", "before", "velocity"),
    [
        (38, 30, 40),  # 31 ms: too far
        (38, 20, 127),  # the first is the louder
        (38, 0, 40),  # at once
        (36, 20, 40),  # one foot
        (37, 20, 40),  # another surface of the instrument
    ],
)
def test_other_close_strokes_are_no_flam(smf: Any, key: int, before: int, velocity: int) -> None:
    rows = [(Q, 38 if key == 37 else key, 100), (Q - before, key, velocity), (0, 42), (Q // 4, 42)]
    found = beat_of(smf, rows, division="sixteenths")
    assert {stroke.grace for stroke in found.beat.strokes} == {""}
    assert any("A stroke was left out" in says for says in found.says)


def test_of_two_strokes_of_one_instrument_the_louder_stays(smf: Any) -> None:
    found = beat_of(smf, [*rock(1), (Q, 37, 60), (3 * Q, 37, 120), (2, 36, 90)])
    snares = [(at, surface) for at, surface in places(found) if surface in ("snare", "cross-stick")]
    assert snares == [(4, "snare"), (12, "cross-stick")]
    assert (
        "3 strokes were left out, where one instrument had a louder one at the place: "
        "kick, 1; cross-stick, 2; snare, 4." in found.says
    )


def test_other_instruments_share_a_place(smf: Any) -> None:
    found = beat_of(smf, [(0, 36), (0, 35), (0, 38), (0, 42), (0, 51), (0, 49), (0, 44)])
    assert len(found.beat.strokes) == 7


@pytest.mark.parametrize("division", [1, 2, 96, 480, 960, 32767])
def test_the_same_groove_comes_out_of_every_division(smf: Any, division: int) -> None:
    rows = [(n * division, key) for n, key in enumerate((36, 38, 36, 38))]
    found = base_beat(read(smf.file(smf.hits(*rows), division=division)), None, "sixteenths")
    assert places(found) == [(0, "kick"), (4, "snare"), (8, "kick"), (12, "snare")]
    assert found.residue[0].worst == 0


@pytest.mark.parametrize(("word", "rate"), [(0xE728, 1000), (0xE804, 96), (0xE350, 30000 * 80 / 1001)])
def test_film_frames_become_beats_at_the_tempo(smf: Any, word: int, rate: float) -> None:
    rows = [(round(n * rate / 2), key) for n, key in enumerate((36, 38, 36, 38))]  # half a second is a quarter at 120
    file = read(smf.file(smf.hits(*rows), division=word))
    found = base_beat(file, None, "sixteenths")
    assert places(found) == [(0, "kick"), (4, "snare"), (8, "kick"), (12, "snare")]
    assert found.residue[0].worst < 1000 / rate
    assert found.tempo == 12000


def test_format_2_takes_meter_and_tempo_of_the_track_that_is_read(smf: Any) -> None:
    first = [(0, smf.signature(3, 4)), (0, smf.tempo(400_000)), *smf.hits((0, 60), channel=1)]
    second = [(0, smf.signature(7, 8)), (0, smf.tempo(500_000)), *smf.hits((0, 36))]
    found = base_beat(read(smf.file(first, second, format_=2)))
    assert (str(found.beat.meter), found.tempo) == ("7/8", 24000)


def test_the_title_is_the_first_name(smf: Any) -> None:
    first = [(0, smf.meta(3, "Slack Tide ä".encode()))]
    second = [(0, smf.meta(3, b"Drums")), *smf.hits((0, 36))]
    assert base_beat(read(smf.file(first, second))).title == "Slack Tide ä"
    assert base_beat(read(smf.file([], second))).title == "Drums"
    assert beat_of(smf, [(0, 36)]).title == ""
    assert base_beat(read(smf.file([(0, smf.meta(3, b"x" * 180)), *smf.hits((0, 36))]))).title == "x" * 120


def test_what_was_wrong_with_the_file_is_told_last(smf: Any) -> None:
    found = base_beat(read(smf.file(smf.hits((0, 36))) + b"\0\0\0"))
    assert found.says[-1] == "3 bytes that belong to no chunk were skipped."


def test_every_refusal_is_a_groundbeat_error() -> None:
    assert issubclass(BaseBeatError, GroundbeatError)
    assert BaseBeatError("x").code == "midi.base-beat"
