"""How much room does a text take?

Advance widths of the printable ASCII letters in thousandths of the letter size, measured on DejaVu Sans Bold 2.37,
which is wider than the usual sans of a page or a printer; so what is told is an upper bound for them. Letters beyond
ASCII count as one letter size. Ascent and descent are DejaVu's, rounded up.
"""

from __future__ import annotations

from functools import lru_cache

# fmt: off
_WIDTHS = (
    348, 456, 521, 838, 696, 1002, 872, 306, 457, 457, 523, 838, 380, 415, 380, 365, 696, 696, 696, 696, 696, 696, 696,
    696, 696, 696, 400, 400, 838, 838, 838, 580, 1000, 774, 762, 734, 830, 683, 683, 821, 837, 372, 372, 775, 637, 995,
    837, 850, 733, 850, 770, 720, 682, 812, 774, 1103, 771, 724, 725, 457, 365, 457, 838, 500, 500, 675, 716, 593, 716,
    678, 435, 716, 712, 343, 343, 665, 343, 1042, 712, 687, 716, 716, 493, 595, 478, 712, 652, 924, 645, 652, 582, 712,
    365, 712, 838,
)
# fmt: on
ASCENT, DESCENT = 770, 240  # of a thousand: capitals and "&" reach 760 with their overshoot, "g" and "p" 236


@lru_cache(maxsize=1024)
def text_width(text: str, size: int) -> int:
    """How wide a text is at most, in the units of `size`.

    >>> text_width("1", 1000), text_width("trip", 1000)
    (696, 2030)
    """
    total = 0
    for letter in text:
        code = ord(letter) - 32
        total += _WIDTHS[code] if 0 <= code < 95 else 1000
    return -(-total * size // 1000)


def shortened(text: str, size: int, room: int) -> str:
    """Cut a text that is wider than `room`, and say so with an ellipsis."""
    if text_width(text, size) <= room:
        return text
    while text and text_width(text + "…", size) > room:
        text = text[:-1]
    return text.rstrip() + "…"
