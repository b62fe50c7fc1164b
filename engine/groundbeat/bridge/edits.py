"""What does an edit from the page do to the document?

Each edit gives a new groove, the stage to be chosen, and what is to be said. The old document is untouched: the page
keeps both, so undo is a list of documents.
"""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

from ..errors import RequestError, VariationError, shown
from ..model.beat import Beat
from ..model.groove import MAX_NAME, MAX_NOTE, Groove, check_text
from ..model.kit import surface
from ..model.meter import Meter
from ..variation import gesture, reshape, stack, ways
from ..variation.catalogue import kind
from ..variation.setting import GROUP, LISTS
from . import messages as ask
from .on_use import EditOnUse

QUALITIES = ("dynamic", "grace", "hand")
EMPTY_LINES = ("hi-hat", "snare", "kick")


class Edited(NamedTuple):
    """A new groove, the number of the stage to be chosen, and remarks."""

    groove: Groove
    select: int
    says: tuple[str, ...] = ()


def empty() -> Groove:
    """An empty beat to begin with."""
    return Groove(base=Beat(Meter.of("4/4")), lines=EMPTY_LINES)


def edit(request: ask.Edit, groove: Groove, stages: tuple[stack.Stage, ...]) -> Edited:
    """Do what an edit asks; other ways go on leaving from where they should."""
    if isinstance(request, ask.OfWays):
        return _of_ways(request, groove)
    if isinstance(request, EditOnUse):
        from .taking import edit_on_use  # most pages never ask

        edited = Edited(*edit_on_use(request, groove, stages))
    else:
        edited = _of_one_way(request, groove, stages)
    if not groove.branches:
        return edited
    new, says = ways.follow(groove, edited.groove)
    return edited._replace(groove=new, says=(*edited.says, *says))


def _of_ways(request: ask.OfWays, groove: Groove) -> Edited:
    if isinstance(request, ask.Fork):
        new = ways.fork(groove, request.after)
        return Edited(new, len(new.variations))
    if isinstance(request, ask.Exchange):
        new = ways.exchange(groove, request.way)
        return Edited(new, len(new.variations))
    if isinstance(request, ask.Part):
        return Edited(ways.part(groove, request.way), -1)
    return Edited(ways.call(groove, request.way, request.name), -1)


def _of_one_way(request: ask.OfOneWay, groove: Groove, stages: tuple[stack.Stage, ...]) -> Edited:
    if isinstance(request, ask.Tap):
        return Edited(*gesture.tap(groove, stages, request.stage, surface(request.surface).name, request.at))
    if isinstance(request, ask.Shape):
        if request.quality not in QUALITIES:
            raise RequestError(f"{shown(request.quality)} is not one of {', '.join(QUALITIES)}", field="quality")
        how = {request.quality: request.value}
        return Edited(*gesture.shape(groove, stages, request.stage, surface(request.surface).name, request.at, how))
    if isinstance(request, ask.Drag):
        to = surface(request.to_surface).name
        name = surface(request.surface).name
        return Edited(*gesture.drag(groove, stages, request.stage, name, request.at, to, request.to_at))
    if isinstance(request, ask.Frame):
        new, says = reshape.frame(groove, meter=request.meter, bars=request.bars, columns=request.columns)
        if request.swing or request.push:
            new = reshape.feel(new, swing=request.swing, surface=request.surface, push=request.push)
        # A feel is heard in every stage: where nothing else is another, the chosen one stays.
        return Edited(new, 0 if new.base != groove.base or new.feel == groove.feel else -1, says)
    if isinstance(request, ask.Label):
        return Edited(reshape.label(groove, title=request.title, note=request.note, tempo=_tempo(request.tempo)), -1)
    if isinstance(request, ask.Line):
        return Edited(reshape.line(groove, request.surface, request.shown), -1)
    if isinstance(request, ask.Accept):
        new = stack.accept(groove, stages, request.key, request.number)
        return Edited(new, _position(new, request.key))
    return _of_the_stack(request, groove)


def touched(request: ask.Edit) -> tuple[str, ...]:
    """Name the surfaces whose strokes or line an edit by hand means; () for what is said in words."""
    if isinstance(request, (ask.Tap, ask.Shape, ask.Line)):
        return (surface(request.surface).name,)
    if isinstance(request, ask.Drag):
        return surface(request.surface).name, surface(request.to_surface).name
    return ()


def _of_the_stack(
    request: ask.Add | ask.Begin | ask.Word | ask.Name | ask.Remove | ask.Move | ask.Switch, groove: Groove
) -> Edited:
    if isinstance(request, ask.Add):
        found = kind(request.kind)
        new = stack.add(groove, found.name, found.start, after=request.after)
        return Edited(new, _position(new, groove.next_key))
    if isinstance(request, ask.Begin):
        from ..variation.purposes import idea  # most pages never ask

        begun = idea(request.purpose, request.number)
        new = stack.add(groove, begun.kind, begun.settings, after=request.after)
        return Edited(new, _position(new, groove.next_key))
    if isinstance(request, ask.Word):
        return Edited(_word(request, groove), _position(groove, request.key))
    if isinstance(request, ask.Name):
        return Edited(_named(request, groove), -1)
    if isinstance(request, ask.Remove):
        return Edited(stack.remove(groove, request.key), _position(groove, request.key) - 1)
    if isinstance(request, ask.Move):
        new = stack.move(groove, request.key, request.to)
        return Edited(new, _position(new, request.key))
    return Edited(stack.switch(groove, request.key, request.on), -1)


def _position(groove: Groove, key: int) -> int:
    return next((index + 1 for index, v in enumerate(groove.variations) if v.key == key), 0)


def _named(request: ask.Name, groove: Groove) -> Groove:
    name = check_text(request.name.strip(), "name", MAX_NAME)
    note = check_text(request.note, "note", MAX_NOTE)
    at = _position(groove, request.key) - 1
    if at < 0:
        raise VariationError(f"there is no variation with key {request.key}", field="key")
    new = replace(groove.variations[at], name=name, note=note)
    return replace(groove, variations=(*groove.variations[:at], new, *groove.variations[at + 1 :]))


def _word(request: ask.Word, groove: Groove) -> Groove:
    at = _position(groove, request.key) - 1
    if at < 0:
        raise VariationError(f"there is no variation with key {request.key}", field="key")
    variation = groove.variations[at]
    name, _, inner = request.setting.partition(".")
    setting = next((row for row in kind(variation.kind).settings if row.name == name), None)
    if setting is None:
        raise VariationError(f"{variation.kind} has no setting {shown(name)}", field="setting")
    if setting.type is GROUP:
        given = dict(dict(variation.settings).get(name, ()))  # type: ignore[arg-type]
        if not inner and not request.value:
            return stack.edit(groove, request.key, {name: None})
        given[inner] = request.value
        return stack.edit(groove, request.key, {name: {k: v for k, v in given.items() if v}})
    if setting.type in LISTS:
        parts = [part.strip() for part in request.value.split(",") if part.strip()]
        return stack.edit(groove, request.key, {name: parts})
    return stack.edit(groove, request.key, {name: request.value or None})


def _tempo(text: str) -> float:
    try:
        tempo = float(text)
    except ValueError:
        raise RequestError(f"{shown(text)} is not a tempo; write a number such as 92", field="tempo") from None
    if not 0 < tempo < 1e6:
        raise RequestError(f"{shown(text)} is not a tempo; write a number such as 92", field="tempo")
    return tempo
