"""What can go wrong, and how is it told?

Every error that Groundbeat raises on purpose is a GroundbeatError. It carries a stable code (for programs), a
message (for people: what was asked, what was found, what is allowed, what to try) and, where there is one, the
field or the place in the file. Anything else that escapes is a defect.
"""

from __future__ import annotations

LONGEST = (
    400  # characters of a message: two or three sentences. Longer ones quote what was given, and are cut. Our choice
)


def shown(value: object) -> str:
    """Quote what was given, short and safe to print, for a message.

    >>> shown("snair"), shown(10**5000), shown([1])
    ('"snair"', 'a very large number', 'a list')
    """
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return f'"{value[:40]}"' if len(value) <= 40 else f'"{value[:38]}..."'
    if isinstance(value, (dict, list, tuple)):
        return "a table" if isinstance(value, dict) else "a list"
    if isinstance(value, int) and abs(value) > 10**12:
        return "a very large number"
    return str(value)[:40]


class GroundbeatError(Exception):
    """Say in words what could not be done.

    `code` is stable between versions, `message` is for people, `field` names the setting, key or argument at
    fault ("" where there is none).
    """

    code = "groundbeat"

    def __init__(self, message: str, *, code: str = "", field: str = "") -> None:
        if len(message) > LONGEST:
            message = f"{message[: LONGEST * 2 // 3]} ... {message[-LONGEST // 4 :]}"
        super().__init__(message)
        self.message = message
        self.field = field[:80]
        if code:
            self.code = code

    def __str__(self) -> str:
        return self.message


class MeterError(GroundbeatError):
    """A meter or grouping that no beat can have."""

    code = "meter"


class PlaceError(GroundbeatError):
    """A place in a bar that does not read."""

    code = "place"


class KitError(GroundbeatError):
    """A surface, dynamic, grace, hand or role that is not known."""

    code = "kit"


class BeatError(GroundbeatError):
    """Strokes that cannot stand in one beat together."""

    code = "beat"


class VariationError(GroundbeatError):
    """A kind or setting of a variation that is unknown or out of range."""

    code = "variation"


class GrooveFileError(GroundbeatError):
    """A groove file that does not read.

    `line` and `column` count from 1 (0: the file as a whole); `bare` is the message without its place.
    """

    code = "groove-file"

    def __init__(self, message: str, *, line: int = 0, column: int = 0, name: str = "", field: str = "") -> None:
        self.line, self.column, self.name, self.bare = line, column, name, message
        where = name or "groove file"
        if line:
            where += f", line {line}, column {column}"
        super().__init__(f"{where}: {message}", field=field)


class TabError(GroundbeatError):
    """A tablature that does not read; `line` and `column` count from 1 (0: the text as a whole)."""

    code = "tab"

    def __init__(self, message: str, *, line: int = 0, column: int = 0, field: str = "") -> None:
        self.line, self.column = line, column
        where = f"tablature, line {line}" + (f", column {column}" if column else "") if line else "tablature"
        super().__init__(f"{where}: {message}", field=field)


class LinkError(GroundbeatError):
    """A link that does not read, or a groove that does not fit into one."""

    code = "link"


class MidiError(GroundbeatError):
    """A MIDI file that does not read; `offset` is the byte where reading failed."""

    code = "midi"

    def __init__(self, message: str, *, offset: int = 0, code: str = "") -> None:
        self.offset = offset
        super().__init__(f"MIDI file, byte {offset}: {message}", code=code)


class MusicXmlError(GroundbeatError):
    """A MusicXML file that does not read; the message names part and bar where there is one."""

    code = "musicxml"

    def __init__(self, message: str, *, code: str = "", field: str = "") -> None:
        super().__init__(f"MusicXML file: {message}", code=code, field=field)


class TimelineError(GroundbeatError):
    """A stage or tempo that cannot be played."""

    code = "timeline"


class QrError(GroundbeatError):
    """A text that no QR code can hold."""

    code = "qr"


class RequestError(GroundbeatError):
    """A message to the engine that is not one of its questions; `field` is the one at fault."""

    code = "request"
