"""What was read by hand, and what was ever published, stays true."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest

from groundbeat.codec.groove_read import read_groove
from groundbeat.codec.groove_write import write_groove
from groundbeat.codec.link import read_link, write_link
from groundbeat.model.feel import Feel
from groundbeat.model.groove import Groove
from groundbeat.model.place import COLUMNS, fraction
from groundbeat.variation.catalogue import ENTRIES
from groundbeat.variation.stack import add, grow, onto, remove

HERE = Path(__file__).parent
HAND = json.loads((HERE / "columns.json").read_text())
ONTO = json.loads((HERE / "onto.json").read_text())
LINKS = [line.split("\t") for line in (HERE / "links.txt").read_text().splitlines() if line and line[0] != "#"]
_MARKS = {"normal": "", "accent": "A", "ghost": "g", "soft": "s"}


def columns_of(stage, ticks: int) -> dict:
    """Columns of a stage by surface, as they stand in the golden files."""
    rows: dict = {}
    for stroke in stage.beat.strokes:
        mark = _MARKS[stroke.dynamic]
        place = stroke.at // ticks if stroke.at % ticks == 0 else fraction(stroke.at)
        rows.setdefault(stroke.surface, []).append(f"{place}{mark}" if mark or isinstance(place, str) else place)
    return rows


def check(stages, expected, ticks):
    assert len(stages) == len(expected)
    for stage, told in zip(stages, expected, strict=True):
        assert columns_of(stage, ticks) == told["columns"], f"stage {stage.number}"
        assert list(stage.says) == told["says"], f"stage {stage.number}"


@pytest.mark.parametrize("name", ["slack-tide", "lantern-walk"])
def test_an_example_gives_the_columns_that_were_read_by_hand(name, request):
    groove = request.getfixturevalue(name.replace("-", "_"))
    check(grow(groove), HAND[name], COLUMNS["sixteenths"])


@pytest.mark.parametrize("name", ["slack-tide", "lantern-walk"])
def test_an_example_gives_its_columns_through_its_link(name, request):
    groove = request.getfixturevalue(name.replace("-", "_"))
    check(grow(read_link(write_link(groove)).groove), HAND[name], COLUMNS["sixteenths"])


def test_the_kick_of_slack_tide_never_changes(slack_tide):
    rows = [columns_of(stage, COLUMNS["sixteenths"])["kick"] for stage in grow(slack_tide)]
    assert rows == [[0, 7, 8]] * 5


@pytest.mark.parametrize(
    ("words", "settings"),
    [
        ("e a free", {"at": "e a free"}),
        ("e a", {"at": "e a"}),
        ("e a, clear of the kick", {"at": "e a", "clear-of": ["kick"]}),
    ],
)
def test_rival_readings_of_embellish_are_told_apart(words, settings, lantern_walk):
    groove = remove(remove(lantern_walk, 4), 3)
    stage = grow(add(groove, "embellish", {"surface": "snare", **settings}))[-1]
    at = {stroke.id: stroke.at // 2520 for stroke in stage.beat.strokes}
    assert sorted(at[name] for name in stage.change.added) == HAND["lantern-walk, embellished otherwise"][words]


@pytest.mark.parametrize(("name", "stage"), [("slack_tide", 3), ("lantern_walk", 4)])
def test_an_ostinato_keeps_adds_and_leaves_out_what_was_read_by_hand(name, stage, request):
    stages = grow(request.getfixturevalue(name))
    before, after = stages[stage - 1], stages[stage]
    told = HAND[f"{name.replace('_', '-')}, the ostinato"]
    at = {s.id: s.at // 2520 for s in (*before.beat.strokes, *after.beat.strokes) if s.surface == "hi-hat"}
    found = {
        "kept": [at[name] for name in after.change.kept if name in at],
        "added": [at[name] for name in after.change.added],
        "left out": [at[name] for name in after.change.left_out],
    }
    assert found == told


@pytest.mark.parametrize("name", [name for name in ONTO if name not in ("about", "kinds")])
def test_the_variations_mean_the_same_on_another_beat(name, slack_tide):
    told = ONTO[name]
    stages = grow(onto(base_of(told), slack_tide))
    check(stages[1:], told["stages"], COLUMNS[told["columns"]])


def base_of(told: dict) -> Groove:
    lines = "\n".join(f'{surface} = "{letters}"' for surface, letters in told["base"].items())
    return read_groove(f'groundbeat = 1\nmeter = "{told["meter"]}"\ncolumns = "{told["columns"]}"\n[base]\n{lines}\n')


@pytest.mark.parametrize("name", HAND["kinds"])
def test_a_kind_gives_the_columns_that_were_worked_out_by_hand(name):
    told = HAND["kinds"][name]
    written = read_groove(told["groove"])
    assert name in [variation.kind for variation in written.variations]
    for groove in (written, read_link(write_link(written)).groove, read_groove(write_groove(written))):
        stages = grow(groove)
        ticks = COLUMNS[groove.base.columns]
        assert [columns_of(stage, ticks) for stage in stages] == told["columns"]
        if "says" in told:
            assert [list(stage.says) for stage in stages][-len(told["says"]) :] == told["says"]
        for stage, feel in zip(stages, told.get("feel", []), strict=False):
            swung, long, short, pushes = feel
            assert stage.feel == Feel(swung, long, short, tuple((surface, ms) for surface, ms in pushes))
        for stage, hands in zip(stages, told.get("hands", []), strict=False):
            for surface, letters in hands.items():
                found = [stroke.hand or "-" for stroke in stage.beat.strokes if stroke.surface == surface]
                assert "".join(found) == letters


@pytest.mark.parametrize("base", [name for name in ONTO if name not in ("about", "kinds")])
@pytest.mark.parametrize("name", ONTO["kinds"])
def test_a_kind_means_the_same_on_another_beat(name, base):
    told = ONTO["kinds"][name]
    written = read_groove(HAND["kinds"][name]["groove"])
    variation = written.variations[told["variation"] - 1]
    groove = onto(base_of(ONTO[base]), replace(written, variations=(variation,)))
    stage = grow(groove)[1]
    assert columns_of(stage, COLUMNS[ONTO[base]["columns"]]) == told[base]["columns"]
    assert list(stage.says) == told[base]["says"]


def test_every_kind_has_its_golden_columns():
    named = {entry.name for entry in ENTRIES} - {"displace", "touch-up"}  # these two are in Slack Tide and below
    assert set(HAND["kinds"]) == set(ONTO["kinds"]) == named


@pytest.mark.parametrize(("fragment", "told"), LINKS, ids=[row[0][:12] for row in LINKS])
def test_every_published_link_still_reads_and_means_the_same(fragment, told):
    reading = read_link(fragment)
    assert reading.newer is None
    ticks = COLUMNS[reading.groove.base.columns]
    assert [columns_of(stage, ticks) for stage in grow(reading.groove)] == json.loads(told)
    assert write_link(reading.groove) == fragment, "the same document gives the same link"


def test_slack_tide_without_its_note_makes_a_short_link(slack_tide):
    """The product's bound: at most 96 characters, and at most 0.30 of the deflated JSON of the file."""
    import base64
    import tomllib
    import zlib

    bare = replace(slack_tide, variations=tuple(replace(v, note="") for v in slack_tide.variations))
    fragment = write_link(bare)
    table = tomllib.loads((HERE.parents[1] / "examples" / "slack-tide.toml").read_text())
    for row in table["variation"]:
        row.pop("note", None)
    packed = zlib.compressobj(9, zlib.DEFLATED, -15)
    data = packed.compress(json.dumps(table, separators=(",", ":")).encode()) + packed.flush()
    reference = len(base64.urlsafe_b64encode(data).rstrip(b"="))
    assert len(fragment) + 1 <= 96
    assert (len(fragment) + 1) / reference <= 0.30
