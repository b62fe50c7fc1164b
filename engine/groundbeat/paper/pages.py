"""How does a lesson sheet become a PDF?

A4 or US Letter, black on white. The first page begins with the title, every other one with a small line of it; every
page tells its number and how many there are. A stage is never cut, unless it is higher than a page: then between lines.
The same sheet gives the same bytes: no date and no random name is written into the file. Sizes of letters, margins and
distances are our choice; large print has letters and staves half as large again.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import IO, Any, NamedTuple

from reportlab.lib.pagesizes import A4, LETTER
from reportlab.pdfgen.canvas import Canvas

from .. import __version__
from ..errors import RequestError
from ..notation.glyphs import OUTLINES
from ..notation.primitives import Drawing, Sign
from ..notation.sheet import Block, Part, Sheet
from . import ink
from .code import code_of
from .flow import Piece, Placed, pages
from .ink import MM, draw_row, row_edges, unit
from .letters import BOLD, ITALIC, REGULAR, font_for, printable, width, wrapped

PAPERS: dict[str, tuple[float, float]] = {"a4": A4, "letter": LETTER}
SIDE, TOP, FOOT = 15 * MM, 15 * MM, 18 * MM
_HEAD = 9 * MM  # of every page but the first: the small title
_LEAD = 1.3  # of the letters' size, from line to line


class Text(NamedTuple):
    """How a kind of text looks: font, size, white above, how far in, and what stands before it."""

    font: str
    size: float
    before: float
    inset: float = 0
    sign: str = ""


_LOOKS = {
    "title": Text(BOLD, 22, 0),
    "facts": Text(REGULAR, 10, 3),
    "about": Text(ITALIC, 11, 5),
    "heading": Text(BOLD, 13, 18),
    "sentence": Text(REGULAR, 11, 3),
    "note": Text(ITALIC, 11, 3),
    "remark": Text(REGULAR, 9.5, 2),
    "changed": Text(REGULAR, 9.5, 2, 12, "triangle"),
    "tempo": Text(REGULAR, 9.5, 2),
    "spot": Text(REGULAR, 9.5, 2, 12, "•"),
    "easier": Text(REGULAR, 9.5, 0, 12),
    "fact": Text(REGULAR, 10, 2),
    "step": Text(REGULAR, 10, 2, 20, "number"),
    "key": Text(REGULAR, 9.5, 2),
    "caution": Text(REGULAR, 9.5, 2, 12, "•"),
    "link": Text(REGULAR, 10, 3),
    "address": Text(REGULAR, 8, 3),
}
_MOST_OF_TITLE = 1.2  # a title is large already: large print leaves it room for the base beat below
_STAFF = 6  # white above a staff


def line_width(paper: str) -> float:
    """How many staff spaces of ordinary print a line of a paper holds; RequestError for a paper that there is not."""
    return (_size(paper)[0] - 2 * SIDE) / ink.SPACE


def _size(paper: str) -> tuple[float, float]:
    found = PAPERS.get(paper)
    if found is None:
        raise RequestError(f'there is no paper "{paper[:40]}"; there are {", ".join(PAPERS)}', field="paper")
    return found


class Link(NamedTuple):
    """Where a sheet can be heard: the page's address, "" unknown, and what follows its #, "" where there is no link."""

    address: str
    fragment: str

    @property
    def whole(self) -> str:
        """The whole address, "" where a part of it is missing."""
        return f"{self.address.split('#')[0]}#{self.fragment}" if self.address and self.fragment else ""


def write_pdf(out: IO[bytes], sheet: Sheet, link: Link, paper: str = "a4", large: bool = False) -> tuple[int, int]:
    """Write a sheet as PDF; give the number of pages and how many letters stand as question marks."""
    across, down = _size(paper)
    setter = _Setter(across - 2 * SIDE, 1.5 if large else 1.0)
    groups = [setter.opening(sheet), *(setter.block(block) for block in sheet.blocks), setter.link(link)]
    made = pages(groups, down - TOP - FOOT - _HEAD)
    title, _ = printable(sheet.title)
    canvas = Canvas(out, pagesize=(across, down), invariant=1, pageCompression=1, lang="en")
    canvas.setTitle(title)
    canvas.setSubject("Lesson sheet")
    canvas.setAuthor("")
    canvas.setCreator(f"Groundbeat {__version__}")
    for number, page in enumerate(made, 1):
        _page(canvas, page, number, len(made), title, setter.scale)
        canvas.showPage()
    canvas.save()
    return len(made), setter.lost


def _page(canvas: Any, page: Sequence[Placed], number: int, last: int, title: str, scale: float) -> None:
    across, down = canvas._pagesize
    size = 8.5 * min(scale, 1.3)
    told = f"Page {number} of {last}"
    canvas.setFillGray(0)
    canvas.setFont(REGULAR, size)
    canvas.drawRightString(across - SIDE, FOOT - 6 * MM, told)
    short = title
    while short and width(short + "…", REGULAR, size) > across - 2 * SIDE - width(told, REGULAR, size) - 20:
        short = short[:-1]
    canvas.drawString(SIDE, FOOT - 6 * MM, title if short == title else short.rstrip() + "…")
    top = down - TOP
    if number > 1:
        canvas.setFont(BOLD, size)
        canvas.drawString(SIDE, top - size, title if short == title else short.rstrip() + "…")
        canvas.setLineWidth(0.4)
        canvas.line(SIDE, top - size - 4, across - SIDE, top - size - 4)
        top -= _HEAD
    for placed in page:
        placed.piece.ink(canvas, SIDE, top - placed.top)


class _Setter:
    """Makes pieces of what stands on a sheet, on lines of `room` points."""

    def __init__(self, room: float, scale: float) -> None:
        self.room, self.scale, self.lost = room, scale, 0

    def opening(self, sheet: Sheet) -> list[Piece]:
        pieces = self.text("title", sheet.title) + self.text("facts", " · ".join(sheet.facts))
        return pieces + (self.text("about", sheet.note) if sheet.note else [])

    def block(self, block: Block) -> list[Piece]:
        pieces = [piece._replace(glued=True) for piece in self.text("heading", block.heading)]
        number = 0
        for part in block.parts:
            number += part.kind == "step"
            pieces += self.part(part, number)
        return pieces

    def part(self, part: Part, number: int) -> list[Piece]:
        if part.drawing is not None:
            return self.drawing(part.drawing)
        text = f"Easier: {part.text[:1].lower()}{part.text[1:]}" if part.kind == "easier" else part.text
        pieces = self.text(part.kind, text, number)
        if part.kind in ("sentence", "note"):  # what is said before the staff stays with it
            pieces = [piece._replace(glued=True) for piece in pieces]
        return pieces

    def drawing(self, drawing: Drawing) -> list[Piece]:
        edges = row_edges(drawing)
        size = unit(drawing)

        def inked(number: int) -> Piece:
            top, bottom = edges[number]

            def draw(canvas: Any, left: float, at: float) -> None:
                canvas.setFillGray(0)
                draw_row(canvas, drawing, number, left, at)

            return Piece((bottom - top) * size, 0 if number else _STAFF * self.scale, draw)

        return [inked(number) for number in range(len(edges))]

    def text(self, kind: str, text: str, number: int = 0) -> list[Piece]:
        look = _LOOKS[kind]
        shown, lost = printable(text)
        self.lost += lost
        scale = min(self.scale, _MOST_OF_TITLE) if kind == "title" else self.scale
        size, inset = look.size * scale, look.inset * self.scale
        font = font_for(shown, look.font)
        lines = wrapped(shown, font, size, self.room - inset)
        sign = str(number) if look.sign == "number" else look.sign
        return [
            self._line(line, font, size, look.before * self.scale if not at else 0, inset, "" if at else sign)
            for at, line in enumerate(lines)
        ]

    def _line(self, text: str, font: str, size: float, before: float, inset: float, sign: str) -> Piece:
        def draw(canvas: Any, left: float, top: float) -> None:
            canvas.setFillGray(0)
            base = top - size
            if sign == "triangle":
                _triangle(canvas, left, base + size * 0.32, size)
            elif sign:
                canvas.setFont(REGULAR, size)
                canvas.drawString(left, base, sign)
            canvas.setFont(font, size)
            canvas.drawString(left + inset, base, text)

        return Piece(size * _LEAD, before, draw)

    def link(self, link: Link) -> list[Piece]:
        """Tell where the beat can be heard: by a QR code and the address, or by what follows the # in words."""
        if not link.fragment:
            return []
        pieces = [piece._replace(glued=True) for piece in self.text("heading", "Hear it and take it further")]
        if not link.whole:
            pieces += self.text("link", "Open the page of Groundbeat and put this behind its address:")
            return pieces + self.text("address", f"#{link.fragment}")
        code = code_of(link.whole)
        words = "Point a camera at the code, or open:" if code else "Open this address; it is too long for a QR code:"
        pieces += self.text("link", words)
        for line in self.text("address", link.whole):
            pieces.append(line._replace(ink=_linked(line, link.whole, self.room)))
        if code is None:
            return pieces
        found = code

        def draw(canvas: Any, left: float, top: float) -> None:
            found.draw(canvas, left, top, self.scale)

        return [*(piece._replace(glued=True) for piece in pieces), Piece(found.side(self.scale), 4, draw)]


def _linked(line: Piece, address: str, room: float) -> Any:
    def draw(canvas: Any, left: float, top: float) -> None:
        line.ink(canvas, left, top)
        canvas.linkURL(address, (left, top - line.height, left + room, top), relative=0)

    return draw


def _triangle(canvas: Any, left: float, middle: float, size: float) -> None:
    """Draw the sign that stands under a changed note, as large as a small letter."""
    wide = OUTLINES["triangle head"].box[2]
    scale = size * 0.55 / wide
    canvas.saveState()
    canvas.translate(left, middle)
    canvas.scale(scale, -scale)
    ink.draw_sign(canvas, Sign("triangle head", 0, 0, 100))
    canvas.restoreState()
