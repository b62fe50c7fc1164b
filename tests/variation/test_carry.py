"""What becomes of variations on another beat is told from what they did, and from nothing else."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given

from groundbeat.codec.groove_read import read_groove
from groundbeat.errors import VariationError
from groundbeat.lineage.change import Change
from groundbeat.model.feel import Feel
from groundbeat.model.groove import Groove
from groundbeat.variation.carry import CARRIED, NOTHING, OFF, PARTLY, SAME, _row, carry, told
from groundbeat.variation.stack import add, grow, make, next_stage, onto, remove, switch
from tests.conftest import EXAMPLES
from tests.strategies import grooves

SLACK_TIDE = read_groove((EXAMPLES / "slack-tide.toml").read_text())


def groove(*lines: str, meter: str = "4/4", columns: str = "sixteenths") -> Groove:
    head = f'groundbeat = 1\nmeter = "{meter}"\ncolumns = "{columns}"\n[base]\n'
    return read_groove(head + "\n".join(lines))


def beat(name: str) -> Groove:
    return read_groove((EXAMPLES / "beats" / f"{name}.toml").read_text())


def verdicts(base: Groove, of: Groove = SLACK_TIDE) -> list[str]:
    return [row.verdict for row in carry(of, base).rows]


def test_on_its_own_beat_everything_carries_over():
    carrying = carry(SLACK_TIDE, SLACK_TIDE)
    assert [row.verdict for row in carrying.rows] == [CARRIED] * 4
    assert all(row.did == row.does and row.why == "" for row in carrying.rows)
    assert told(carrying.rows) == "All 4 carried over."


def test_a_beat_with_fewer_backbeats_still_carries_the_idea():
    row = carry(SLACK_TIDE, beat("07-every-quarter")).rows[2]
    assert (row.did.added, row.does.added, row.verdict) == (4, 8, CARRIED)


def test_what_finds_nothing_says_what_it_missed():
    rows = carry(SLACK_TIDE, beat("09-late-ferry")).rows
    assert [row.verdict for row in rows] == [NOTHING, NOTHING, CARRIED, CARRIED]
    assert rows[0].why == "Found no backbeat."
    assert rows[1].why == "Found no e or a in eighth triplets of 4/4."
    assert told(rows) == "Of 4 variations: 2 carried over, 2 found nothing."


def test_a_deed_that_the_other_beat_does_not_need_is_said_to_be_missing():
    hats = groove('hi-hat = "x---x---xx-xx---"', 'snare = "----o-------o---"')
    of = add(hats, "ostinato", {"surface": "riding", "cell": "eighth eighth"})
    row = carry(of, groove('hi-hat = "x---x---x---x---"')).rows[0]
    assert (row.did.added, row.did.left_out, row.does.added, row.does.left_out) == (4, 2, 4, 0)
    assert (row.verdict, row.why) == (PARTLY, "On this beat it has no strokes to leave out.")


def test_what_is_already_so_is_no_failure():
    of = add(groove('hi-hat = "x-x-x-x-x-x-x-x-"'), "ostinato", {"surface": "riding", "cell": "sixteenth"})
    row = carry(of, groove('ride = "xxxxxxxxxxxxxxxx"')).rows[0]
    assert (row.verdict, row.why) == (SAME, "What it means is already so on this beat.")


def test_what_cannot_be_there_tells_why_in_its_own_words():
    of = add(groove('snare = "----O-------O---"'), "half-time", {})
    row = carry(of, groove('snare = "--------O-------"')).rows[0]
    assert (row.verdict, row.why[-1]) == (SAME, ".")
    assert row.why == "; ".join(row.there.says)[0].upper() + "; ".join(row.there.says)[1:] + "."


def test_what_changes_nothing_anywhere_is_told_as_that():
    of = add(groove('hi-hat = "x---------------"'), "ostinato", {"surface": "hi-hat", "cell": "whole"})
    row = carry(of, groove('hi-hat = "x---------------"')).rows[0]
    assert (row.verdict, row.why) == (SAME, "It changes nothing on either beat.")


def test_what_is_off_is_off_on_both():
    row = carry(switch(SLACK_TIDE, 1, False), beat("02-plain-eighths")).rows[0]
    assert (row.verdict, row.why) == (OFF, "It is switched off.")


def test_a_touch_of_which_a_part_is_missed_carries_over_in_part():
    both = groove('snare = "o-------o-------"')
    of = add(both, "touch-up", {"changes": ["= snare 1 accent", "= snare 3 accent"]})
    rows = carry(of, groove('snare = "o---------------"')).rows
    assert rows[0].verdict == PARTLY
    assert rows[0].why.startswith("Found no snare at")
    assert told(rows) == "Of 1 variation: 1 carried over in part."


def test_another_length_and_another_feel_are_deeds_too():
    before = grow(SLACK_TIDE)[0]
    still = next_stage(before, make(1, "displace", {"surface": "crash", "by": "1/8 later"}))
    longer = replace(still, beat=replace(still.beat, bars=2), says=())
    swung = replace(still, feel=Feel("eighths", 2, 1), says=())
    assert _row((before, longer), (before, longer)).verdict == CARRIED
    assert _row((before, swung), (before, swung)).verdict == CARRIED
    missing = _row((before, longer), (before, swung))
    assert (missing.verdict, missing.why) == (PARTLY, "On this beat it has no length or meter to change.")
    assert _row((before, longer), (before, still)).verdict == NOTHING


def test_a_base_beat_is_no_variation():
    stages = grow(SLACK_TIDE)
    with pytest.raises(VariationError, match="base beat is not carried"):
        _row((stages[0], stages[0]), (stages[0], stages[0]))
    assert make(1, "displace", {"by": "1/8 later"}).on
    assert told(()) == "There is no variation to carry over."
    assert told(carry(remove_all(SLACK_TIDE), SLACK_TIDE).rows) == "There is no variation to carry over."


def remove_all(of: Groove) -> Groove:
    for variation in of.variations:
        of = remove(of, variation.key)
    return of


@given(grooves(), grooves())
def test_the_report_is_that_of_the_stages_that_grow(of: Groove, base: Groove):
    carrying = carry(of, base)
    assert carrying.groove == onto(base, of)
    assert carrying.stages == grow(carrying.groove)
    assert len(carrying.rows) == len(of.variations)
    for row, here, there in zip(carrying.rows, grow(of)[1:], carrying.stages[1:], strict=True):
        assert (row.here, row.there) == (here, there)
        assert row.does.moved == len(there.change.moved) and row.did.added == len(here.change.added)
        if row.verdict in (NOTHING, SAME, OFF):
            change: Change = there.change
            assert not (change.moved or change.altered or change.added or change.left_out or change.merged)
            assert row.why
        if row.verdict == OFF:
            assert not row.variation.on
        if row.verdict in (CARRIED, PARTLY):
            assert any(row.does)
    assert told(carrying.rows)
