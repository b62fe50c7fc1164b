"""Commands that tell how a stage is played: who plays what and how fast, how to practise it, what could come next.

What works it out is imported on use, so that the other commands start as quickly as before.
"""

from __future__ import annotations

from typing import Annotated, Any

import typer

from .sources import BARS, GROOVE, JSON, load

STAGE = typer.Option("--stage", metavar="N", help="Which stage: 0 is the base beat, the last one if it is not said.")
TEMPO = typer.Option("--tempo", metavar="BPM", help="Tempo in beats a minute; the groove's goal if it is not said.")
LEFT = typer.Option("--left-handed", help="A left-handed player: the kit stands the other way round.")
OPEN = typer.Option("--open-handed", help="The hands do not cross: the other hand rides.")
DOUBLE = typer.Option("--double-pedal", help="Two pedals on the kick.")
DROP = typer.Option("--drop-clutch", help="A drop clutch keeps the hi-hat closed without a foot.")
PLAYER = typer.Option("--player", metavar="TEXT", help='The player in words, such as "open-handed; left hand 55".')
CLEAN = typer.Option("--clean", metavar="BPM", help="The last tempo at which it was clean.")
ALL = typer.Option("--all", help="All stages, from the base beat to this one.")
WISH = typer.Option("--wish", metavar="TEXT", help='What is wished, such as "a little busier" or "easier".')
KEEP = typer.Option("--keep", metavar="WORDS", help='What stays as it is, such as "backbeats kick riding".')
SEED = typer.Option("--seed", metavar="N", help="Another number gives other suggestions.")


def check(
    groove: Annotated[str, GROOVE],
    stage: Annotated[int, STAGE] = -1,
    tempo: Annotated[float, TEMPO] = 0,
    bars: Annotated[str, BARS] = "",
    left_handed: Annotated[bool, LEFT] = False,
    open_handed: Annotated[bool, OPEN] = False,
    double_pedal: Annotated[bool, DOUBLE] = False,
    drop_clutch: Annotated[bool, DROP] = False,
    player: Annotated[str, PLAYER] = "",
    as_json: Annotated[bool, JSON] = False,
) -> None:
    """Tell who plays what in a stage, how fast it can go, its tricky spots, and what it asks of a player."""
    from . import playing_text as text

    who = text.player(player, left_handed, open_handed, double_pedal, drop_clutch)
    told = text.checked(load(groove, bars), stage, who, tempo)
    _print(told, text.check_account, text.check_lines, as_json)


def plan(
    groove: Annotated[str, GROOVE],
    stage: Annotated[int, STAGE] = -1,
    every: Annotated[bool, ALL] = False,
    clean: Annotated[float, CLEAN] = 0,
    bars: Annotated[str, BARS] = "",
    left_handed: Annotated[bool, LEFT] = False,
    open_handed: Annotated[bool, OPEN] = False,
    double_pedal: Annotated[bool, DOUBLE] = False,
    drop_clutch: Annotated[bool, DROP] = False,
    player: Annotated[str, PLAYER] = "",
    as_json: Annotated[bool, JSON] = False,
) -> None:
    """Lay out how to practise a stage, step by step."""
    from . import playing_text as text

    who = text.player(player, left_handed, open_handed, double_pedal, drop_clutch)
    told = text.planned(load(groove, bars), stage, who, clean, every)
    _print(told, text.plan_account, text.plan_lines, as_json)


def suggest(
    groove: Annotated[str, GROOVE],
    stage: Annotated[int, STAGE] = -1,
    wish: Annotated[str, WISH] = "",
    keep: Annotated[str, KEEP] = "",
    seed: Annotated[int, SEED] = 0,
    bars: Annotated[str, BARS] = "",
    left_handed: Annotated[bool, LEFT] = False,
    open_handed: Annotated[bool, OPEN] = False,
    double_pedal: Annotated[bool, DOUBLE] = False,
    drop_clutch: Annotated[bool, DROP] = False,
    player: Annotated[str, PLAYER] = "",
    as_json: Annotated[bool, JSON] = False,
) -> None:
    """Suggest variations that could follow a stage."""
    from . import playing_text as text

    who = text.player(player, left_handed, open_handed, double_pedal, drop_clutch)
    told = text.suggested(load(groove, bars), stage, who, wish, keep.replace(",", " "), seed)
    _print(told, text.suggest_account, text.suggest_lines, as_json)


def _print(told: Any, account: Any, lines: Any, as_json: bool) -> None:
    import json

    print(json.dumps(account(told), ensure_ascii=False, indent=1) if as_json else "\n".join(lines(told)))
