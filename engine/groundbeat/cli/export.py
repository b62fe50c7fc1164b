"""The command that writes a groove as a file of another kind: a sound, a set to play along with, tablature, TOML.

What the file is, its name's end says. What makes sound is imported on use: it needs NumPy.
"""

from __future__ import annotations

import math
import os
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import IO, Annotated, Any

import typer

from ..codec.groove_write import write_groove
from ..codec.tab_text import tab_text
from ..errors import RequestError
from ..variation.stack import grow
from . import midi_export, paper_export, score_export
from .sources import BARS, GROOVE, load, tell

SOUND, TEXT, SET = (".wav", ".flac"), (".toml", ".txt"), ".zip"
COUNTS = ("click", "pitched", "spoken")
MIDI, SCORE, PAPER = midi_export.ENDS, score_export.ENDS, paper_export.ENDS
LOOPS = 4  # rounds of a file where it is not said. Our choice
LOOSE = 20  # how loosely a file is played where it is not said; a set is practised with and is exact. As on the page

OUT = typer.Option(
    "-o",
    metavar="FILE",
    help="A .wav .flac .mid .musicxml .mxl .pdf .svg .png .txt or .toml file, or .zip with --set.",
)
STAGE = typer.Option("--stage", metavar="N", help="Which stage: 0 is the base beat, the last one if it is not said.")
TEMPO = typer.Option("--tempo", metavar="BPM", help="Tempo in beats a minute; the groove's goal if it is not said.")
ROUNDS = typer.Option("--loops", metavar="N", help=f"How often the stage is played; {LOOPS} if it is not said.")
CLICK = typer.Option("--click", help="With a click on the beats.")
COUNT = typer.Option("--count-in", metavar="BARS", help="Bars of clicks before it begins: 0, 1 or 2.")
KIND = typer.Option("--clicks", metavar="KIND", help="Which click, such as off-beats; with it a click sounds.")
KIT = typer.Option("--kit", metavar="NAME", help="On which of the kits it sounds; the first one if it is not said.")
MIX = typer.Option("--mix", metavar="0..1", help="From the base beat, 0, to the stage, 1, as the page's slider.")
ADDED = typer.Option("--only-added", help="Only what was added to the base beat.")
SEAMLESS = typer.Option("--seamless", help="To be repeated without a gap: what rings at the end is at the beginning.")
AS_SET = typer.Option("--set", help="A set to play along with: a file for every tempo of the practice plan, zipped.")
CLEAN = typer.Option("--clean", metavar="BPM", help="With --set: the last tempo at which it was clean.")
COUNTED = typer.Option("--count", metavar="HOW", help="Click and count-in as a click, or a pitched or spoken count.")
LOUD = typer.Option(
    "--click-volume", metavar="0..2", help="Of click and count-in, 1 if it is not said; a click sounds."
)
PAN = typer.Option("--click-pan", metavar="-1..1", help="Click and count-in from left, -1, to right, 1.")
FORM = typer.Option("--as", metavar="FORM", help="With --set: the files in it, flac or wav.")
HEAR = typer.Option("--hear", metavar="WORDS", help='Only a part of it: "hands", "left foot", "added here" ...')
PLAYER = typer.Option("--player", metavar="TEXT", help='With --set, or a limb to hear: who plays, as for "plan".')
THROUGH = typer.Option("--through", help="All stages up to this one, each so many loops, one after the other.")
BACK = typer.Option("--back", help="With --through: and back to the base beat.")
HAND = typer.Option(
    "--loose", metavar="0..100", help=f"From exactly as written, 0, to a loose hand; {LOOSE}, in a set 0, if not said."
)
SEED = typer.Option("--seed", metavar="N", help="Another hand that is as loose, by a number.")


def export(
    groove: Annotated[str, GROOVE],
    out: Annotated[Path, OUT],
    stage: Annotated[int, STAGE] = -1,
    tempo: Annotated[float, TEMPO] = 0,
    loops: Annotated[int | None, ROUNDS] = None,
    click: Annotated[bool, CLICK] = False,
    count_in: Annotated[int | None, COUNT] = None,
    clicks: Annotated[str, KIND] = "",
    kit: Annotated[str, KIT] = "",
    mix: Annotated[float, MIX] = 1,
    only_added: Annotated[bool, ADDED] = False,
    seamless: Annotated[bool, SEAMLESS] = False,
    as_set: Annotated[bool, AS_SET] = False,
    clean: Annotated[float, CLEAN] = 0,
    form: Annotated[str, FORM] = "",
    loose: Annotated[int | None, HAND] = None,
    seed: Annotated[int | None, SEED] = None,
    profile: Annotated[str, midi_export.PROFILE] = "",
    ticks: Annotated[int, midi_export.TICKS] = 0,
    straight: Annotated[bool, midi_export.STRAIGHT] = False,
    rimshot: Annotated[int, midi_export.RIMSHOT] = 0,
    voices: Annotated[int, score_export.VOICES] = 0,
    sticking: Annotated[str, score_export.STICKING] = "",
    counts: Annotated[bool, score_export.COUNTS] = False,
    bar_signs: Annotated[bool, score_export.SIGNS] = False,
    older_marks: Annotated[bool, score_export.OLDER] = False,
    bars: Annotated[str, BARS] = "",
    hear: Annotated[str, HEAR] = "",
    player: Annotated[str, PLAYER] = "",
    through: Annotated[bool, THROUGH] = False,
    back: Annotated[bool, BACK] = False,
    count: Annotated[str, COUNTED] = "",
    click_volume: Annotated[float | None, LOUD] = None,
    click_pan: Annotated[float, PAN] = 0,
    paper: Annotated[str, paper_export.PAPER] = "",
    large: Annotated[bool, paper_export.LARGE] = False,
    no_counts: Annotated[bool, paper_export.NO_COUNTS] = False,
    no_sticking: Annotated[bool, paper_export.NO_STICKING] = False,
    at: Annotated[str, paper_export.AT] = "",
) -> None:
    """Write a stage as sound, MIDI, MusicXML or a staff, or the groove as a lesson sheet, tablature or groove file."""
    end = _kind(out, as_set)
    printed = paper_export.Asked(paper, large, voices, no_counts, no_sticking, at, player)
    asked = {
        "--tempo": tempo, "--loops": loops is not None, "--click": click, "--count-in": count_in is not None,
        "--clicks": clicks, "--kit": kit,
        "--mix": mix != 1, "--only-added": only_added, "--seamless": seamless, "--clean": clean, "--as": form,
        "--hear": hear, "--player": player, "--through": through, "--back": back,
        "--loose": loose is not None, "--seed": seed is not None,
        "--count": count, "--click-volume": click_volume is not None, "--click-pan": click_pan,
        "--profile": profile, "--ticks": ticks, "--straight": straight, "--rimshot": rimshot,
        "--voices": voices, "--sticking": sticking, "--counts": counts, "--bar-signs": bar_signs,
        "--older-marks": older_marks, **paper_export.given(printed),
    }  # fmt: skip
    _only_where_it_counts(asked, end)
    document = load(groove, bars)
    stages = grow(document)
    if stage >= len(stages) or stage < -1:
        raise RequestError(f"there are stages 0 to {len(stages) - 1}, not {stage}", field="stage")
    if end in MIDI:
        hundredths = _hundredths(tempo, "tempo") if tempo else 0
        asked_for = midi_export.wish(stage, through, loops, hundredths, profile, ticks, straight, rimshot)
        data = midi_export.made(document, stages, asked_for)
        write(out, lambda handle: handle.write(data))
        return
    if end in SCORE:
        hundredths = _hundredths(tempo, "tempo") if tempo else 0
        data = score_export.made(
            document, stages, end, stage, through, hundredths, voices, sticking, counts, bar_signs, older_marks
        )
        write(out, lambda handle: handle.write(data))
        return
    if end in PAPER:
        write(out, lambda handle: paper_export.fill(handle, end, document, stages, stage, printed))
        return
    if end in TEXT:
        text = write_groove(document) if end == ".toml" else tab_text(document, stages, stage)
        write(out, lambda handle: handle.write(text.encode("utf-8")))
        return
    from ..analysis.player import read_player
    from ..sound.file import written
    from ..sound.modes import RATE
    from ..sound.setups import DRY, SETUPS
    from ..sound.stage import Heard
    from ..sound.takealong import Wish, make, way_through, write_set
    from ..timeline.clicks import BEATS
    from ..timeline.hand import USUAL_SEED, Hand, checked
    from ..timeline.part import LIMBS, part_named

    number = stage if stage >= 0 else len(stages) - 1
    heard = Heard(mix, only_added, *_clicked(click or bool(clicks), count, click_volume, click_pan, count_in))
    if kit and kit not in SETUPS:
        raise RequestError(f'there is no kit "{kit}"; there are {", ".join(SETUPS)}', field="kit")
    setup, kind = SETUPS.get(kit, DRY), clicks or BEATS
    part, who = part_named(hear), read_player(player)
    if player and end != SET and part not in LIMBS:
        raise RequestError("--player does nothing here: it goes with --set, or with a limb to --hear", field="player")
    if back and not through:
        raise RequestError("--back says how --through ends: say both, or neither", field="back")
    usual = 0 if end == SET else LOOSE
    hand = checked(Hand(usual if loose is None else loose, USUAL_SEED if seed is None else seed))
    if seed is not None and not hand.loose:
        raise RequestError("--seed does nothing where it is played exactly as written; say --loose", field="seed")
    if end == SET:
        coded = form.lower().removeprefix(".") or "flac"
        if f".{coded}" not in SOUND:
            raise RequestError(f'the files of a set are flac or wav, not "{form}"', field="as")
        if loops == 0:
            raise RequestError("a stage is played at least once, not 0 times", field="loops")
        wish = Wish(
            number, 0, loops or 0, heard, 1 if count_in is None else count_in, False, kind, setup, part, who, (), *hand
        )
        hundredths = _hundredths(clean, "clean")
        write(out, lambda handle: write_set(handle, document, stages, wish, f".{coded}", hundredths))
        return
    hundredths = _hundredths(tempo, "tempo") if tempo else document.tempo
    rounds = LOOPS if loops is None else loops
    way = way_through(stages, number, back) if through else ()
    wish = Wish(number, hundredths, rounds, heard, count_in or 0, seamless, kind, setup, part, who, way, *hand)
    made = make(document, stages, wish)
    if made.quieter:
        tell(f"made quieter by {made.quieter:.1f} dB, so that nothing is distorted")
    write(out, lambda handle: handle.write(written(made.numbers, end, RATE)))


def _clicked(
    on: bool, count: str, volume: float | None, pan: float, count_in: int | None
) -> tuple[float, float, float, str]:
    """Loudness of the click and of the count-in, where they are, and how they sound.

    With a volume, a place or a voice for it a click sounds, unless they are for a count-in that was asked for alone.
    """
    if count not in ("", *COUNTS):
        raise RequestError(f'there is no count "{count[:40]}"; there are {", ".join(COUNTS)}', field="count")
    loud = 1.0 if volume is None else volume
    if not math.isfinite(loud) or not math.isfinite(pan):
        raise RequestError("the volume and the place of the click are numbers", field="click-volume")
    meant = count or volume is not None or pan
    return loud if on or (meant and not count_in) else 0.0, loud, pan, "" if count == "click" else count


def _kind(out: Path, as_set: bool) -> str:
    """Tell from its end what a file is to be."""
    end = out.suffix.lower()
    if as_set and end != SET:
        raise RequestError(f'a set is a .zip file; "{out.name}" is none', field="o")
    if end == SET and not as_set:
        raise RequestError("a .zip file holds a set to play along with: say --set", field="o")
    if end not in (*SOUND, *MIDI, *SCORE, *PAPER, *TEXT, SET):
        known = ", ".join((*SOUND, MIDI[0], *SCORE, *PAPER, *TEXT))
        what = f'cannot write "{end}" files' if end else f'"{out.name}" has no end that says what it is to be'
        raise RequestError(f"{what}; there are {known}, and .zip with --set", field="o")
    return end


def _only_where_it_counts(asked: dict[str, Any], end: str) -> None:
    """Refuse what would do nothing."""
    given = [name for name, value in asked.items() if value]
    others = (*midi_export.ONLY, *score_export.ONLY, *paper_export.ONLY)
    sound = ("--clean", "--as", *others)
    midi, score, paper = (
        tuple(name for name in asked if name not in of.COUNT) for of in (midi_export, score_export, paper_export)
    )
    idle = {
        ".toml": asked, ".txt": asked, SET: ("--tempo", "--seamless", "--through", "--back", *others),
        ".wav": sound, ".flac": sound, **dict.fromkeys(MIDI, midi), **dict.fromkeys(SCORE, score),
        **{name: (*paper, *paper_export.idle(name)) for name in PAPER},
    }[end]  # fmt: skip
    wrong = [name for name in given if name in idle]
    if wrong:
        raise RequestError(f"{wrong[0]} does nothing for a {end} file; leave it out", field=wrong[0].lstrip("-"))


def _hundredths(tempo: float, name: str) -> int:
    if not math.isfinite(tempo):
        raise RequestError(f"--{name} is {tempo}, which is no tempo", field=name)
    return round(tempo * 100)


def write(out: Path, fill: Callable[[IO[bytes]], object]) -> None:
    """Write a file whole or not at all: what was there stays until the new one is complete."""
    try:
        number, name = tempfile.mkstemp(dir=out.parent, prefix=f".{out.name}.")
    except OSError as error:
        raise RequestError(f"{out}: cannot be written ({error.strerror})", field="o") from None
    try:
        with open(number, "wb") as handle:
            fill(handle)
        os.chmod(name, 0o644)
        os.replace(name, out)
    except OSError as error:
        raise RequestError(f"{out}: cannot be written ({error.strerror})", field="o") from None
    finally:
        Path(name).unlink(missing_ok=True)
