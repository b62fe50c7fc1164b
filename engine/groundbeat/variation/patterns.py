"""How are groupings ("3+3+2"), hand patterns ("RLRR LRLL"), swing ("eighths 2:1") and pushes ("10 ms late") written?

Every form has one canonical text, and words of its own in a sentence.
"""

from __future__ import annotations

import re
from functools import lru_cache

from ..errors import VariationError
from ..model.feel import MAX_PUSH, MAX_SHARE, SWUNG

MAX_GROUPS = 32  # groups of one grouping; our choice
MAX_GROUP = 15  # notes in a group; our choice
MAX_HANDS = 64  # strokes of a hand pattern; our choice
HAND_LETTERS = ("R", "L", "K", "-")  # right, left, kick, nothing; append only: the order is the numbering in links
_SWING = re.compile(r"(eighths|sixteenths)\s+(\d{1,2})\s*:\s*(\d{1,2})\Z", re.ASCII)
_OFFSET = re.compile(r"(\d{1,4})\s*ms\s+(late|early)\Z", re.ASCII)


@lru_cache(maxsize=128)
def read_grouping(text: str) -> tuple[int, ...]:
    """Read "3+3+2" as sizes; VariationError where it is none.

    >>> read_grouping("3 + 3 + 2")
    (3, 3, 2)
    """
    parts = [part.strip() for part in text.split("+")]
    if not all(part.isascii() and part.isdigit() and 0 < len(part) < 4 and int(part) for part in parts):
        raise VariationError(f'"{text}" is not a grouping; write it like "3", "5" or "3+3+2"')
    sizes = tuple(int(part) for part in parts)
    if max(sizes) > MAX_GROUP:
        raise VariationError(f'"{text}": a group has 1 to {MAX_GROUP} notes; try "3+3+2"')
    if len(sizes) > MAX_GROUPS:
        raise VariationError(f"at most {MAX_GROUPS} groups can be written, not {len(sizes)}")
    return sizes


def grouping_text(sizes: tuple[int, ...]) -> str:
    """Write a grouping in the one form that files and links keep."""
    return "+".join(str(size) for size in sizes)


@lru_cache(maxsize=128)
def read_hands(text: str) -> str:
    """Read a hand pattern of R, L, K (a kick) and - (nothing); spaces are free.

    >>> read_hands("RLRR LRLL")
    'RLRRLRLL'
    """
    letters = "".join(text.split())
    for index, letter in enumerate(letters):
        if letter not in HAND_LETTERS:
            raise VariationError(
                f'"{letter}" at {index + 1} is not a hand; write R, L, K for a kick or - for nothing, as in "RLRR LRLL"'
            )
    if len(letters) > MAX_HANDS:
        raise VariationError(f"a hand pattern has at most {MAX_HANDS} strokes, not {len(letters)}")
    if not any(letter in "RL" for letter in letters):
        raise VariationError('a hand pattern needs a hand; try "RLRR LRLL"')
    return letters


def hands_words(pattern: str) -> str:
    """Say a hand pattern, four strokes in a word.

    >>> hands_words("RLRRLRLL")
    'RLRR LRLL'
    """
    return " ".join(pattern[at : at + 4] for at in range(0, len(pattern), 4))


@lru_cache(maxsize=64)
def read_swing(text: str) -> tuple[str, int, int]:
    """Read "eighths 2:1" as what is swung, long and short; "straight" is ("", 1, 1)."""
    plain = " ".join(text.split())
    if plain == "straight":
        return "", 1, 1
    found = _SWING.match(plain)
    if not found:
        raise VariationError(f'"{text}" is not a swing; write "straight", or {" or ".join(SWUNG)} long : short, as in '
                             '"eighths 2:1"')  # fmt: skip
    long, short = int(found[2]), int(found[3])
    if not (1 <= long <= MAX_SHARE and 1 <= short <= MAX_SHARE):
        raise VariationError(f'"{text}": long and short go from 1 to {MAX_SHARE}; try "{found[1]} 2:1"')
    return found[1], long, short


def swing_text(swung: str, long: int, short: int) -> str:
    """Write a swing in the one form that files and links keep."""
    return f"{swung} {long}:{short}" if swung else "straight"


@lru_cache(maxsize=64)
def read_offset(text: str) -> int:
    """Read "10 ms late" as milliseconds, early negative; 0 is "0 ms late"."""
    found = _OFFSET.match(" ".join(text.split()))
    if not found:
        raise VariationError(f'"{text}" is not a time; write it like "10 ms late" or "5 ms early"')
    ms = int(found[1])
    if ms > MAX_PUSH:
        raise VariationError(f'"{text}": early or late go up to {MAX_PUSH} ms; beyond that displace the stroke')
    return ms if found[2] == "late" else -ms


def offset_text(ms: int) -> str:
    """Write a push in the one form that files and links keep.

    >>> offset_text(-5)
    '5 ms early'
    """
    return f"{abs(ms)} ms {'early' if ms < 0 else 'late'}"
