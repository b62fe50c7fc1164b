"""LINK.md is enough to write another reader: here is one, made of that text and its tables alone."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any
from zlib import crc32

import pytest

from groundbeat.codec.groove_read import read_groove
from groundbeat.codec.link import write_link
from groundbeat.model.groove import Groove
from groundbeat.model.place import fraction

ROOT = Path(__file__).resolve().parents[2]
LINK = (ROOT / "engine/groundbeat/codec/LINK.md").read_text(encoding="utf-8")
GUIDE = (ROOT / "engine/groundbeat/codec/GROOVE.md").read_text(encoding="utf-8")
KINDS = (ROOT / "engine/groundbeat/variation/KINDS.md").read_text(encoding="utf-8")
WHOLE = 40320
COLUMN = {"eighths": 8, "sixteenths": 16, "thirty-seconds": 32, "eighth triplets": 12, "sixteenth triplets": 24}
LETTERS = " abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-"
URL = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_"


def table(heading: str) -> dict[int, str]:
    body = LINK.split(f"\n### {heading}\n", 1)[1].split("\n## ", 1)[0].split("\n### ", 1)[0]
    return {int(number): name for number, name in re.findall(r"^\| (\d+) \| ([^|]+?) \|", body, re.MULTILINE)}


def settings_of() -> dict[str, dict[int, tuple[str, str]]]:
    body = LINK.split("\n### settings\n", 1)[1].split("\n### ", 1)[0]
    made: dict[str, dict[int, tuple[str, str]]] = {}
    for kind, number, name, of in re.findall(r"^\| ([^|]+) \| (\d+) \| ([^|]+) \| ([^|]+) \|", body, re.MULTILINE):
        made.setdefault(kind, {})[int(number)] = (name, of)
    return made


def listed(heading: str) -> dict[tuple[str, str], list[str]]:
    body = LINK.split(f"\n### {heading}\n", 1)[1].split("\n### ", 1)[0]
    rows = [line.strip("| ").split(" | ") for line in body.splitlines() if line.startswith("| ")][1:]
    return {(row[0], row[1]): row[2:] for row in rows}


class Another:
    """Reads a fragment into plain data, knowing nothing but LINK.md."""

    def __init__(self, fragment: str) -> None:
        value, digits = crc32(fragment[:-3].encode("ascii")), ""
        for _ in range(3):
            value, rest = divmod(value, 62)
            digits += "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz"[rest]
        assert fragment[0] == "1" and fragment[-3:] == digits
        self.bits = "".join(f"{URL.index(letter):06b}" for letter in fragment[1:-3])
        self.at = 0

    def fixed(self, n: int) -> int:
        self.at += n
        assert self.at <= len(self.bits)
        return int(self.bits[self.at - n : self.at], 2)

    def number(self, k: int) -> int:
        value, more = 0, 1
        while more:
            more = self.fixed(1)
            value = value << k | self.fixed(k)
        return value

    def text(self) -> str:
        if self.fixed(1):
            return bytes(self.fixed(8) for _ in range(self.number(6))).decode("utf-8")
        return "".join(LETTERS[self.fixed(6)] for _ in range(self.number(4)))

    def target(self) -> str:
        return table("targets")[self.number(4)]

    def place(self) -> tuple[int, str]:
        number, code = self.number(3), self.number(3)
        return number, table("parts")[code - 1] if code else f"{self.number(4)}/{self.number(4)}"

    def value(self, of: str, kind: str, name: str) -> Any:
        if of in ("target", "surface"):
            return self.target()
        if of == "targets":
            return [self.target() for _ in range(self.number(2))]
        if of == "places":
            count, free, terms = self.number(2) + 1, self.fixed(1), []
            for _ in range(count):
                bar = self.number(2) + 1 if self.fixed(1) else 0
                order = table("orders")[self.number(1)]
                terms.append((bar, order, self.place() if self.fixed(1) else self.word()))
            return [bool(free), terms]
        if of == "amount":
            way, code = "earlier" if self.fixed(1) else "later", self.number(3)
            den = table("denominators")[code - 1] if code else str(self.number(6))
            return f"{self.number(3) + 1}/{den} {way}"
        if of == "cell":
            return [self.note() for _ in range(self.number(3) + 1)]
        if of == "note":
            return self.note()
        if of == "row":
            return [self.target() for _ in range(self.number(2))]
        if of == "number":
            return self.number(3) + int(listed("ranges of numbers")[kind, name][0])
        if of == "grouping":
            return [self.number(2) + 1 for _ in range(self.number(2) + 1)]
        if of == "hands":
            return "".join(table("letters of hands")[self.number(1)] for _ in range(self.number(3) + 1))
        if of == "swing":
            return [table("swung")[self.number(1)], self.number(2) + 1, self.number(2) + 1] if self.fixed(1) else None
        if of == "offset":
            return (-1 if self.fixed(1) else 1) * self.number(4)
        if of in ("dynamic", "grace"):
            return table(f"{of}s")[self.number(2 if of == "dynamic" else 3)]
        if of == "choice":
            return listed("words of choices")[kind, name][0].split(", ")[self.number(2)].strip("`")
        if of == "group":
            return self.settings(f"{kind}, {name}")
        assert of == "changes"
        return [self.change() for _ in range(self.number(3))]

    def note(self) -> tuple[str, str, bool]:
        value = table("note values")[self.number(3)]
        shape, sounds = (table("shapes")[self.number(2)], self.fixed(1)) if self.fixed(1) else ("plain", 1)
        return value, shape, bool(sounds)

    def word(self) -> str:
        word = table("words")[self.number(3)]
        return f"{word} {self.number(4)}" if word == "stage" else f"{word} {self.target()}" if word == "where" else word

    def change(self) -> list[Any]:
        made: list[Any] = [table("signs")[self.fixed(2)], self.target(), self.number(2), self.place()]
        if made[0] != "-":
            for heading, k in (("dynamics", 2), ("graces", 3), ("hands", 2)):
                made.append(table(heading)[self.number(k)] if self.fixed(1) else None)
        return made

    def settings(self, kind: str) -> dict[str, Any]:
        known, made = settings_of()[kind], {}
        for _ in range(self.number(2)):
            name, of = known[self.number(3)]
            made[name] = self.value(of, kind, name)
        return made

    def document(self) -> dict[str, Any]:
        count, unit, groups = 4, 4, None
        if self.fixed(1):
            count, unit = self.number(4), int(table("units")[self.fixed(2)])
            groups = [self.number(3) for _ in range(self.number(3))] if self.fixed(1) else None
        columns, bars = table("columns of the beat")[self.number(2)], self.number(2) + 1
        tempo = self.number(7) if self.fixed(1) else 100 * self.number(7)
        made: dict[str, Any] = {"meter": f"{count}/{unit}", "groups": groups, "columns": columns, "bars": bars}
        made |= {"tempo": tempo, "title": self.text()}
        lines = [self.line(columns, bars, count * WHOLE // unit) for _ in range(self.number(3))]
        made["variations"] = []
        for _ in range(self.number(3)):
            kind, on, length = table("kinds")[self.number(4)], bool(self.fixed(1)), self.number(6)
            end = self.at + length
            made["variations"].append({"kind": kind, "on": on, "settings": self.settings(kind)})
            assert self.at == end
        for _ in range(self.number(2)):
            name, length = table("blocks")[self.number(3)], self.number(6)
            end = self.at + length
            made[name] = self.block(name, lines, len(made["variations"]))
            assert self.at == end
        assert set(self.bits[self.at :]) <= {"0"} and len(self.bits) - self.at < 6
        made["strokes"] = sorted([stroke for line in lines for stroke in line] + made.pop("details", []), key=str)
        return made

    def line(self, columns: str, bars: int, bar: int) -> list[list[Any]]:
        surface = self.target()
        ticks = WHOLE // COLUMN[table("columns of a line")[self.number(3)] if self.fixed(1) else columns]
        mode, row, strokes = self.fixed(2), [], []
        for at in range(bars):
            if not (at and self.fixed(1)):
                hits = [column for column in range(bar // ticks) if self.fixed(1)]
                row = [(hit, table("dynamics")[self.fixed(2)] if mode == 2 else self.whole(mode)) for hit in hits]
            strokes += [[at * bar + hit * ticks, surface, dynamic, "none", "free"] for hit, dynamic in row]
        return strokes

    @staticmethod
    def whole(mode: int) -> str:
        said = table("dynamics of a line")[mode].split()[-1]
        assert said in table("dynamics").values()
        return said

    def block(self, name: str, lines: list[list[list[Any]]], count: int) -> Any:
        if name == "note":
            return self.text()
        if name == "roles":
            return [(table("roles")[self.number(2)], self.target()) for _ in range(self.number(2))]
        if name == "feel":
            swing = [table("swung")[self.number(1)], self.number(2), self.number(2)] if self.fixed(1) else ["", 1, 1]
            pushes = []
            for _ in range(self.number(2)):
                surface, sign = "all" if self.fixed(1) else self.target(), -1 if self.fixed(1) else 1
                pushes.append((surface, sign * self.number(4)))
            return [*swing, pushes]
        if name in ("graces", "hands"):
            for _ in range(self.number(3)):
                for stroke in lines[self.number(3)]:
                    stroke[3 if name == "graces" else 4] = table(name)[self.number(3 if name == "graces" else 2)]
            return True
        if name == "details":
            made = []
            for _ in range(self.number(3)):
                surface, num, den = self.target(), self.number(6), self.number(6)
                rest = [
                    table("dynamics")[self.fixed(2)],
                    table("graces")[self.number(3)],
                    table("hands")[self.number(2)],
                ]
                made.append([WHOLE * num // den, surface, *rest])
            return made
        if name == "keys":
            return [[self.number(4) for _ in range(count)], self.number(4)]
        return {self.number(3): self.text() for _ in range(self.number(3))}


def known(groove: Groove) -> dict[str, Any]:
    """What the other reader must have found, from the groove itself."""
    meter = groove.base.meter
    made: dict[str, Any] = {
        "meter": str(meter), "groups": None if meter.is_usual else list(meter.grouping), "title": groove.title,
        "columns": groove.base.columns, "bars": groove.base.bars, "tempo": groove.tempo,
        "strokes": sorted(
            ([s.at, s.surface, s.dynamic, s.grace or "none", s.hand or "free"] for s in groove.base.strokes), key=str
        ),
    }  # fmt: skip
    feel = groove.feel
    swing = (feel.swung, feel.long, feel.short)
    made["note"], made["roles"] = groove.note, list(groove.roles)
    made["feel"] = None if swing == ("", 1, 1) and not feel.pushes else [*swing, list(feel.pushes)]
    keys = [variation.key for variation in groove.variations]
    usual = keys == list(range(1, len(keys) + 1)) and groove.next_key == len(keys) + 1
    made["keys"] = None if usual else [keys, groove.next_key]
    made["names"] = {i: v.name for i, v in enumerate(groove.variations) if v.name}
    made["notes"] = {i: v.note for i, v in enumerate(groove.variations) if v.note}
    return made


TEXTS = [path.read_text(encoding="utf-8") for path in sorted((ROOT / "examples").rglob("*.toml"))]
TEXTS += re.findall(r"^```toml complete\n(.*?)^```$", GUIDE, re.MULTILINE | re.DOTALL)
LAST_OF_THE_GUIDE = TEXTS[-1]
TEXTS += re.findall(r"^```toml complete\n(.*?)^```$", KINDS, re.MULTILINE | re.DOTALL)


@pytest.mark.parametrize("text", TEXTS)
def test_another_reader_finds_what_was_written(text: str):
    groove = read_groove(text)
    found = Another(write_link(groove)).document()
    variations = found.pop("variations")
    expected = known(groove)
    assert {key: found.get(key) or None for key in expected} == {key: value or None for key, value in expected.items()}
    assert [(v["kind"], v["on"], set(v["settings"])) for v in variations] == [
        (v.kind, v.on, {name for name, _ in v.settings}) for v in groove.variations
    ]


def test_another_reader_finds_the_settings():
    found = Another(write_link(read_groove(LAST_OF_THE_GUIDE))).document()["variations"]
    assert found[0]["settings"] == {"surface": "kick", "at": [False, [(2, "none", "all")]], "by": "1/8 earlier"}
    assert found[1]["settings"] == {"surface": "riding", "to": "hi-hat", "then": {"to": "open hi-hat"}}
    assert found[2]["settings"]["changes"] == [
        ["+", "floor tom", 2, (7, "0/1"), "accent", "none", "free"], ["-", "snare", 1, (3, "0/1")],
        ["=", "kick", 0, (1, "0/1"), "ghost", None, None],
    ]  # fmt: skip
    text = """groundbeat = 1
[[variation]]
kind = "ostinato"
cell = "dotted eighth sixteenth triplet rest whole"
restart = "bar"
[[variation]]
kind = "embellish"
at = "2:first backbeat 4[2/7] trip free"
dynamic = "accent"
grace = "drag"
clear-of = ["riding", "shell"]
[[variation]]
kind = "displace"
by = "3/40 later"
"""
    ostinato, embellish, displace = (
        v["settings"] for v in Another(write_link(read_groove(text))).document()["variations"]
    )
    notes = [("eighth", "dotted", True), ("sixteenth", "triplet", False), ("whole", "plain", True)]
    assert ostinato == {"cell": notes, "restart": "bar"}
    assert embellish == {
        "at": [True, [(2, "first", "backbeats"), (0, "none", (4, "1/7")), (0, "none", (0, "1/3"))]],
        "dynamic": "accent", "grace": "drag", "clear-of": ["riding", "shell"],
    }  # fmt: skip
    assert displace == {"by": "3/40 later"}
    assert fraction(3 * WHOLE // 40) == "3/40"


def test_another_reader_finds_settings_of_every_type():
    text = """groundbeat = 1
[[variation]]
kind = "orchestrate"
at = "accents 2:last kick stage 7 hi-hat-foot"
to = "snare"
turn = ["high tom", "high tom", "floor tom"]
[[variation]]
kind = "dynamics"
every = 3
start = 2
[[variation]]
kind = "grouping"
groups = "3+3+2"
step = "eighth triplet"
mark = "alone"
[[variation]]
kind = "sticking"
pattern = "RLRK L-"
[[variation]]
kind = "feel"
swing = "sixteenths 3:2"
push = "12 ms early"
"""
    orchestrate, dynamics, grouping, sticking, feel = (
        v["settings"] for v in Another(write_link(read_groove(text))).document()["variations"]
    )
    terms = [
        (0, "none", "accents"), (2, "last", "where kick"), (0, "none", "stage 7"), (0, "none", "where hi-hat foot"),
    ]  # fmt: skip
    assert orchestrate == {"at": [False, terms], "to": "snare", "turn": ["high tom", "high tom", "floor tom"]}
    assert dynamics == {"every": 3, "start": 2}
    assert grouping == {"groups": [3, 3, 2], "step": ("eighth", "triplet", True), "mark": "alone"}
    assert sticking == {"pattern": "RLRKL-"}
    assert feel == {"swing": ["sixteenths", 3, 2], "push": -12}
