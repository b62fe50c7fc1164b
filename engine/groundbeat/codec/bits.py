"""How are numbers and text packed into the bits of a link?

Most significant bit first. A number of width k is cut into groups of k bits, the highest first; before each group one
bit says whether another follows. Text is a length and its characters, 6 bits each where all of them are in ALPHABET,
else as UTF-8 bytes. This is part of version 1 of the link and never changes.
"""

from __future__ import annotations

from ..errors import LinkError

URL64 = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_"  # RFC 4648, section 5
ALPHABET = " abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-"
_CODE = {letter: number for number, letter in enumerate(ALPHABET)}
_SIX = {letter: f"{number:06b}" for number, letter in enumerate(URL64)}
_LETTER = {six: letter for letter, six in _SIX.items()}
_MAX_GROUPS = 12  # no number in a link needs more; keeps a damaged link from growing one without end


class BitWriter:
    """Collect bits; `parts` counts how many each named part of the document took."""

    def __init__(self) -> None:
        self._bits: list[str] = []
        self._length = 0
        self.parts: dict[str, int] = {}

    def __len__(self) -> int:
        return self._length

    def fixed(self, value: int, width: int) -> None:
        """Write a number in exactly `width` bits."""
        if width:
            self._bits.append(f"{value:0{width}b}")
            self._length += width

    def flag(self, value: bool) -> None:
        """Write one bit."""
        self._bits.append("1" if value else "0")
        self._length += 1

    def flags(self, values: list[bool]) -> None:
        """Write one bit for each."""
        self._bits.append("".join(["1" if value else "0" for value in values]))
        self._length += len(values)

    def number(self, value: int, k: int) -> None:
        """Write a number from 0 up in groups of k bits."""
        if value < 1 << k:  # most are: one group, none follows
            self._bits.append(f"0{value:0{k}b}")
            self._length += k + 1
            return
        groups = [value & ((1 << k) - 1)]
        value >>= k
        while value:
            groups.append(value & ((1 << k) - 1))
            value >>= k
        for index in range(len(groups) - 1, -1, -1):
            self.flag(index > 0)
            self.fixed(groups[index], k)

    def text(self, text: str) -> None:
        """Write text."""
        plain = all(letter in _CODE for letter in text)
        self.flag(not plain)
        if plain:
            self.number(len(text), 4)
            for letter in text:
                self.fixed(_CODE[letter], 6)
        else:
            data = text.encode("utf-8")
            self.number(len(data), 6)
            for byte in data:
                self.fixed(byte, 8)

    def append(self, other: BitWriter) -> None:
        """Write all bits of another writer."""
        self._bits += other._bits
        self._length += other._length

    def mark(self, part: str, start: int) -> None:
        """Note that the bits since `start` belong to a part of the document."""
        self.parts[part] = self.parts.get(part, 0) + len(self) - start

    def url64(self) -> str:
        """The bits as letters of base64url, filled up with zeros."""
        bits = "".join(self._bits)
        bits += "0" * (-len(bits) % 6)
        return "".join([_LETTER[bits[i : i + 6]] for i in range(0, len(bits), 6)])


class BitReader:
    """Read bits back; LinkError where they end too soon."""

    def __init__(self, letters: str) -> None:
        self._bits = "".join(_SIX[letter] for letter in letters)
        self._at = 0

    @property
    def at(self) -> int:
        """Position in bits."""
        return self._at

    def fixed(self, width: int) -> int:
        """Read a number of exactly `width` bits."""
        end = self._at + width
        if end > len(self._bits):
            raise LinkError("the link ends too soon; ask for the whole link", code="link.cut-short")
        value = int(self._bits[self._at : end], 2) if width else 0
        self._at = end
        return value

    def flag(self) -> bool:
        """Read one bit."""
        return self.fixed(1) == 1

    def number(self, k: int) -> int:
        """Read a number in groups of k bits."""
        value = 0
        for _ in range(_MAX_GROUPS):
            more = self.flag()
            value = value << k | self.fixed(k)
            if not more:
                return value
        raise LinkError("a number in the link has no end; ask for the link again", code="link.damaged")

    def text(self, limit: int, what: str) -> str:
        """Read text of at most `limit` characters."""
        if not self.flag():
            length = self.number(4)
            if length > limit:
                raise LinkError(f"the {what} in the link is longer than {limit} characters", code="link.damaged")
            return "".join(ALPHABET[self.fixed(6)] for _ in range(length))
        length = self.number(6)
        if length > limit * 4:
            raise LinkError(f"the {what} in the link is longer than {limit} characters", code="link.damaged")
        data = bytes(self.fixed(8) for _ in range(length))
        try:
            text = data.decode("utf-8")
        except UnicodeDecodeError:
            raise LinkError(
                f"the {what} in the link is not text; ask for the link again", code="link.damaged"
            ) from None
        if len(text) > limit:
            raise LinkError(f"the {what} in the link is longer than {limit} characters", code="link.damaged")
        if any(ord(letter) < 32 or ord(letter) == 127 for letter in text if what != "note" or letter not in "\n\t"):
            raise LinkError(f"the {what} in the link holds a control character", code="link.damaged")
        return text

    def skip_to(self, at: int) -> None:
        """Go to a position in bits."""
        self.fixed(max(0, at - self._at))
