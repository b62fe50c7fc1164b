"""Which parts does a score have, and what do they declare?

A score goes part by part (score-partwise) or bar by bar (score-timewise, which is turned round). A lone `part` or
`measure`, as documentation shows them, is read as a score of that.
"""

from __future__ import annotations

from typing import NamedTuple

from ...errors import MusicXmlError
from .read_tree import Node

OWN = "Groundbeat"  # what our own files name as their program
DRUM_CHANNEL = 10
MAX_MEASURES = 20_000  # in a part: hours of music. Our choice


class Instrument(NamedTuple):
    """One that a part declares; `key` is `midi-unpitched` as it stands in the file, 0 where there is none."""

    id: str
    name: str
    sound: str
    key: int
    channel: int


class Part(NamedTuple):
    """A part with its measures as elements; `label` is how it is called in sentences."""

    id: str
    name: str
    label: str
    instruments: dict[str, Instrument]
    measures: list[Node]


class Piece(NamedTuple):
    """A score: its parts; `own` where Groundbeat wrote it."""

    title: str
    own: bool
    parts: tuple[Part, ...]


def read_piece(root: Node) -> Piece:
    """Read the parts of a score; MusicXmlError for a file that is none."""
    if root.tag == "score-partwise":
        parts = [(node.get("id"), node.all("measure")) for node in root.all("part")]
    elif root.tag == "score-timewise":
        parts = _turned(root)
    elif root.tag == "part":
        parts = [(root.get("id"), root.all("measure"))]
    elif root.tag == "measure":
        parts = [("", [root])]
    else:
        raise MusicXmlError(_not_a_score(root))
    declared = {node.get("id"): node for part_list in root.all("part-list") for node in part_list.all("score-part")}
    made = tuple(
        _part(number, key, declared.get(key), measures) for number, (key, measures) in enumerate(parts, start=1)
    )
    if not any(part.measures for part in made):
        raise MusicXmlError("the score has no bars; export it anew, with its parts")
    title = root.said("work", "work-title") or root.said("movement-title")
    software = [node.text for node in root.below() if node.tag == "software"] if root.has("identification") else []
    return Piece(title, any(OWN in text for text in software), made)


def _not_a_score(root: Node) -> str:
    if root.tag == "opus":
        return "it is a list of scores (opus), not a score; open one of the scores that it names"
    if root.tag.lower() == "html":
        return "it is a web page; use the download link of the score, not the page about it"
    return (
        f"its root is <{root.tag[:40]}>, and a score's is <score-partwise> or <score-timewise>; "
        "export the score as MusicXML"
    )


def _turned(root: Node) -> list[tuple[str, list[Node]]]:
    """Turn bar by bar into part by part; a part that a bar leaves out has it empty."""
    measures = root.all("measure")
    keys = list(dict.fromkeys(part.get("id") for measure in measures for part in measure.all("part")))
    turned: list[tuple[str, list[Node]]] = []
    found = [{part.get("id"): part for part in measure.all("part")} for measure in measures]
    for key in keys:
        row = []
        for measure, parts in zip(measures, found, strict=True):
            node = Node("measure", measure.attributes)
            node.children = parts[key].children if key in parts else []
            row.append(node)
        turned.append((key, row))
    return turned


def _part(number: int, key: str, declared: Node | None, measures: list[Node]) -> Part:
    if len(measures) > MAX_MEASURES:
        raise MusicXmlError(f"a part of {len(measures)} bars; at most {MAX_MEASURES} are read. Export fewer")
    instruments: dict[str, Instrument] = {}
    name = ""
    if declared is not None:
        name = declared.said("part-name")
        midi = {node.get("id"): node for node in declared.all("midi-instrument")}
        for node in declared.all("score-instrument"):
            sounds = midi.get(node.get("id"))
            instruments[node.get("id")] = Instrument(
                node.get("id"),
                node.said("instrument-name"),
                node.said("instrument-sound"),
                _number(sounds, "midi-unpitched"),
                _number(sounds, "midi-channel"),
            )
    return Part(key, name, name or f"part {number}", instruments, measures)


def _number(node: Node | None, name: str) -> int:
    text = node.said(name) if node is not None else ""
    return int(text) if text.isascii() and text.isdigit() and len(text) <= 3 else 0
