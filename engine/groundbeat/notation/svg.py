"""How is a drawing written as SVG that stands alone and may stand on a page beside others?

Only presentation attributes and classes, no style attribute and no style element; the ink is `currentColor`, so that
it follows the page's colours. What belongs to a stroke stands in one `<g class="stroke" data-id="...">`; the ids of
outlines and strokes begin with the prefix, which must differ from drawing to drawing on one page; an id holds no
space, so those of a stroke's name are dots in it.
"""

from __future__ import annotations

from html import escape

from .glyphs import OUTLINES, SPACE
from .primitives import Block, Curve, Drawing, Mark, Polygon, Sign, Words

FONT = "DejaVu Sans, Verdana, Arial, Helvetica, sans-serif"
FAINT = "0.6"  # of the ink, for what is not struck; black on white is then #666, a contrast of 5.7 : 1; our choice


def write(drawing: Drawing, prefix: str = "gb", space: float = 8.0) -> str:
    """Write a drawing; `space` is a staff space in px, before the drawing's own scale (large print)."""
    prefix = escape(prefix, quote=True)
    used: dict[tuple[str, int], str] = {}
    body: list[str] = []
    for row in drawing.rows:
        body.append(f'<g transform="translate({row.x} {row.y})">\n')
        strokes: dict[str, list[Mark]] = {}
        blocks: list[str] = []
        others: list[str] = []
        for mark in row.marks:
            if mark.stroke:
                strokes.setdefault(mark.stroke, []).append(mark)
                continue
            shape = mark.shape
            if isinstance(shape, Block):
                blocks.append(f"M{shape.x} {shape.y}h{shape.width}v{shape.height}h{-shape.width}z")
            else:
                others.append(_shape(mark, used, prefix))
        if blocks:
            body.append(f'<path d="{"".join(blocks)}"/>\n')
        body += others
        for name, marks in strokes.items():
            told = escape(clean(name), quote=True)
            body.append(f'<g id="{prefix}-{told.replace(" ", ".")}" class="stroke" data-id="{told}">')
            body += [_shape(mark, used, prefix) for mark in marks]
            body.append("</g>\n")
        body.append("</g>\n")
    pixels = space * drawing.scale / 100 / SPACE
    title = escape(clean(drawing.title)) or "Drum notation"
    return "".join(
        (
            f'<svg xmlns="http://www.w3.org/2000/svg" class="staff" role="img" aria-labelledby="{prefix}-title" '
            f'width="{drawing.width * pixels:.1f}" height="{drawing.height * pixels:.1f}" '
            f'viewBox="0 0 {drawing.width} {drawing.height}" fill="currentColor">\n',
            f'<title id="{prefix}-title">{title}</title>\n<defs>\n',
            *(_outline(name, size, told) for (name, size), told in used.items()),
            f'</defs>\n<g font-family="{FONT}">\n',
            *body,
            "</g>\n</svg>\n",
        )
    )


def clean(text: str) -> str:
    """Leave out what XML cannot hold."""
    return "".join(
        letter
        for letter in text
        if letter >= " " and not "\ud800" <= letter <= "\udfff" and letter not in "\ufffe\uffff"
    )


def _outline(name: str, size: int, told: str) -> str:
    turn = "" if size == 100 else f' transform="scale({size / 100:g})"'
    return f'<path id="{told}" d="{OUTLINES[name].path}"{turn}/>\n'


def _shape(mark: Mark, used: dict[tuple[str, int], str], prefix: str) -> str:
    shape = mark.shape
    if isinstance(shape, Sign):
        key = (shape.name, shape.size)
        told = used.get(key)
        if told is None:
            told = f"{prefix}-{shape.name.replace(' ', '-')}" + ("" if shape.size == 100 else f"-{shape.size}")
            used[key] = told
        return f'<use href="#{told}" x="{shape.x}" y="{shape.y}"/>'
    if isinstance(shape, Block):
        return f'<path d="M{shape.x} {shape.y}h{shape.width}v{shape.height}h{-shape.width}z"/>'
    if isinstance(shape, Words):
        anchor = ' text-anchor="middle"' if shape.anchor == "middle" else ""
        weight = ' font-weight="bold"' if shape.bold else ""
        faint = f' fill-opacity="{FAINT}"' if shape.faint else ""
        return (
            f'<text class="{mark.kind.replace(" ", "-")}" x="{shape.x}" y="{shape.y}" font-size="{shape.size}"'
            f"{anchor}{weight}{faint}>{escape(clean(shape.text))}</text>\n"
        )
    if isinstance(shape, Polygon):
        return '<path d="M' + "L".join(f"{x} {y}" for x, y in shape.points) + 'z"/>'
    return _curve(shape)


def _curve(shape: Curve) -> str:
    points = [f"{x} {y}" for x, y in shape.edges()]
    return f'<path d="M{points[0]}C{" ".join(points[1:4])}C{" ".join(points[4:])}z"/>'
