"""How do `check`, `plan` and `suggest` read, as text and as JSON?

Each asks the same view that a page gets. The JSON keeps its keys and what they mean; more may be added.
"""

from __future__ import annotations

import json
from typing import Any, NamedTuple

from ..analysis.limbs import HAT_FOOT, KICK_FOOT, Playing
from ..analysis.player import CLUTCH, DOUBLE_PEDAL, LEFT_HANDED, OPEN_HANDED, Player, read_player
from ..bridge.plan_view import plan_view
from ..bridge.playing_answers import hundredths, stage_of
from ..bridge.playing_view import played, playing_view
from ..bridge.suggest_view import suggest_view
from ..codec.account import heading, numbers
from ..codec.tab import tab
from ..model.count import spoken
from ..model.groove import Groove
from ..model.place import place_at
from ..variation.stack import Stage, grow, plain

WIDTH = 100  # columns that a line is wrapped to; our choice


class Told(NamedTuple):
    """The reply that a page would get, with the stages that it is about, and the one that was asked for."""

    reply: dict[str, Any]
    stages: tuple[Stage, ...]
    stage: Stage
    playing: Playing | None = None


def player(text: str, left_handed: bool, open_handed: bool, double_pedal: bool, clutch: bool) -> Player:
    """Read who plays: the words of --player and those of the switches."""
    flags = {LEFT_HANDED: left_handed, OPEN_HANDED: open_handed, DOUBLE_PEDAL: double_pedal, CLUTCH: clutch}
    return read_player("; ".join([*(word for word, is_so in flags.items() if is_so), text]))


def _stages(groove: Groove, stage: int) -> tuple[tuple[Stage, ...], int]:
    stages = grow(groove)
    return stages, stage_of(len(stages) - 1 if stage == -1 else stage, stages)


def checked(groove: Groove, stage: int, who: Player, tempo: float) -> Told:
    """Work out everything about playing a stage; -1 is the last one."""
    stages, number = _stages(groove, stage)
    at = hundredths(tempo, "tempo")
    reply = playing_view(groove, stages, stages, number, who, at, thorough=True)
    return Told(reply, stages, stages[number], played(groove, stages[number], who, at))


def planned(groove: Groove, stage: int, who: Player, clean: float, every: bool) -> Told:
    """Work out how to practise a stage."""
    stages, number = _stages(groove, stage)
    return Told(plan_view(groove, stages, number, who, hundredths(clean, "clean"), every), stages, stages[number])


def suggested(groove: Groove, stage: int, who: Player, wish: str, keep: str, seed: int) -> Told:
    """Search for what could follow a stage."""
    stages, number = _stages(groove, stage)
    return Told(suggest_view(groove, stages, number, who, wish=wish, keep=keep, seed=seed), stages, stages[number])


def check_account(told: Told) -> dict[str, Any]:
    """Tell a check to another program."""
    reply = told.reply
    verdict = reply["verdict"]
    return {
        "stage": reply["stage"],
        "tempo": reply["tempo"],
        "player": reply["player"],
        "playable": verdict["playable"],
        "verdict": {"kind": verdict["kind"], "text": verdict["text"]},
        "troubles": reply["troubles"],
        "fastest": reply["fastest"],
        "comfortable": reply["comfortable"],
        "limbs": {row["id"]: row["limb"] for row in reply["limbs"]},
        "types": {row["id"]: row["type"] for row in reply["limbs"] if row["type"]},
        "spots": reply["spots"],
        "demand": reply["demand"],
        "home": reply["home"][reply["stage"]],
    }


def check_lines(told: Told) -> list[str]:
    """Tell a check to a person."""
    reply, stage, playing = told.reply, told.stage, told.playing
    assert playing is not None
    lines = [*_head(told, f"at {reply['tempo']:g}"), ""]
    lines += [f"    {line}" for line in tab(stage.beat, sticking(playing)).split("\n")]
    verdict = reply["verdict"]
    lines += ["", _sentence(verdict["text"]) if verdict["text"] else "Playable."]
    if len(reply["troubles"]) > 1:
        lines += _wrapped(*(_sentence(trouble["text"]) for trouble in reply["troubles"]))
    lines += _wrapped(f"Comfortable {_limit(reply['comfortable'])}", f"Fastest {_limit(reply['fastest'])}", before="")
    lines += ["", "Before you play it:" if reply["spots"] else "No tricky spots."]
    for spot in reply["spots"]:
        lines += _wrapped(spot["text"])
        lines += _wrapped(_sentence(spot["leave_out_text"]), before="    ") if spot["leave_out_text"] else []
    lines += ["", "What it asks, part by part, 0 to 100 (in brackets: the stage before):"]
    for part in reply["demand"]:
        before = "" if part["before"] is None else f"({part['before']})"
        lines += _wrapped(f"{part['part']:<13}{part['value']:>3} {before:<6}{part['text']}", deeper=23)
    home = reply["home"][stage.number]
    lines += ["", f"From home: {home['distance']} of 100. {_sentence(home['text'])}"]
    return lines


def sticking(playing: Playing) -> list[tuple[str, dict[int, str]]]:
    """Rows of letters for under a tab: one for each hand, and one for the feet, where B means both at once."""
    rows: dict[str, dict[int, str]] = {}
    names = playing.limb_names()
    for stroke in playing.beat.strokes:
        limb = names.get(stroke.id)
        if limb is None:
            continue
        foot = playing.limbs[stroke.id] in (KICK_FOOT, HAT_FOOT)
        row = rows.setdefault("feet" if foot else limb, {})
        row[stroke.at] = "B" if stroke.at in row else limb[0].upper()
    return [(name, rows[name]) for name in ("right hand", "left hand", "feet") if name in rows]


def plan_account(told: Told) -> dict[str, Any]:
    """Tell a plan to another program."""
    return {name: value for name, value in told.reply.items() if name != "answer"}


def plan_lines(told: Told) -> list[str]:
    """Tell a plan to a person."""
    reply = told.reply
    lines = [reply["title"], f"From {reply['start']} to {reply['goal']}, about {reply['minutes']} minutes."]
    for number, step in enumerate(reply["steps"], 1):
        tempos = ", ".join(str(tempo) for tempo in step["tempos"])
        each = "at each" if len(step["tempos"]) > 1 else ""
        lines += ["", f"{number} {step['title']} ({step['minutes']} min)"]
        lines += _wrapped(_sentence(step["do"]))
        lines += _wrapped(f"Listen: {step['listen']}") if step["listen"] else []
        lines += _wrapped(_loop(step, told.stages)) if step["start"] is not None else []
        lines += _wrapped(_sentence(f"Tempo {tempos}; {step['passes']} passes {each}".rstrip())) if tempos else []
    lines += ["", *(line for text in reply["cautions"] for line in _wrapped(_sentence(text), before=""))]
    return lines


def _loop(step: dict[str, Any], stages: tuple[Stage, ...]) -> str:
    beat = stages[step["stage"]].beat
    first, last = (
        spoken(place_at(at, beat.meter), bars=beat.bars) for at in (step["start"], step["end"] - beat.column)
    )
    return f"Loop from {first} to {last}."


def suggest_account(told: Told) -> dict[str, Any]:
    """Tell suggestions to another program; settings are as in a groove file."""
    rows = [row | {"settings": json.loads(row["settings"])} for row in told.reply["suggestions"]]
    return {"stage": told.stage.number, **{n: v for n, v in told.reply.items() if n != "answer"}, "suggestions": rows}


def suggest_lines(told: Told) -> list[str]:
    """Tell suggestions to a person."""
    lines = [*_head(told), *(_sentence(text) for text in told.reply["says"])]
    number_of = numbers(told.stages)
    for number, row in enumerate(told.reply["suggestions"], 1):
        change = f" (instead of stage {number_of[row['key']]})" if row["key"] else ""
        moved = [part for part in row["parts"] if part["before"] != part["after"]]
        lines += ["", f"{number} {row['heading']}{change}"]
        lines += _wrapped(row["plain"], _sentence(row["why"]))
        lines += _wrapped(", ".join(f"{part['part']} {part['before']} to {part['after']}" for part in moved))
    return lines


def _head(told: Told, more: str = "") -> list[str]:
    stage = told.stage
    lines = [" ".join(filter(None, (str(stage.number), heading(stage), more)))]
    return lines + ([f"  {plain(stage.variation, numbers(told.stages))}"] if stage.variation else [])


def _wrapped(*texts: str, before: str = "  ", deeper: int = 0) -> list[str]:
    from textwrap import wrap

    lines: list[str] = []
    for text in texts:
        lines += wrap(
            text, WIDTH, initial_indent=before, subsequent_indent=before + " " * deeper, break_on_hyphens=False
        )
    return lines


def _sentence(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}" + ("" if text.endswith((".", "!", "?")) else ".")


def _limit(limit: dict[str, Any]) -> str:
    tempo = "at no tempo" if limit["bpm"] is None else f"up to {limit['bpm']}"
    return f"{tempo}: {limit['because']}." if limit["because"] else f"{tempo}."
