"""Every stroke of the base beat has one fate in every stage, and a stage is as far from home as it sounds.

The two examples are worked out by hand from their columns.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundbeat.analysis.home import Home, along, home
from groundbeat.errors import VariationError
from groundbeat.lineage.ledger import Ledger
from groundbeat.model.beat import MAX_BARS
from groundbeat.model.groove import Groove
from groundbeat.variation import stack
from groundbeat.variation.stack import Stage, grow
from tests.strategies import grooves

FATES = ("kept", "moved", "altered", "covered", "gone")


def fates(row: Home) -> tuple[int, ...]:
    return tuple(getattr(row, name) for name in FATES)


def test_slack_tide_goes_from_home_as_a_hand_works_it_out(slack_tide):
    """The base beat has 8 hi-hats (0 2 4 ... 14), 2 snares (4 12) and 3 kicks (0 7 8): 13 strokes.

    Stage 1 moves the snare 4 to 5. Stage 2 adds ghosts on 1 3 9 11 13. Stage 3 adds hi-hats on 1 5 9 13 and keeps all
    eight. Stage 4 puts the twelve on the ride: eight strokes of the base beat are altered; snare 12 and the kicks stay.
    """
    rows = along(grow(slack_tide))
    assert [fates(row) for row in rows] == [
        (13, 0, 0, 0, 0),
        (12, 1, 0, 0, 0),
        (12, 1, 0, 0, 0),
        (12, 1, 0, 0, 0),
        (4, 1, 8, 0, 0),
    ]
    assert [row.strokes for row in rows] == [13] * 5
    assert [row.added for row in rows] == [0, 0, 5, 9, 9]
    assert [row.stage for row in rows] == [0, 1, 2, 3, 4]


def test_slack_tide_is_as_far_as_a_hand_works_it_out(slack_tide):
    """A moved sixteenth costs 1 1/4; ghosts 5 and hi-hats 4 more; eight on another surface 8 halves."""
    found = [row.distance for row in along(grow(slack_tide))]
    assert found == pytest.approx([0, 1.25 / (13 + 13), 6.25 / (13 + 18), 10.25 / (13 + 22), 14.25 / (13 + 22)])
    assert found == sorted(found), "each of these variations leads on"


def test_lantern_walk_goes_from_home_as_a_hand_works_it_out(lantern_walk):
    """10 hi-hats, snares 4 (accent) 7 9 12 (accent) 15 with ghosts on 7 9 15, 5 kicks: 20 strokes.

    Stage 1: snares 7 to 8 and 15 to 0. Stage 2: the accent goes from 4 to 9 and takes in the ghost there. Stage 3 adds
    ghosts on 1 5 7 13 15. Stage 4 leaves five hi-hats out (2 4 8 10 14) and adds one on 9.
    """
    rows = along(grow(lantern_walk))
    assert [fates(row) for row in rows] == [
        (20, 0, 0, 0, 0),
        (18, 2, 0, 0, 0),
        (16, 3, 0, 1, 0),
        (16, 3, 0, 1, 0),
        (11, 3, 0, 1, 5),
    ]
    assert [row.added for row in rows] == [0, 0, 0, 5, 6]


def test_lantern_walk_is_as_far_as_a_hand_works_it_out(lantern_walk):
    """Stage 2: 7 and 15 each a sixteenth (2 1/2), 4 left out (1), the ghost on 9 now an accent (1/2).

    Stage 3: ghosts sound on 7 and 15 again; 4 to 5 (1 1/4), new on 0 1 8 13, the accent on 9 (1/2). Stage 4: one
    hi-hat moved to 9 (1 1/4), four left out.
    """
    found = [row.distance for row in along(grow(lantern_walk))]
    assert found == pytest.approx([0, 2.5 / 40, 4 / 39, 5.75 / 44, 11 / 40])


def test_what_remains_is_said_in_a_sentence(slack_tide, lantern_walk):
    tide, lantern = along(grow(slack_tide)), along(grow(lantern_walk))
    assert tide[0].words == "all 13 strokes of the base beat sound where they stood"
    assert tide[1].words == "12 of 13 strokes of the base beat sound where they stood; 1 moved"
    assert tide[4].words == "4 of 13 strokes of the base beat sound where they stood; 1 moved; 8 are altered"
    assert lantern[4].words == (
        "11 of 20 strokes of the base beat sound where they stood; 3 moved; 1 is covered by others; 5 are gone"
    )
    assert Home(1, 1, 1, 2, 0, 0, 0, 0, 2, 0).words == (
        "none of 2 strokes of the base beat sound where they stood; 2 are gone"
    )
    assert Home(1, 0, 2, 26, 26, 0, 0, 0, 0, 0).words == (
        "all 26 strokes of the base beat (2 rounds of it) sound where they stood"
    )


def test_shares_are_of_the_strokes_of_the_base_beat(slack_tide):
    last = home(grow(slack_tide), 4)
    assert [last.share(name) for name in FATES] == pytest.approx([4 / 13, 1 / 13, 8 / 13, 0, 0])
    empty = home(grow(Groove()), 0)
    assert empty.strokes == 0 and empty.share("kept") == 1 and empty.share("gone") == 0
    assert empty.words == "the base beat has no strokes"


def varied(groove: Groove, *rows: tuple[str, dict[str, object]]) -> Groove:
    """The groove's base beat with these variations."""
    groove = replace(groove, variations=(), next_key=1)
    for kind, settings in rows:
        groove = stack.add(groove, kind, settings)
    return groove


MOVE = ("displace", {"surface": "backbeat voice", "at": "first backbeat", "by": "1/16 later"})


def test_under_a_longer_stage_the_base_beat_repeats_and_copies_sound_in_their_own_round(slack_tide):
    rows = along(grow(varied(slack_tide, MOVE, ("length", {"bars": "4"}))))
    assert fates(rows[1]) == (12, 1, 0, 0, 0)
    assert fates(rows[2]) == (48, 4, 0, 0, 0), "the moved snare is copied moved"
    assert (rows[2].rounds, rows[2].strokes, rows[2].added) == (4, 52, 0)
    assert rows[2].distance == pytest.approx(rows[1].distance)


def test_a_longer_stage_grows_again_and_shrinks_again(slack_tide):
    two, four, one = ("length", {"bars": "2"}), ("length", {"bars": "4"}), ("length", {"bars": "1"})
    rows = along(grow(varied(slack_tide, two, four, one)))
    assert [fates(row) for row in rows] == [(13 * n, 0, 0, 0, 0) for n in (1, 2, 4, 1)]
    assert [row.distance for row in rows] == [0, 0, 0, 0]
    assert [row.added for row in rows] == [0, 0, 0, 0]


def test_merged_strokes_are_copied_merged(lantern_walk):
    rows = along(grow(stack.add(lantern_walk, "length", {"bars": "2"})))
    assert fates(rows[5]) == tuple(2 * count for count in fates(rows[4]))
    assert rows[5].added == 2 * rows[4].added
    assert rows[5].distance == pytest.approx(rows[4].distance)


def test_a_stroke_taken_in_elsewhere_is_covered_by_what_took_it_in(slack_tide):
    """Snare 4 goes to 12, where an equal stroke stays; nothing sounds on 4 any more. Left out, both are gone."""
    late = ("displace", {"surface": "snare", "at": "2", "by": "1/2 later"})
    rows = along(grow(varied(slack_tide, late, ("touch-up", {"changes": ["- snare 4"]}))))
    assert [fates(row) for row in rows[1:]] == [(12, 0, 0, 1, 0), (11, 0, 0, 0, 2)]


def test_a_round_that_is_made_anew_forgets_what_was_merged_in_the_old_one(slack_tide):
    two, one = ("length", {"bars": "2"}), ("length", {"bars": "1"})
    late = ("displace", {"surface": "snare", "at": "2:2", "by": "1/2 later"})
    rows = along(grow(varied(slack_tide, two, late, one, two)))
    assert [fates(row) for row in rows[2:]] == [(25, 0, 0, 1, 0), (13, 0, 0, 0, 0), (26, 0, 0, 0, 0)]


def test_only_a_copy_on_its_own_surface_whole_rounds_later_sounds_in_its_round(slack_tide):
    """By hand: the first kick of two rounds is copied once a bar and an eighth later, once to the second round.

    The first snare is copied to the second round on the floor tom. A second copy of the kick, when the first has moved
    away, is an added stroke: the first is still the one that sounds in that round.
    """
    base = grow(replace(slack_tide, variations=()))[0]
    bar = base.beat.cycle
    kick, snare = (next(s for s in base.beat.strokes if s.surface == name) for name in ("kick", "snare"))
    ledger = Ledger(base.beat, 1)
    assert ledger.frame(bars=2)
    ledger.add(kick.at + bar + bar // 8, "kick", of=kick.id)
    ledger.add(kick.at + bar, "kick", of=kick.id)
    ledger.add(snare.at + bar, "floor tom", "accent", of=snare.id)
    one = Stage(1, None, *ledger.close(), (), base.backbeats)
    ledger = Ledger(one.beat, 2)
    ledger.move(next(s for s in one.beat.strokes if s.surface == "kick" and s.at == bar), bar // 4)
    ledger.add(kick.at + bar, "kick", of=kick.id)
    two = Stage(2, None, *ledger.close(), (), base.backbeats)
    rows = along((base, one, two))
    assert fates(rows[1]) == (14, 0, 0, 0, 12) and rows[1].added == 2
    assert fates(rows[2]) == (13, 1, 0, 0, 12) and rows[2].added == 3


def test_a_stage_that_does_not_come_out_even_is_laid_over_one_round(slack_tide):
    """Two bars of 15/16 over one of 4/4: the second bar is added; what stood on the last sixteenth is nothing."""
    groove = varied(slack_tide, ("length", {"bars": "2", "bar": "a sixteenth shorter"}))
    last = along(grow(groove))[1]
    assert (last.rounds, last.strokes) == (1, 13)
    assert fates(last) == (13, 0, 0, 0, 0)
    assert last.added == 13


def test_at_twice_the_length_only_the_first_stroke_of_each_line_stays(slack_tide):
    """Places double: hi-hat 0 and kick 0 stay, 11 move; of the second round nothing is there itself.

    There, in columns of 32: hi-hats 16 20 24 28 and the kick 16 sound where base strokes stood; the snares of the
    second round (20 28) do not, since they sound on 8 and 24.
    """
    last = along(grow(varied(slack_tide, ("half-time", {"form": "twice the length"}))))[1]
    assert last.rounds == 2
    assert fates(last) == (2, 11, 0, 5, 8)


def test_a_stroke_that_is_put_back_is_covered_and_no_distance_from_home(slack_tide):
    groove = varied(slack_tide, ("touch-up", {"changes": ["- snare 2", "+ snare 2 accent"]}))
    last = home(grow(groove), 1)
    assert fates(last) == (12, 0, 0, 1, 0)
    assert last.distance == 0 and last.added == 1
    softer = home(grow(varied(slack_tide, ("touch-up", {"changes": ["- snare 2", "+ snare 2 ghost"]}))), 1)
    assert fates(softer) == (12, 0, 0, 1, 0)
    assert softer.distance == pytest.approx(0.5 / 26)


def test_a_louder_stroke_is_altered_and_an_ornament_is_not_counted(slack_tide):
    groove = varied(slack_tide, ("touch-up", {"changes": ["= snare 2 accent flam", "= kick 1 accent"]}))
    last = home(grow(groove), 1)
    assert fates(last) == (12, 0, 1, 0, 0)
    assert last.distance == pytest.approx((1 / 6) / 26)


def test_the_backbeat_is_one_line_whatever_it_is_played_on(slack_tide):
    """Two backbeats on the floor tom: two halves, not four strokes come and gone."""
    groove = varied(slack_tide, ("orchestrate", {"surface": "backbeat voice", "to": "floor tom"}))
    last = home(grow(groove), 1)
    assert fates(last) == (11, 0, 2, 0, 0)
    assert last.distance == pytest.approx(2 * 0.5 / 26)


def test_a_stage_that_there_is_not_is_refused(slack_tide):
    stages = grow(slack_tide)
    for number in (-1, 5):
        with pytest.raises(VariationError, match=f"there are stages 0 to 4, not {number}"):
            home(stages, number)


@given(grooves())
def test_every_base_stroke_has_one_fate_in_every_stage(groove):
    stages = grow(groove)
    rows = along(stages, groove.roles)
    assert len(rows) == len(stages)
    for stage, row in zip(stages, rows, strict=True):
        even = stage.beat.cycle % groove.base.cycle == 0
        assert row.rounds == (stage.beat.cycle // groove.base.cycle if even else 1)
        assert sum(fates(row)) == row.strokes == row.rounds * len(groove.base.strokes)
        assert row.kept + row.moved + row.altered + row.added == len(stage.beat.strokes)
        assert row.added >= 0 and 0 <= row.distance <= 1
        assert row.words


@given(grooves())
def test_the_base_beat_is_at_home(groove):
    first = along(grow(groove), groove.roles)[0]
    assert first.distance == 0 and first.kept == first.strokes == len(groove.base.strokes) and first.added == 0


@given(grooves())
def test_a_distance_of_nothing_is_the_same_strokes_and_only_that(groove):
    def sound(strokes, shift=0):
        return {(stroke.at + shift, stroke.surface, stroke.dynamic) for stroke in strokes}

    stages = grow(groove)
    for stage, row in zip(stages, along(stages, groove.roles), strict=True):
        turns = [sound(groove.base.strokes, turn * groove.base.cycle) for turn in range(row.rounds)]
        assert (row.distance == 0) == (set().union(*turns) == sound(stage.beat.strokes))


@given(grooves(), st.data())
def test_a_stage_that_is_off_is_as_far_as_the_one_before(groove, data):
    if not groove.variations:
        return
    key = data.draw(st.sampled_from([variation.key for variation in groove.variations]))
    stages = grow(stack.switch(groove, key, False))
    number = next(stage.number for stage in stages if stage.key == key)
    rows = along(stages, groove.roles)
    assert rows[number] == rows[number - 1]._replace(stage=number)


@given(grooves(), st.data())
def test_one_stage_and_all_stages_say_the_same(groove, data):
    stages = grow(groove)
    number = data.draw(st.integers(0, len(stages) - 1))
    assert home(stages, number, groove.roles) == along(stages, groove.roles)[number]


@given(grooves(max_variations=4))
def test_repeating_the_last_stage_repeats_every_fate(groove):
    stages = grow(groove)
    beat = stages[-1].beat
    if beat.cycle != groove.base.cycle or beat.bars * 2 > MAX_BARS:
        return
    one = along(stages, groove.roles)[-1]
    two = along(grow(stack.add(groove, "length", {"bars": str(2 * beat.bars)})), groove.roles)[-1]
    assert fates(two) == tuple(2 * count for count in fates(one))
    assert two.added == 2 * one.added
