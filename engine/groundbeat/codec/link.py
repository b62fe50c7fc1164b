"""How does a whole groove become a link, and back?

A fragment is the version's character, the bits as base64url, and three characters of a check value out of letters and
digits, so that a link that was cut short or mistyped is noticed and never ends in a sign that chat programs cut off.
The link holds one way; branches stay in the groove file. LINK.md describes the format for other readers.
"""

from __future__ import annotations

import re
from binascii import crc32
from typing import NamedTuple

from ..errors import GroundbeatError, LinkError
from ..model.groove import Groove
from . import link_v1
from .bits import URL64, BitReader

VERSION = "1"
BASE62 = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz"
CHECK = 3  # characters: one wrong link in 238,328 goes unnoticed
# Longest fragment that is written or read. Browsers take a million characters; mail and chat programs break or cut
# links long before this, and a groove file serves better. Reading 8,000 characters takes a few milliseconds.
MAX_LINK = 8000
COMFORTABLE = 1800  # some chat programs cut messages at 2,000 characters
_FRAGMENT = re.compile(r"[A-Za-z0-9_-]+\Z")
_TRAILING = ".,;:!?)]}>\"'"


class Reading(NamedTuple):
    """What a link gave: the groove, the stage from which on a newer Groundbeat is needed (None: none), the fragment.

    Where `newer` is not None the groove is only the part below that stage: show it, rewrite nothing.
    """

    groove: Groove
    newer: int | None
    fragment: str


def write_link(groove: Groove) -> str:
    """Write a groove as a fragment, without its "#"; LinkError where it is too long for a link."""
    fragment = _sealed(VERSION + link_v1.write(groove).url64())
    if len(fragment) > MAX_LINK:
        raise LinkError(
            f"this groove makes a link of {len(fragment)} characters, at most {MAX_LINK} travel safely; send the "
            "groove file instead, or shorten the notes",
            code="link.too-long",
        )
    return fragment


def measure(groove: Groove) -> dict[str, int]:
    """Tell how many bits each part of a groove takes in its link."""
    return dict(link_v1.write(groove).parts)


def read_link(text: str) -> Reading:
    """Read a fragment, with or without "#", or a whole address that holds one.

    Raises LinkError: too long, not a link, made with a newer version, cut short or mistyped.
    """
    fragment = fragment_of(text)
    if len(fragment) > MAX_LINK:
        raise LinkError(
            f"this link has {len(fragment)} characters, at most {MAX_LINK} are read; ask for the groove file",
            code="link.too-long",
        )
    if not fragment or not _FRAGMENT.match(fragment):
        raise LinkError(
            "this is not a Groundbeat link: after the # stand letters, digits, - and _ only", code="link.not-one"
        )
    if fragment[0] != VERSION:
        if fragment[0].isdigit() and fragment[0] > VERSION:
            raise LinkError(
                "this link was made with a newer Groundbeat; reload the page to get the newest", code="link.newer"
            )
        raise LinkError(
            f'this is not a Groundbeat link: it begins with "{fragment[0]}", not "{VERSION}"', code="link.not-one"
        )
    if len(fragment) <= 1 + CHECK or _sealed(fragment[:-CHECK]) != fragment:
        raise LinkError(
            "this link was cut short or mistyped; copy the whole of it, or ask for it again", code="link.cut-short"
        )
    try:
        groove, newer = link_v1.read(BitReader(fragment[1:-CHECK]))
    except LinkError:
        raise
    except GroundbeatError as error:
        raise LinkError(f"the link is damaged: {error.message}", code="link.damaged") from None
    return Reading(groove, newer, fragment)


def fragment_of(text: str) -> str:
    """Take the fragment out of what was pasted: an address, "#1...", or the fragment alone."""
    bare = text.strip().strip("<>")
    if "#" in bare:
        bare = bare.rsplit("#", 1)[1]
    return bare.strip().rstrip(_TRAILING)


def looks_like_link(text: str) -> bool:
    """Tell whether a text is one word that can only be meant as a link."""
    bare = text.strip()
    return (
        bool(bare) and len(bare.split()) == 1 and "=" not in bare.split("#")[-1] and ("#" in bare or bare[0] == VERSION)
    )


def _sealed(body: str) -> str:
    value = crc32(body.encode("ascii"))
    check = ""
    for _ in range(CHECK):
        value, rest = divmod(value, 62)
        check += BASE62[rest]
    return body + check


assert len(set(URL64)) == 64
