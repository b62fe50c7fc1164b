"""What does the engine answer to a page?

`answer(text) -> text` is a function of its text alone: every request carries the document, so a worker that dies
loses nothing. What was worked out is kept by the document's text. Every question gets an answer or a refusal with a
code, a message for people and the field at fault; nothing is raised.
"""

from __future__ import annotations

import json
import sys
from typing import TYPE_CHECKING, Any, NamedTuple

from .. import __version__
from ..codec.groove_read import read_groove
from ..codec.groove_write import write_groove
from ..codec.link import looks_like_link, read_link, write_link
from ..errors import GroundbeatError, KitError, LinkError, RequestError
from ..model.groove import Groove
from ..timeline.unroll import unroll
from ..variation import stack
from .edits import Edited, edit, empty, touched
from .folding import Shown, folded, folded_timeline, glimpse
from .messages import (
    MAX_MESSAGE,
    Carry,
    Choices,
    Columns,
    Edit,
    Hello,
    Kinds,
    Link,
    New,
    Open,
    OpenMidi,
    Purpose,
    Qr,
    Sheet,
    Timeline,
    View,
    read_first,
    read_have,
    read_kit_text,
    read_player_text,
    read_request,
)
from .on_use import AskOnUse, BringOnUse, MidiOnUse, PaperOnUse, ScoreOnUse, StaffOnUse
from .views import choices_view, columns_view, kinds_view, timeline_view, view

if TYPE_CHECKING:
    from ..analysis.limbs import Playing
    from ..model.own_kit import Kit
    from ..variation.on_kit import OnKit


class Have(NamedTuple):
    """What the page has: the document that it shows (None: tell all, whole), the kit that it shows it on, and who
    plays, as text."""

    document: str | None
    kit: Kit | None
    player: str


# Rooms that come to a browser in zips of their own, and what those are called. {"needs": ...} is for the worker, never
# for a page.
LATER = {"analysis": "playing", "notation": "notation"}
NEWER = "made with a newer Groundbeat; the stages below it are shown, and nothing is rewritten"


def answer(text: str) -> str:
    """Answer one question, JSON in and JSON out.

    In a browser {"needs": "extras"}, "playing" or "notation" asks the worker to fetch that zip and to put the question
    again; it may then need another one.
    """
    try:
        reply = _answer(text)
    except GroundbeatError as error:
        reply = _refused(error.code, error.message, error.field)
    except RecursionError:
        reply = _refused("request", "the message is nested too deep", "")
    except ModuleNotFoundError as missing:
        reply = _needs(missing)
    return json.dumps(reply, separators=(",", ":"), ensure_ascii=False)


def _needs(missing: ModuleNotFoundError) -> dict[str, str]:
    """Say which zip holds what is missing; where none does, it is a fault."""
    top, _, rest = (missing.name or "").partition(".")
    part = LATER.get(rest.partition(".")[0])
    if top != __package__.partition(".")[0] or part is None:
        raise missing
    return {"needs": part}


def _refused(code: str, message: str, field: str) -> dict[str, Any]:
    return {"refused": {"code": code, "message": message, "field": field or None}}


def _answer(text: str) -> dict[str, Any]:
    if len(text) > MAX_MESSAGE:
        raise RequestError(f"the message has {len(text)} characters; at most {MAX_MESSAGE} are read")
    try:
        message = json.loads(text)
    except ValueError:
        raise RequestError("the message is not JSON") from None
    request = read_request(message)
    have = Have(read_have(message), _kit(read_kit_text(message)), read_player_text(message))
    if isinstance(request, Hello):
        return {"answer": "hello", "version": __version__, "python": sys.version.split()[0]}
    if isinstance(request, Open):
        return _open(request, have)
    if isinstance(request, OpenMidi):
        return _open_midi(request, have)
    if isinstance(request, View):
        return _view(_groove(request.document), have)
    if isinstance(request, New):
        return _view(empty(), have)
    if isinstance(request, Timeline):
        return _timeline(request, have)
    if isinstance(request, Link):
        fragment = write_link(_groove(request.document))
        return {"answer": "link", "fragment": fragment, "length": len(fragment)}
    if isinstance(request, Choices):
        return _choices(request)
    if isinstance(request, Purpose):
        return _purpose(request)
    if isinstance(request, Columns):
        return columns_view(_groove(request.document).base, request.columns)
    if isinstance(request, Kinds):
        return kinds_view()
    if isinstance(request, Carry):
        return _carry(request, have)
    if isinstance(request, Sheet):
        from .sheet_view import sheet_view  # asked for when something is handed out

        return sheet_view(_groove(request.document), request, have.kit)
    if isinstance(request, Qr):
        from .qr import qr_view  # most pages never show one

        return qr_view(request.text)
    if isinstance(request, AskOnUse):
        return _on_playing(request, have)
    if isinstance(request, BringOnUse):
        return _open_score(request, have)
    if isinstance(request, MidiOnUse):
        from .midi_view import export_view  # asked for when something is taken to another program

        groove = _groove(request.document)
        return export_view(groove, _fit(groove, have.kit).stages, request)
    if isinstance(request, ScoreOnUse):
        from .score_view import export_view as score_of  # as seldom

        groove = _groove(request.document)
        return score_of(groove, _fit(groove, have.kit).stages, request)
    if isinstance(request, PaperOnUse):
        from .paper_view import sheet_view as lesson_of  # asked for when a sheet is printed

        groove = _groove(request.document)
        return lesson_of(groove, _fit(groove, have.kit).stages, request, have.player)
    if isinstance(request, StaffOnUse):
        from .staff_view import staff_view  # asked for when it is switched on

        groove = _groove(request.document)
        return staff_view(groove, _fit(groove, have.kit).stages, request, have.player)
    groove = _groove(request.document)
    if have.kit is not None:
        _allow(request, groove, have.kit)
    edited = _edited(request, groove)
    if read_first(message):
        return _glimpse(groove, edited, have.kit)
    return _view(edited.groove, have, edited.says) | {"select": edited.select if edited.select >= 0 else None}


def _glimpse(groove: Groove, edited: Edited, kit: Kit | None) -> dict[str, Any]:
    """Tell the edited stage alone, where the stages are the same ones: grown no further than that."""
    new, number = edited.groove, edited.select
    framed = (new.base.meter, new.base.bars, new.base.columns) == (
        groove.base.meter,
        groove.base.bars,
        groove.base.columns,
    )
    if number < 0 or not framed or [v.key for v in new.variations] != [v.key for v in groove.variations]:
        return {"answer": "glimpse", "stage": -1, "told": None}
    grown = stack.grow(new, (groove, _stages(groove)), number)
    if kit is None:
        return glimpse(grown, number, Shown(groove, _stages(groove)))
    before, after = _fit(groove, kit), _fitted(grown, kit)
    return glimpse(after.stages, number, Shown(groove, before.stages, before.on_kit), after.on_kit)


def _carry(request: Carry, have: Have) -> dict[str, Any]:
    from ..variation.carry import carry  # asked for when another beat is tried
    from .carrying import base_of, carry_view

    groove = _groove(request.document)
    base = base_of(request.onto, request.name)
    carried = carry(groove, base, _stages(groove))
    return carry_view(groove, base, carried, _view(carried.groove, have._replace(document=None)))


def _choices(request: Choices) -> dict[str, Any]:
    from ..variation.choices import choices  # asked for when a word is opened

    stages = _stages(_groove(request.document))
    stage = next((stage for stage in stages if stage.key == request.key and stage.number), None)
    if stage is None or stage.variation is None:
        raise RequestError(f"there is no variation with key {request.key}", field="key")
    return choices_view(choices(stage.variation, request.setting, stages[: stage.number]))


def _purpose(request: Purpose) -> dict[str, Any]:
    from ..variation.purposes import offers  # most pages never ask

    groove = _groove(request.document)
    stages = _stages(groove)
    if not 0 <= request.stage < len(stages):
        raise RequestError(f"there are stages 0 to {len(stages) - 1}, not {request.stage}", field="stage")
    found = offers(stages[request.stage], request.purpose, groove.roles)
    return {"answer": "purpose", "offers": [offer._asdict() for offer in found]}


def _timeline(request: Timeline, have: Have) -> dict[str, Any]:
    groove = _groove(request.document)

    def play(stage: stack.Stage) -> Playing:
        from ..analysis.player import read_player
        from .playing_view import played

        return played(groove, stage, read_player(have.player), 0)

    asked = (request.stage, request.start, request.end, request.clicks, request.count_in)
    stages = _fit(groove, have.kit).stages
    line = unroll(groove, stages, *asked, part=request.part, play=play, loose=request.loose, seed=request.seed)
    told = timeline_view(groove, request.stage, line)
    return told if have.document is None else folded_timeline(told)


def _on_playing(request: AskOnUse, have: Have) -> dict[str, Any]:
    """Answer a question about playing; a page asks the same one again as its reader goes to and fro."""
    from .player_view import player_view  # a page shows its beat before it asks how that is played
    from .playing_answers import answer_of
    from .playing_messages import Who

    if isinstance(request, Who):
        return player_view(have.player)
    key = (request, have.kit.text if have.kit else "", have.player)
    for asked, told in _told_of_playing:
        if asked == key:
            return told
    groove = _groove(request.document)
    reply = answer_of(request, groove, _stages(groove), _fit(groove, have.kit).stages, have.player)
    _told_of_playing.append((key, reply))
    del _told_of_playing[:-16]
    return reply


# Plain memories, nothing rests on them: what the documents last written hold, and the stages last grown.
_known: dict[str, Groove] = {}
_grown: list[tuple[Groove, tuple[stack.Stage, ...]]] = []
_fits: list[tuple[tuple[stack.Stage, ...], OnKit]] = []
_done: list[tuple[Edit, Edited]] = []
_told_of_playing: list[tuple[tuple[AskOnUse, str, str], dict[str, Any]]] = []


def _groove(document: str) -> Groove:
    groove = _known.get(document)
    return _remember(document, read_groove(document)) if groove is None else groove


def _remember(document: str, groove: Groove) -> Groove:
    _known[document] = groove
    while len(_known) > 16:
        _known.pop(next(iter(_known)))
    return groove


def forget() -> None:
    """Drop everything that was kept; answers are the same, only slower."""
    _known.clear()
    _grown.clear()
    _fits.clear()
    _done.clear()
    _told_of_playing.clear()
    if f"{__package__}.playing_view" in sys.modules:
        from .playing_view import forget as forget_played

        forget_played()


def _edited(request: Edit, groove: Groove) -> Edited:
    """Do an edit; the one just done for a glimpse is not done twice."""
    if _done and _done[0][0] == request:
        return _done[0][1]
    edited = edit(request, groove, _stages(groove))
    _done[:] = [(request, edited)]
    return edited


def _stages(groove: Groove) -> tuple[stack.Stage, ...]:
    """Grow the stages, or as many of them as the last groove does not share."""
    for old, stages in _grown:
        if old is groove:
            return stages
    stages = stack.grow(groove, _grown[-1] if _grown else None)
    _grown.append((groove, stages))
    del _grown[:-8]
    return stages


def _open(request: Open, have: Have) -> dict[str, Any]:
    if not request.text.strip():
        raise RequestError(
            "there is nothing to open; paste a link, the text of a groove file, or tablature", field="text"
        )
    if not looks_like_link(request.text):
        return _open_text(request, have)
    reading = read_link(request.text)
    if reading.newer is None:
        return _view(reading.groove, have)
    newer = {"stage": reading.newer, "message": f"stage {reading.newer}: {NEWER}" if reading.newer else NEWER}
    return _told(reading.groove, have, link=reading.fragment, newer=newer)


def _open_text(request: Open, have: Have) -> dict[str, Any]:
    if "\n[base]" not in request.text:  # a groove file has that; most visits see no tablature
        from .tab_file import groove_of_tab, looks_like_tab

        if looks_like_tab(request.text):
            groove, says = groove_of_tab(request.name, request.text, request.bars)
            return _view(groove, have, says)
    if request.bars:
        raise RequestError("bars are chosen of MIDI files and tablature; a groove file is taken whole", field="bars")
    return _view(read_groove(request.text, request.name), have)


def _open_midi(request: OpenMidi, have: Have) -> dict[str, Any]:
    from .midi_file import groove_of  # most pages never open a MIDI file

    groove, says = groove_of(request.name, request.base64, request.bars)
    return _view(groove, have, says)


def _open_score(request: BringOnUse, have: Have) -> dict[str, Any]:
    try:
        from .score_file import groove_of_request  # most pages never open a score

        groove, says = groove_of_request(request)
    except ModuleNotFoundError as missing:
        if (missing.name or "").split(".")[0] in ("defusedxml", "xml"):
            from .qr import NEEDS_EXTRAS

            return dict(NEEDS_EXTRAS)
        raise
    return _view(groove, have, says)


def _view(groove: Groove, have: Have, says: tuple[str, ...] = ()) -> dict[str, Any]:
    link: str | None = None
    trouble: str | None = None
    try:
        link = write_link(groove)
    except LinkError as error:
        trouble = error.message
    return _told(groove, have, link=link, link_trouble=trouble, says=says)


def _told(
    groove: Groove, have: Have, *, link: str | None, link_trouble: str | None = None, **more: Any
) -> dict[str, Any]:
    told = {"document": _document(groove), "link": link, "link_trouble": link_trouble, **more}
    stages, fit = _fit(groove, have.kit)
    if have.document is None:
        return view(groove, stages, fit, **told)
    return folded(groove, stages, _shown(have), fit, **told)


def _shown(have: Have) -> Shown | None:
    """What the page shows; nothing where its document does not read, which is then no fault of the question."""
    if not have.document:
        return None
    try:
        groove = _groove(have.document)
        return Shown(groove, *_fit(groove, have.kit))
    except GroundbeatError:
        return None


class _Fit(NamedTuple):
    """The stages as they are shown, and how they came about where that is on a student's kit."""

    stages: tuple[stack.Stage, ...]
    on_kit: OnKit | None


def _kit(text: str) -> Kit | None:
    if not text:
        return None
    from ..model.own_kit import read_kit  # most pages show beats as they are written

    return read_kit(text)


def _fit(groove: Groove, kit: Kit | None) -> _Fit:
    stages = _stages(groove)
    return _Fit(stages, None) if kit is None else _fitted(stages, kit)


def _fitted(stages: tuple[stack.Stage, ...], kit: Kit) -> _Fit:
    from ..variation.on_kit import fit_stages

    found = next((fit for old, fit in _fits if old is stages and fit.kit.text == kit.text), None)
    if found is None:
        found = fit_stages(stages, kit)
        _fits.append((stages, found))
        del _fits[:-8]
    return _Fit(found.stages, found)


def _allow(request: Edit, groove: Groove, kit: Kit) -> None:
    """Refuse an edit by hand that would not mean what is seen on a student's kit."""
    from ..variation.on_kit import hinders

    why = hinders(kit, _stages(groove), touched(request))
    if why:
        raise KitError(why, field="kit")


def _document(groove: Groove) -> str:
    """Write the document, and remember what it holds: the next question will bring it back."""
    text = write_groove(groove)
    _remember(text, groove)
    return text
