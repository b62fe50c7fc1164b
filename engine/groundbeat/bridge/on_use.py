"""Which questions does a page ask so seldom that they are defined with the first of them, and where?

A dataclass costs a millisecond and more in the browser. The names stand here, so that a question is known without
reading its module; `messages.read_request` reads that when it is asked.
"""

from __future__ import annotations

from collections.abc import Mapping


class OnUse:
    """A question of a module that is read when the first of its questions is asked."""

    __slots__ = ()
    document: str


class AskOnUse(OnUse):
    """One of `playing_messages` that only asks."""

    __slots__ = ()


class EditOnUse(OnUse):
    """One of `playing_messages` that edits."""

    __slots__ = ()


class MidiOnUse(OnUse):
    """One for a MIDI file, of `midi_messages`."""

    __slots__ = ()


class ScoreOnUse(OnUse):
    """One for a MusicXML file, of `score_messages`."""

    __slots__ = ()


class PaperOnUse(OnUse):
    """One about notation on paper, of `paper_messages`."""

    __slots__ = ()


class StaffOnUse(OnUse):
    """One for a stage on a staff or as tablature, of `staff_messages`."""

    __slots__ = ()


class BringOnUse(OnUse):
    """One that brings a MusicXML file, of `score_in_messages`; it has no document."""

    __slots__ = ()


ON_USE = ("playing", "plan", "suggest", "player", "take", "leave_out")
MIDI_ON_USE = ("export_midi",)
SCORE_ON_USE = ("export_score",)
BRING_ON_USE = ("open_score",)
PAPER_ON_USE = ("lesson_sheet",)
STAFF_ON_USE = ("staff", "export_tab")
ALL_ON_USE = (*ON_USE, *MIDI_ON_USE, *SCORE_ON_USE, *BRING_ON_USE, *PAPER_ON_USE, *STAFF_ON_USE)


def questions_on_use() -> Mapping[str, type[OnUse]]:
    """Every such question by its name."""
    from .midi_messages import REQUESTS as ON_MIDI
    from .paper_messages import REQUESTS as ON_PAPER
    from .playing_messages import REQUESTS as ON_PLAYING
    from .score_in_messages import REQUESTS as ON_BRINGING
    from .score_messages import REQUESTS as ON_SCORES
    from .staff_messages import REQUESTS as ON_STAFFS

    return {**ON_PLAYING, **ON_MIDI, **ON_SCORES, **ON_BRINGING, **ON_PAPER, **ON_STAFFS}
