"""Where surfaces stand on the staff, and when the hi-hat says that it is open or closed."""

from __future__ import annotations

import pytest

from groundbeat.model.beat import Stroke
from groundbeat.model.kit import SURFACES
from groundbeat.notation.staff import HEIGHT, marks, place


@pytest.mark.parametrize(
    ("surface", "line", "head"),
    [
        ("kick", 1, "normal"),  # the first space
        ("second kick", 0, "normal"),  # the bottom line
        ("snare", 5, "normal"),  # the third space
        ("ride", 8, "x"),  # the top line
        ("hi-hat", 9, "x"),  # above the staff
        ("crash", 10, "x"),  # on the first ledger line
        ("hi-hat foot", -1, "x"),  # below the staff
        ("shell", -2, "x"),
        ("ride bell", 8, "diamond"),
    ],
)
def test_lines_count_from_the_bottom_line(surface, line, head):
    found = place(surface)
    assert (found.line, found.head) == (line, head)


def test_every_surface_has_a_place_of_its_own_height():
    assert len(set(HEIGHT.values())) == len(SURFACES)
    order = sorted(HEIGHT, key=HEIGHT.__getitem__)
    assert [place(name).line for name in order] == sorted((place(name).line for name in order), reverse=True)


def told(*names: str) -> list[str]:
    strokes = [Stroke(at, name, id=str(at)) for at, name in enumerate(names)]
    found = marks(strokes)
    return [found.get(stroke.id, "") for stroke in strokes]


def test_closed_is_said_only_after_an_open_one_and_only_once():
    assert told("hi-hat", "open hi-hat", "hi-hat", "hi-hat") == ["", "open", "closed", ""]
    assert told("half-open hi-hat", "snare", "hi-hat") == ["half-open", "", "closed"]


def test_the_foot_closes_the_hat_and_a_splash_does_not():
    assert told("open hi-hat", "hi-hat foot", "hi-hat") == ["open", "", ""]
    assert told("foot splash", "hi-hat") == ["splash", "closed"]
