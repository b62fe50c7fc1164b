"""How does a staff become a picture for chats and slides?

resvg draws the engraver's SVG with our own letters, not with those of the machine: it looks the same everywhere.
"""

from __future__ import annotations

import resvg_py

from .letters import BOLD, FAMILY, REGULAR, font_file

ZOOM = 3.0  # a staff space is 24 pixels: sharp on a slide. Our choice


def png(svg: str, zoom: float = ZOOM) -> bytes:
    """Draw an SVG on white, `zoom` times as large as it says."""
    return bytes(
        resvg_py.svg_to_bytes(
            svg_string=svg,
            background="#ffffff",
            skip_system_fonts=True,
            zoom=zoom,
            sans_serif_family=FAMILY,
            font_files=[str(font_file(REGULAR)), str(font_file(BOLD))],
        )
    )
