"""What is in an XML file, as a tree that is safe to walk?

`defusedxml` parses: a DOCTYPE is allowed, because nearly every score has one, and never fetched; entities that a file
defines itself are refused, because they can grow without end or name other files. The tree is our own and small:
names without their namespace, attributes, text, children. It is as deep and as large as a score may be and no more;
both are counted while the file is parsed. `defusedxml` comes to a browser when the first score is opened, and the
library's own XML with it, so nothing of it is imported here at the top.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from ...errors import MusicXmlError

MAX_DEPTH = 64  # elements inside each other; the deepest place of MusicXML 4.0 that we read is 9. Our choice
MAX_NODES = 1_000_000  # elements: over 5,000 bars of a full drum part. Our choice
_DECLARATION = re.compile(r"\s*<\?xml[^>]*\?>")


class Node:
    """One element."""

    __slots__ = ("attributes", "children", "tag", "text")

    def __init__(self, tag: str, attributes: dict[str, str]) -> None:
        self.tag, self.attributes = tag, attributes
        self.text = ""
        self.children: list[Node] = []

    def get(self, name: str) -> str:
        """An attribute, "" where it is missing."""
        return self.attributes.get(name, "").strip()

    def find(self, *path: str) -> Node | None:
        """The first child of a name, or the first below it along a path of names."""
        here: Node | None = self
        for name in path:
            if here is None:
                return None
            here = next((child for child in here.children if child.tag == name), None)
        return here

    def all(self, name: str) -> list[Node]:
        """All children of a name."""
        return [child for child in self.children if child.tag == name]

    def has(self, *path: str) -> bool:
        """Tell whether there is such a child."""
        return self.find(*path) is not None

    def said(self, *path: str) -> str:
        """The text of a child, "" where there is none."""
        found = self.find(*path)
        return "" if found is None else " ".join(found.text.split())

    def below(self) -> Iterator[Node]:
        """All elements below, in the order of the file."""
        waiting = list(reversed(self.children))
        while waiting:
            node = waiting.pop()
            yield node
            waiting.extend(reversed(node.children))


class _Builder:
    """Builds the tree while the parser reads."""

    def __init__(self) -> None:
        self._top = Node("", {})
        self._open = [self._top]
        self._count = 0

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        self._count += 1
        if len(self._open) > MAX_DEPTH:
            raise MusicXmlError(f"elements are nested over {MAX_DEPTH} deep; no score is")
        if self._count > MAX_NODES:
            raise MusicXmlError(f"over {MAX_NODES} elements; export the drum part alone, or fewer bars")
        plain = {_bare(name): value for name, value in attributes.items()}
        node = Node(_bare(tag), plain)
        self._open[-1].children.append(node)
        self._open.append(node)

    def data(self, text: str) -> None:
        self._open[-1].text += text

    def end(self, tag: str) -> None:
        self._open.pop()

    def close(self) -> Node:
        return self._top.children[0]


def _bare(name: str) -> str:
    return name.rsplit("}", 1)[-1]


def parse(data: bytes) -> tuple[Node, tuple[str, ...]]:
    """Parse a file; its root, and what is to be told about its letters.

    MusicXmlError for what is no XML or defines entities. A file in another encoding than it names is read all the
    same: as the encoding that its bytes show.
    """
    try:
        return _parse(data), ()
    except MusicXmlError as error:
        if error.code != MusicXmlError.code + ".broken":
            raise
        text, encoding = _decoded(data)
        again = _DECLARATION.sub("", text, count=1).lstrip().encode("utf-8", "replace")
        if again == data:
            raise
        try:
            root = _parse(again)
        except MusicXmlError:
            raise error from None
        return root, (f"The file is not in the encoding that it names; it was read as {encoding}.",)


def _parse(data: bytes) -> Node:
    from defusedxml.common import DefusedXmlException
    from defusedxml.ElementTree import DefusedXMLParser, ParseError

    parser = DefusedXMLParser(target=_Builder())
    try:
        parser.feed(data)
        root: Node = parser.close()
    except DefusedXmlException:
        raise MusicXmlError(
            "the file defines entities of its own, which can grow without end or name other files, so it was not "
            "read; take the <!ENTITY ...> lines out, or export it anew"
        ) from None
    except ParseError as error:
        line, column = error.position
        raise MusicXmlError(
            f"not well-formed XML at line {line}, column {column + 1} ({str(error).split(':')[0]}); the file may be "
            "cut short or changed by hand: export it anew",
            code=MusicXmlError.code + ".broken",
        ) from None
    except (ValueError, LookupError):  # an encoding that nobody knows
        raise MusicXmlError(
            "the file names an encoding that is not known; save it as UTF-8", code=MusicXmlError.code + ".broken"
        ) from None
    return root


def _decoded(data: bytes) -> tuple[str, str]:
    """Read bytes by what they look like."""
    for mark, encoding in ((b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16"), (b"\xef\xbb\xbf", "utf-8-sig")):
        if data.startswith(mark):
            return data.decode(encoding, "replace"), encoding.removesuffix("-sig").upper()
    if data[1:2] == b"\0" or data[:1] == b"\0":
        encoding = "utf-16-be" if data[:1] == b"\0" else "utf-16-le"
        return data.decode(encoding, "replace"), encoding.upper()
    try:
        return data.decode("utf-8"), "UTF-8"
    except UnicodeDecodeError:
        return data.decode("latin-1"), "Latin-1"
