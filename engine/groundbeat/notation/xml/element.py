"""How is an XML element written?

An element is a list of lines, indented by one space a level, so that a file can be read by people. Letters that XML 1.0
does not allow (a title may hold any that is printable somewhere) become U+FFFD.
"""

from __future__ import annotations

import re

Lines = list[str]

# XML 1.0, fifth edition, production 2 [Char].
_FORBIDDEN = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def leaf(name: str, text: object = "", /, **attributes: object) -> Lines:
    """Write an element that holds text, or nothing.

    A `_` in the name of an attribute stands for `-`; one that is "" is left out.

    >>> leaf("rehearsal", "A & B", font_weight="bold", id="")
    ['<rehearsal font-weight="bold">A &amp; B</rehearsal>']
    """
    inside = escaped(str(text))
    return [f"<{_head(name, attributes)}>{inside}</{name}>" if inside else f"<{_head(name, attributes)}/>"]


def node(name: str, /, *inside: Lines, **attributes: object) -> Lines:
    """Write an element that holds others; what is an empty list is left out.

    >>> node("clef", leaf("sign", "percussion"), [])
    ['<clef>', ' <sign>percussion</sign>', '</clef>']
    """
    lines = [f" {line}" for part in inside for line in part]
    if not lines:
        return leaf(name, **attributes)
    return [f"<{_head(name, attributes)}>", *lines, f"</{name}>"]


def escaped(text: str) -> str:
    """Make text of what XML allows."""
    text = _FORBIDDEN.sub("\ufffd", text)
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;").replace("\r", "&#13;")


def _head(name: str, attributes: dict[str, object]) -> str:
    written = [name]
    for key, value in attributes.items():
        if value != "":
            inside = escaped(str(value)).replace('"', "&quot;").replace("\n", "&#10;").replace("\t", "&#9;")
            written.append(f'{key.replace("_", "-")}="{inside}"')
    return " ".join(written)


def number(value: float) -> str:
    """Write a number of at most six digits behind the point, without needless ones.

    >>> number(35.0), number(-0.25), number(1 / 3)
    ('35', '-0.25', '0.333333')
    """
    text = f"{value:.6f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
