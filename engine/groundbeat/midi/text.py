"""In which encoding is a name in a MIDI file written?

The standard says ASCII and nothing about the rest; files hold UTF-8, Latin-1 and its Windows cousin,
Shift-JIS. Tried in that order of certainty: bytes that are valid UTF-8 by chance are rare; Shift-JIS is
believed only where it yields kana, which no Western text does; Latin-1 reads anything. Always an answer,
never an error.
"""

from __future__ import annotations

MAX_TEXT = 480  # bytes kept of one text; a title has at most 120 characters of four bytes. Our choice


def decode(data: bytes) -> str:
    """Read a text of up to MAX_TEXT bytes; control characters become spaces.

    >>> decode("Schlagzeug ä".encode()), decode("Schlagzeug ä".encode("latin-1"))
    ('Schlagzeug ä', 'Schlagzeug ä')
    >>> decode("ドラム".encode("shift-jis"))
    'ドラム'
    """
    text = _decoded(data)[:MAX_TEXT]
    return " ".join("".join(c if c.isprintable() else " " for c in text).split())


def _decoded(data: bytes) -> str:
    whole = data[:MAX_TEXT]
    # A cut may fall inside a character: up to three bytes fewer may be valid where the whole is not.
    for cut in range(4 if len(data) > MAX_TEXT else 1):
        try:
            return whole[: len(whole) - cut].decode("utf-8")
        except UnicodeDecodeError:
            continue
    for cut in range(2 if len(data) > MAX_TEXT else 1):
        try:
            text = whole[: len(whole) - cut].decode("shift-jis")
        except (UnicodeDecodeError, LookupError):  # LookupError: a lean Python without East Asian encodings
            continue
        if any("\u3041" <= c <= "\u30fe" for c in text):
            return text
    try:
        return whole.decode("cp1252")
    except (UnicodeDecodeError, LookupError):
        return whole.decode("latin-1")
