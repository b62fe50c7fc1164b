"""What KINDS.md says of the kinds is what they do: sentences, settings, defaults, limits, and columns read by hand."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from groundbeat.codec.groove_read import read_groove
from groundbeat.codec.tab import tab
from groundbeat.model import kit, meter
from groundbeat.variation import catalogue, notes, selection, setting, touch
from groundbeat.variation.stack import Stage, grow, make, plain

TEXT = (Path(__file__).resolve().parents[2] / "engine/groundbeat/variation/KINDS.md").read_text(encoding="utf-8")
NAMES = [entry.name for entry in catalogue.ENTRIES]


def section(name: str) -> str:
    """The text of one kind."""
    return TEXT.split(f"\n## {name}\n", 1)[1].split("\n## ", 1)[0]


def stages(name: str) -> tuple[Stage, ...]:
    """The stages of the example of a kind."""
    found = re.findall(r"^```toml complete\n(.*?)^```$", section(name), re.MULTILINE | re.DOTALL)
    assert len(found) == 1
    return grow(read_groove(found[0]))


def columns(stage: Stage, surface: str) -> list[int]:
    return [stroke.at // 2520 for stroke in stage.beat.strokes if stroke.surface == surface]


def test_every_kind_is_told_in_the_order_of_the_catalogue():
    assert re.findall(r"^## (.*)$", TEXT, re.MULTILINE)[2:] == NAMES


@pytest.mark.parametrize("name", NAMES)
def test_the_settings_and_defaults_of_a_kind_are_those_of_the_code(name: str):
    table = section(name).split("| setting |", 1)[1].split("\n\n", 1)[0]
    rows = re.findall(r"^\| `([\w-]+)` \| (.*?) \| ([^|]*) \|$", table, re.MULTILINE)
    told = [(setting_name, default) for setting_name, _, default in rows]
    expected = []
    for one in catalogue.kind(name).settings:
        row = json.dumps(list(one.default)) if isinstance(one.default, tuple) else f'"{one.default}"'
        quoted = f"`{row}`" if one.default not in (None, "", ()) else "none"
        expected.append((one.name, "needed" if one.default is None else quoted))
    assert told == expected


@pytest.mark.parametrize("name", NAMES)
def test_the_tablature_of_an_example_is_what_its_stages_are(name: str):
    shown = re.findall(r"^```text stages\n(.*?)\n```$", section(name), re.MULTILINE | re.DOTALL)
    assert shown == ["\n\n".join(tab(stage.beat) for stage in stages(name)[1:])]


def test_the_columns_of_the_examples_as_read_by_hand():
    displace, embellish, ostinato = stages("displace"), stages("embellish"), stages("ostinato")
    assert columns(displace[1], "snare") == [0, 4, 8, 9, 12]
    assert displace[1].change.crossed == ("0/snare@15/16",)
    assert columns(displace[2], "snare") == [0, 8, 9, 12]
    assert displace[2].change.merged[0].parents == ("0/snare@1/4", "0/snare@9/16")
    assert columns(embellish[1], "snare") == [1, 3, 5, 9, 11, 12, 13]
    assert columns(ostinato[1], "hi-hat") == [0, 3, 6, 9, 12, 15]
    assert [len(ostinato[1].change.added), len(ostinato[1].change.left_out)] == [1, 5]
    assert ostinato[1].says == ("cut at the loop; comes round after 3 bars",)
    orchestrate, touch_up = stages("orchestrate")[1], stages("touch-up")[1]
    assert (columns(orchestrate, "ride bell"), columns(orchestrate, "ride")) == ([0, 4, 8, 12], [2, 6, 10, 14])
    assert orchestrate.change.merged[0].parents == ("0/ride@3/8", "0/hi-hat@3/8")
    assert (columns(touch_up, "snare"), columns(touch_up, "kick")) == ([4, 11, 12], [7, 8])


@pytest.mark.parametrize(
    ("name", "raw"),
    [
        ("displace", {"surface": "backbeat voice", "at": "first backbeat", "by": "1/16 later"}),
        ("embellish", {"clear-of": ["kick"], "except": "4a"}),
        ("ostinato", {"cell": "sixteenth sixteenth eighth"}),
        ("orchestrate", {"surface": "riding", "to": "ride", "then": {"to": "ride bell"}}),
        ("permute", {}),
        ("double-up", {"at": "backbeats", "with": "floor tom", "dynamic": "soft"}),
        ("hand-to-foot", {"at": "e a", "alternate": "second kick"}),
        ("dynamics", {"surface": "riding", "every": 3, "rest": "soft"}),
        ("sticking", {"accent": "1"}),
        ("leave-space", {"with": ["backbeat voice"]}),
        ("linear", {"how": "moves on"}),
        ("hands-and-lead", {"how": "double pedal", "closer-than": "eighth"}),
        ("grouping", {}),
        ("subdivide", {"into": "eighth triplets"}),
        ("half-time", {}),
        ("double-time", {}),
        ("length", {"bars": 4, "bar": "an eighth shorter"}),
        ("fill", {"accents": "beats"}),
        ("feel", {"swing": "eighths 2:1", "surface": "snare", "push": "10 ms late"}),
        ("touch-up", {"changes": ["+ snare 3a ghost", "- kick 1", "= snare 2 soft flam"]}),
    ],
)
def test_the_sentence_of_a_kind_is_the_one_that_is_said(name: str, raw: dict[str, object]):
    said = re.search(r"^\*(.*)\*$", section(name), re.MULTILINE)
    assert said
    assert plain(make(1, name, raw)) == said[1]


def test_words_and_limits_are_those_of_the_code():
    flat = " ".join(TEXT.split())
    words = [word for word in selection.WORDS if word not in (selection.STAGE, selection.WHERE)]
    for word in (*words, "stage 2", "kick", *selection.ORDERS[1:], selection.FREE):
        assert re.search(rf"^\| [^|]*`{word}`", TEXT, re.MULTILINE), word
    for words in (
        f"At most {selection.MAX_TERMS} words", f"at most {setting.MAX_LIST} targets",
        f"at most {notes.MAX_CELL} notes", f"at most {touch.MAX_CHANGES} texts",
        f"at most {notes.MAX_AMOUNT // meter.WHOLE} whole notes",
        f"({meter.QUARTER} to a quarter)",
    ):  # fmt: skip
        assert words in flat, words
    for word in (*notes.NAMES, *notes.SHAPES[1:], *kit.DYNAMICS, *kit.GRACES[1:], touch.PLAIN, touch.FREE):
        assert f"`{word}`" in TEXT or f'`"{word}"`' in TEXT, word


def test_a_stroke_left_out_and_an_equal_one_added_are_just_that():
    text = '[base]\nsnare = "----O-----------"\n[[variation]]\nkind = "touch-up"\n'
    stage = grow(read_groove(f'groundbeat = 1\n{text}changes = ["- snare 2", "+ snare 2 accent"]\n'))[1]
    assert (stage.change.left_out, stage.change.added) == (("0/snare@1/4",), ("1/snare@1/4",))
    assert (stage.change.kept, stage.change.altered, stage.change.merged) == ((), (), ())
