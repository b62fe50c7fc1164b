"""What is engraved is all there, meets nothing, and stands on straight lines."""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path
from xml.etree import ElementTree

import pytest
from hypothesis import HealthCheck, given, settings

from groundbeat.codec.groove_read import read_groove
from groundbeat.model.beat import Beat, Stroke, base_beat
from groundbeat.model.kit import GRACES as GRACES_OF_THE_KIT
from groundbeat.model.kit import SURFACES
from groundbeat.model.meter import Meter
from groundbeat.notation.engrave import MARGIN, engrave
from groundbeat.notation.glyphs import OUTLINES, SPACE, STEP
from groundbeat.notation.legend import legend
from groundbeat.notation.primitives import Block, Drawing, Mark, Sign, Words
from groundbeat.notation.spelling import spell
from groundbeat.variation.stack import grow
from tests.notation.collisions import outside, overlaps
from tests.strategies import beats

ROOT = Path(__file__).parents[2]
GOLDEN = ROOT / "tests" / "golden"
EXAMPLES = sorted((ROOT / "examples").rglob("*.toml"))
Q = 10080
SVG = "{http://www.w3.org/2000/svg}"


def beat(meter: str, bars: int, rows: list[tuple], columns: str = "sixteenths") -> Beat:
    return base_beat(Meter.of(meter), bars, columns, [Stroke(*row) for row in rows])


def letters(found: Beat) -> dict[str, str]:
    return {stroke.id: "RL"[number % 2] for number, stroke in enumerate(found.strokes)}


def faults(drawing: Drawing) -> list[str]:
    marks = list(drawing.marks())
    found = [f"{one.kind} {one.box} on {other.kind} {other.box}" for one, other in overlaps(marks)]
    return found + [f"{mark.kind} {mark.box} beyond it" for mark in outside(marks, drawing.width, drawing.height)]


def tide(stage: int = -1) -> Beat:
    return grow(read_groove((ROOT / "examples" / "slack-tide.toml").read_text()))[stage].beat


EIGHTHS = [(at, "hi-hat") for at in range(0, 4 * Q, Q // 2)] + [(0, "kick"), (Q, "snare", "accent"), (2 * Q, "kick")]
GRACES = [
    (0, "snare", "normal", "flam"), (5040, "snare", "accent", "drag"), (Q, "snare", "normal", "ruff"), (0, "kick"),
    (Q + 5040, "snare", "normal", "buzz"), (Q + 7560, "snare", "normal", "diddle"), (Q, "kick", "normal", "drag"),
    (2 * Q, "crash", "normal", "choke"), (2 * Q + 5040, "floor tom", "ghost", "flam"), (2 * Q, "kick", "ghost"),
    (3 * Q, "snare", "ghost", "buzz"), (3 * Q + 2520, "high tom", "normal", "drag"), (3 * Q + 5040, "kick", "accent"),
    (3 * Q + 7560, "open hi-hat", "accent", "flam"), (3 * Q + 7560, "rimshot", "normal", "buzz"),
]  # fmt: skip


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_no_two_marks_of_an_example_meet(path: Path):
    for stage in grow(read_groove(path.read_text())):
        for voices in (1, 2):
            score = spell(stage.beat, voices)
            drawing = engrave(score, sticking=letters(stage.beat), counts=True, tempo="92", title="A title")
            assert faults(drawing) == []
            assert faults(engrave(score, width=40, repeats=True)) == []


@settings(max_examples=300, deadline=None, suppress_health_check=list(HealthCheck))
@given(beats())
def test_no_two_marks_of_a_random_beat_meet(found: Beat):
    for voices in (1, 2):
        score = spell(found, voices)
        changed = {stroke.id for stroke in found.strokes[::2]}
        full = engrave(
            score, width=55, sticking=letters(found), counts=True, changed=changed, tempo="100", feel="swing"
        )
        assert faults(full) == []
        drawn = Counter(mark.stroke for mark in full.marks() if mark.kind == "head")
        assert drawn == Counter(stroke.id for stroke in found.strokes)  # every stroke has one head


def test_what_is_hard_to_place_meets_nothing():
    together = [(2 * Q, name) for name in (
        "rimshot", "ride bell", "china", "cowbell", "stack cymbal", "crash", "second crash", "high tom", "mid tom",
        "wood block", "low tom", "floor tom", "splash", "shell", "kick", "second kick", "hi-hat foot", "open hi-hat",
    )]  # fmt: skip
    ghosts = [(at, name, "ghost", "flam") for at, name, *_ in together]
    for rows in (GRACES, together, ghosts, ghosts + EIGHTHS[:4]):
        for voices in (1, 2):
            assert faults(engrave(spell(beat("4/4", 1, rows), voices), counts=True)) == []


def test_a_planted_overlap_is_found():
    drawing = engrave(spell(beat("4/4", 1, EIGHTHS)))
    row = drawing.rows[0]
    place, head = next((place, mark) for place, mark in enumerate(row.marks) if mark.kind == "head")
    left, top, right, bottom = head.box
    for kind, box in (
        ("head", (left + 100, top, right + 100, bottom)),
        ("count", (left, bottom - 1, right, bottom + 99)),
        ("stem", (left + 100, top - 500, left + 130, bottom)),  # through the middle of a head
    ):
        shape = Block(*box[:2], box[2] - box[0], box[3] - box[1])
        planted = Mark(kind, box, head.shape._replace(x=head.shape.x + 100) if kind == "head" else shape, "")
        worse = drawing._replace(rows=(row._replace(marks=(*row.marks, planted)),))
        assert any(kind in fault for fault in faults(worse)), kind
    gone = head._replace(box=(left - 9999, top, right - 9999, bottom))
    worse = drawing._replace(rows=(row._replace(marks=(*row.marks[:place], gone, *row.marks[place + 1 :])),))
    assert any("beyond it" in fault for fault in faults(worse))


def test_every_stroke_has_its_group_and_the_file_stands_alone():
    found = tide()
    text = engrave(spell(found), title='Tide & "time" <b>\x07', counts=True).svg("one")
    root = ElementTree.fromstring(text)
    groups = [node.get("data-id") for node in root.iter(f"{SVG}g") if node.get("class") == "stroke"]
    assert sorted(groups) == sorted(stroke.id for stroke in found.strokes)
    assert root.get("role") == "img"
    assert root.find(f"{SVG}title").text == 'Tide & "time" <b>'
    ids = [node.get("id") for node in root.iter() if node.get("id")]
    assert len(ids) == len(set(ids))
    assert not any(" " in name for name in ids)
    assert all(name.startswith("one-") for name in ids)
    used = {node.get("href") for node in root.iter(f"{SVG}use")}
    assert used <= {f"#{name}" for name in ids}
    assert {node.tag.removeprefix(SVG) for node in root.iter()} == {"svg", "title", "defs", "g", "path", "use", "text"}
    assert not [node for node in root.iter() if "style" in node.attrib]
    assert root.get("fill") == "currentColor"


def test_lines_end_with_whole_bars_and_are_filled():
    found = beat("4/4", 8, [(at, "hi-hat") for at in range(0, 32 * Q, Q // 4)])
    drawing = engrave(spell(found), width=100)
    ends = [max(mark.box[2] for mark in row.marks) for row in drawing.rows]
    assert len(drawing.rows) > 2
    assert set(ends) == {100 * SPACE - 2 * MARGIN}
    numbers = [[mark.shape.text for mark in row.marks if mark.kind == "number"] for row in drawing.rows]
    assert sum(numbers, []) == [str(number) for number in range(1, 9)]
    for row in drawing.rows:  # equal notes stand equally far apart within a bar
        lines = [mark.box[0] for mark in row.marks if mark.kind == "bar line"]
        heads = sorted(mark.box[0] for mark in row.marks if mark.kind == "head")
        gaps = {b - a for a, b in zip(heads, heads[1:], strict=False) if not any(a < line < b for line in lines)}
        assert len(gaps) == 1


def test_a_bar_wider_than_the_line_is_broken_at_a_beat():
    found = beat("4/4", 1, [(at, "snare") for at in range(0, 4 * Q, Q // 8)], "thirty-seconds")
    drawing = engrave(spell(found), width=40)
    assert len(drawing.rows) > 1
    assert drawing.width <= 40 * SPACE
    counts = [len([mark for mark in row.marks if mark.kind == "head"]) for row in drawing.rows]
    assert sum(counts) == 32
    assert all(count % 8 == 0 for count in counts)
    bars = [[mark for mark in row.marks if mark.kind == "bar line"] for row in drawing.rows]
    assert [len(row) for row in bars] == [2] + [0] * (len(bars) - 2) + [2]  # only the repeat signs


def test_stems_of_a_voice_end_at_one_height_and_rows_of_letters_are_straight():
    found = tide()
    drawing = engrave(spell(found), sticking=letters(found), counts=True)
    marks = drawing.rows[0].marks
    heads = {mark.stroke: mark for mark in marks if mark.kind == "head"}
    feet = {heads[stroke.id].box[0] for stroke in found.strokes if stroke.surface == "kick"}
    up = {mark.box[1] for mark in marks if mark.kind == "stem" and mark.box[1] < -8 * STEP}
    assert len(up) == 1
    down = {mark.box[3] for mark in marks if mark.kind == "stem" and mark.box[3] > 0}
    assert len(down) == 1
    assert len(feet) == 3
    for kind in ("count", "sticking"):
        assert len({mark.shape.y for mark in marks if mark.kind == kind}) == 1
    assert [mark.shape.text for mark in marks if mark.kind == "count"] == list("1e&a2e&a3e&a4e&a")
    grey = [mark.shape.text for mark in marks if isinstance(mark.shape, Words) and mark.shape.faint]
    assert grey == ["a"]  # of 4: nothing is played there


def test_both_hands_at_one_place_are_one_letter_and_feet_have_none():
    found = beat("4/4", 1, [(0, "hi-hat"), (0, "snare"), (0, "kick"), (Q, "snare"), (2 * Q, "kick")])
    hands = {"0/hi-hat@0": "R", "0/snare@0": "L", "0/kick@0": "R", "0/snare@1/4": "L", "0/kick@1/2": "L"}
    marks = engrave(spell(found), sticking=hands).marks()
    assert [mark.shape.text for mark in marks if mark.kind == "sticking"] == ["B", "L"]


def signs(found: Beat, *kinds: str, **settings_of) -> list[str]:
    marks = engrave(spell(found), **settings_of).marks()
    return [mark.shape.name for mark in marks if isinstance(mark.shape, Sign) and mark.kind in kinds]


@pytest.mark.parametrize(
    ("row", "kind", "expected"),
    [
        ((0, "snare", "accent"), "outside", ["accent above"]),
        ((0, "kick", "accent"), "outside", ["accent below"]),
        ((0, "snare", "ghost"), "parenthesis", ["left parenthesis", "right parenthesis"]),
        ((0, "open hi-hat"), "outside", ["open"]),
        ((0, "half-open hi-hat"), "outside", ["half-open"]),
        ((0, "foot splash"), "outside", ["open"]),
        ((0, "crash", "normal", "choke"), "outside", ["choke"]),
        ((0, "snare", "normal", "buzz"), "on stem", ["buzz"]),
        ((0, "snare", "normal", "diddle"), "on stem", ["one stroke"]),
        ((0, "snare", "normal", "drag"), "grace", ["filled head"] * 2),
        ((0, "snare", "normal", "ruff"), "grace", ["filled head"] * 3),
        ((0, "cross-stick"), "head", ["x head"]),
        ((0, "rimshot"), "head", ["slashed head"]),
    ],
)
def test_a_stroke_carries_its_sign(row: tuple, kind: str, expected: list[str]):
    assert signs(beat("4/4", 1, [row]), kind) == expected


def test_a_flam_is_one_small_note_with_a_slash_and_a_slur():
    kinds = Counter(mark.kind for mark in engrave(spell(beat("4/4", 1, [(0, "snare", "normal", "flam")]))).marks())
    assert (kinds["grace"], kinds["slash"], kinds["slur"]) == (1, 1, 1)


def test_a_closed_sign_follows_an_open_stroke_only():
    found = beat("4/4", 1, [(0, "open hi-hat"), (Q, "hi-hat"), (2 * Q, "hi-hat")])
    assert signs(found, "outside") == ["open", "closed"]


def test_a_bar_that_repeats_may_be_a_sign():
    found = beat("4/4", 2, EIGHTHS + [(row[0] + 4 * Q, *row[1:]) for row in EIGHTHS])
    assert signs(found, "repeated bar") == []
    assert signs(found, "repeated bar", repeats=True) == ["repeated bar"]


def test_the_tempo_shows_its_unit():
    assert signs(beat("12/8", 1, [(0, "kick")], "eighths"), "tempo", tempo="70") == ["quarter note", "dot"]
    assert signs(beat("2/2", 1, [(0, "kick")], "eighths"), "tempo", tempo="70") == ["half note"]


def test_large_print_is_half_as_large_again_on_the_same_width():
    score = spell(beat("4/4", 4, [(at, "hi-hat") for at in range(0, 16 * Q, Q // 4)]))
    small, large = engrave(score, width=70), engrave(score, width=70, large=True)
    assert large.scale == 150
    assert abs(large.width * 150 - small.width * 100) < 100 * SPACE
    assert len(large.rows) > len(small.rows)


def test_a_tuplet_has_its_number_and_a_bracket_unless_one_beam_holds_it():
    third = Q // 3
    beamed = beat("4/4", 1, [(0, "snare"), (third, "snare"), (2 * third, "snare")], "eighth triplets")
    assert signs(beamed, "tuplet") == ["tuplet 3"]
    assert [mark for mark in engrave(spell(beamed)).marks() if mark.kind == "bracket"] == []
    broken = beat("4/4", 1, [(0, "snare"), (2 * third, "snare")], "eighth triplets")
    assert len([mark for mark in engrave(spell(broken)).marks() if mark.kind == "bracket"]) == 4


def test_a_legend_names_every_surface_once():
    drawing = legend([surface.name for surface in SURFACES] * 2)
    names = [mark.shape.text for mark in drawing.marks() if mark.kind == "name"]
    assert sorted(names) == sorted(surface.name for surface in SURFACES)
    assert faults(drawing) == []
    assert faults(legend([])) == []


def test_a_legend_explains_signs():
    drawing = legend(["kick"], ["ghost", "normal", "", "soft", *GRACES_OF_THE_KIT, "accent"], width=60)
    names = [mark.shape.text for mark in drawing.marks() if mark.kind == "name"]
    expected = ["kick", "ghost", "accent", "flam", "drag", "four-stroke ruff", "buzz", "diddle", "choked"]
    assert names == expected
    assert faults(drawing) == []
    assert faults(legend([surface.name for surface in SURFACES], GRACES_OF_THE_KIT, large=True)) == []


def test_outlines_fill_their_boxes():
    """Boxes are read off the paths' own end points: none lies outside its box."""
    for name, (box, path) in OUTLINES.items():
        x = y = 0.0
        for command, numbers in re.findall(r"([a-zA-Z])([^a-zA-Z]*)", path):
            values = [float(value) for value in re.findall(r"-?\d+\.?\d*", numbers)]
            if command in "hH":
                x = values[0] + (x if command == "h" else 0)
            elif command in "vV":
                y = values[0] + (y if command == "v" else 0)
            elif command != "z":
                x, y = values[-2] + (x if command.islower() else 0), values[-1] + (y if command.islower() else 0)
            assert box[0] - 1 <= x <= box[2] + 1, name
            assert box[1] - 1 <= y <= box[3] + 1, name


@pytest.mark.parametrize("name", ["slack-tide", "graces"])
def test_engravings_held_byte_for_byte(name: str):
    found = tide() if name == "slack-tide" else beat("4/4", 1, GRACES)
    drawing = engrave(spell(found), sticking=letters(found) if name == "slack-tide" else None, counts=True, tempo="92")
    assert drawing.svg("held") == (GOLDEN / f"{name}.svg").read_text()
