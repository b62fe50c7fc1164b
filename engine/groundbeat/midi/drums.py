"""Which notes of a file are drum strokes, on what, and how loud?

Drums are on channel 10. Where that channel is silent (or the file says that it is no drum part) a channel
that the file declares as drums comes next, then the one whose keys look like drums: named so, or nearly all
keys known, and short notes. Whatever was chosen other than channel 10 is told. In a file of format 2 the
tracks are independent patterns: the first one with drums is read.

Dynamics are found for each surface over the whole file, because a velocity means nothing alone: on one pad a
ghost is 10, on another 40. Limits after 446,000 strokes of performances on electronic kits: snare strokes
make two humps, 17 to 48 and 113 to 127. The rules, in this order: **ghost** (snare, toms, hi-hat): velocity
at most 45 and at most 0.55 of what a tenth of the surface's strokes reach; **soft**: below 0.75 of that;
**accent**: 105 and more, or 1.25 times the median and more, where the softest such stroke stands a fifth
above the median of the rest (else a file played at 110 throughout would be all accents; our choice); all
other **normal**. Equal velocities are all normal.
"""

from __future__ import annotations

from bisect import bisect_right
from collections import Counter
from collections.abc import Iterable, Sequence
from typing import NamedTuple

from ..codec.drum_keys import CLOSED_KEYS, OPEN_KEYS, key_name, surfaces
from ..errors import MidiError
from ..model.kit import BY_NAME
from .file import INSTRUMENT_NAME, PEDAL, TRACK_NAME, MidiFile, Note

DRUM_CHANNEL = 10
_WORDS = (
    "drum",
    "perc",
    "kit",
    "schlagzeug",
    "batteri",
    "bateria",
    "trommel",
    "ドラム",
)  # in names of tracks
_KNOWN_SHARE = 90  # per cent of a channel's notes on keys of a drum kit; with fewer it is no drum part. Our choice

_PATTERNS = 16  # tracks of a format 2 file that are looked at. Our choice
_NAMED = 5  # keys named in a sentence before "and more"

_GHOST_FAMILIES = ("snare", "tom", "hi-hat")
_GHOST_MOST, _ACCENT_LEAST = 45, 105

# Half-open: the pedal stands between half and 19/20 of its way to closed. Makers count it up or down, so open
# and closed are learned from the file; with less travel than 30 of 127 nothing is learned. Our choice.
_LEAST_TRAVEL = 30


class Hit(NamedTuple):
    """One drum stroke of a file."""

    tick: int
    surface: str
    velocity: int
    dynamic: str
    offset: int


class Drums(NamedTuple):
    """The drum strokes of a file in the order of time; `track` is 0 where all tracks sound together."""

    hits: tuple[Hit, ...]
    channel: int
    track: int
    says: tuple[str, ...]


def find_drums(file: MidiFile) -> Drums:
    """Find the drum strokes of a file.

    Raises MidiError where it has none.
    """
    if not file.notes:
        raise MidiError(
            "read to the end and found no notes; drum strokes are notes on channel 10. Export the drum "
            "track with its notes",
            offset=file.size,
        )
    if file.format == 2 and file.tracks > 1:
        return _first_pattern(file)
    return _drums_of(file, file.notes, 0)


def _first_pattern(file: MidiFile) -> Drums:
    failed: MidiError | None = None
    by_track: dict[int, list[Note]] = {}
    for note in file.notes:
        by_track.setdefault(note.track, []).append(note)
    # Those with strokes on the drum channel first; what comes after the first few is no pattern of drums.
    silent = [not any(note.channel == DRUM_CHANNEL for note in by_track[track]) for track in sorted(by_track)]
    for _, track in sorted(zip(silent, sorted(by_track), strict=True))[:_PATTERNS]:
        try:
            found = _drums_of(file, by_track[track], track)
        except MidiError as error:
            failed = failed or error
            continue
        told = f"The {file.tracks} tracks of a format 2 file do not sound together: track {track} was read."
        return found._replace(says=(told, *found.says))
    assert failed is not None  # there are notes, so there was a track
    raise failed


def _drums_of(file: MidiFile, notes: Sequence[Note], track: int) -> Drums:
    says: list[str] = []
    chosen, channel, why = _choose_channel(file, notes)
    if channel != DRUM_CHANNEL:
        says.append(f"Channel {channel} was read as drums: {why}.")
    pedal = _Pedal(file, chosen, channel, track)
    table = surfaces({note.key for note in chosen}, pedal.moves)
    left_out = Counter(note.key for note in chosen if note.key not in table)
    if left_out:
        names = [f"{times} on {key_name(key)}" for key, times in sorted(left_out.items())]
        more = f" and {len(names) - _NAMED} more keys" if len(names) > _NAMED else ""
        says.append(f"Left out of the file, because the kit does not have them: {', '.join(names[:_NAMED])}{more}.")
    named = [(note, pedal.surface(note, table[note.key])) for note in chosen if note.key in table]
    if not named:
        raise MidiError(
            f"none of the {len(chosen)} notes on channel {channel} is on a key of a drum kit (35 to 59 and "
            "a few more); export the drum track with the keys of General MIDI percussion",
            offset=chosen[0].offset,
        )
    velocities: dict[str, list[int]] = {}
    for note, name in named:
        velocities.setdefault(name, []).append(note.velocity)
    scales = {name: _Scale(name, row) for name, row in velocities.items()}
    hits = tuple(
        Hit(note.tick, name, note.velocity, scales[name].dynamic(note.velocity), note.offset) for note, name in named
    )
    return Drums(hits, channel, track, tuple(says))


def _choose_channel(file: MidiFile, notes: Sequence[Note]) -> tuple[list[Note], int, str]:
    """Choose the notes that are drum strokes: the notes, their channel, and why it is that one."""
    by_channel: dict[int, list[Note]] = {}
    for note in notes:
        by_channel.setdefault(note.channel, []).append(note)
    hints: dict[int, list[tuple[int, bool, str]]] = {}
    for part in file.parts:
        hints.setdefault(part.channel, []).append((part.tick, part.drums, part.why))

    def drums_of(channel: int) -> list[Note]:
        told = hints.get(channel, [])
        usual = channel == DRUM_CHANNEL
        if not told:
            return by_channel[channel] if usual else []
        ticks = [tick for tick, _, _ in told]
        found = []
        for note in by_channel[channel]:
            at = bisect_right(ticks, note.tick)
            if told[at - 1][1] if at else usual:
                found.append(note)
        return found

    if DRUM_CHANNEL in by_channel and (found := drums_of(DRUM_CHANNEL)):
        return found, DRUM_CHANNEL, ""
    declared = [(len(found), -channel) for channel in hints if channel in by_channel and (found := drums_of(channel))]
    if declared:
        channel = -max(declared)[1]
        why = next(why for _, drums, why in hints[channel] if drums)
        return drums_of(channel), channel, f"the file declares it so ({why})"
    channel = min(by_channel, key=lambda number: _unlikeness(file, by_channel[number], number))
    chosen = by_channel[channel]
    unnamed, unknown, _, _ = _unlikeness(file, chosen, channel)
    if unknown > 100 - _KNOWN_SHARE:
        raise MidiError(
            f"found no drums: no strokes on channel 10, and the notes on {_channels(by_channel)} are not on "
            "the keys of a drum kit. Move the drums to channel 10 and export the file anew",
            offset=chosen[0].offset,
        )
    return (
        chosen,
        channel,
        "its track is named so" if not unnamed else "channel 10 is silent, and its keys are a drum kit's",
    )


def _unlikeness(file: MidiFile, notes: Sequence[Note], channel: int) -> tuple[bool, int, int, int]:
    """Order channels by how little they look like drums: no name, foreign keys, long notes, number."""
    tracks = {note.track for note in notes}
    named = any(
        text.kind in (TRACK_NAME, INSTRUMENT_NAME)
        and text.track in tracks
        and any(w in text.text.lower() for w in _WORDS)
        for text in file.texts
    )
    known = surfaces({note.key for note in notes})
    unknown = sum(note.key not in known for note in notes)
    lengths = sorted(note.length for note in notes)
    return not named, unknown * 100 // len(notes), lengths[len(lengths) // 2], channel


def _channels(numbers: Iterable[int]) -> str:
    found = [str(number) for number in sorted(numbers)]
    return f"channel {found[0]}" if len(found) == 1 else f"channels {', '.join(found[:-1])} and {found[-1]}"


class _Pedal:
    """Where the hi-hat pedal stands at each stroke; it tells half-open from open and nothing else."""

    def __init__(self, file: MidiFile, notes: Sequence[Note], channel: int, track: int) -> None:
        moves = [
            c for c in file.controls if c.number == PEDAL and c.channel == channel and (not track or c.track == track)
        ]
        self.moves = bool(moves)
        self._ticks = [c.tick for c in moves]
        self._values = [c.value for c in moves]
        closed = sorted(v for n in notes if n.key in CLOSED_KEYS and (v := self._at(n.tick)) is not None)
        self._closed = closed[len(closed) // 2] if closed else 0
        ends = (min(self._values), max(self._values)) if moves and closed else (0, 0)
        self._open = max(ends, key=lambda end: abs(end - self._closed))

    def _at(self, tick: int) -> int | None:
        found = bisect_right(self._ticks, tick)
        return self._values[found - 1] if found else None

    def surface(self, note: Note, name: str) -> str:
        value = self._at(note.tick) if note.key in OPEN_KEYS else None
        travel = self._closed - self._open
        if value is None or abs(travel) < _LEAST_TRAVEL:
            return name
        way = (value - self._open) * (1 if travel > 0 else -1)
        half = abs(travel) <= 2 * way and 20 * way < 19 * abs(travel)
        return "half-open hi-hat" if half else name


class _Scale:
    """What velocities of one surface mean in one file."""

    def __init__(self, surface: str, velocities: Iterable[int]) -> None:
        row = sorted(velocities)
        self._equal = row[0] == row[-1]
        self._high = row[len(row) * 9 // 10]
        self._ghosts = BY_NAME[surface].family in _GHOST_FAMILIES and BY_NAME[surface].limb == "hand"
        median = row[len(row) // 2]
        loud = [v for v in row if v >= _ACCENT_LEAST or 4 * v >= 5 * median]
        rest = [v for v in row if not (v >= _ACCENT_LEAST or 4 * v >= 5 * median)]
        self._accent = loud[0] if loud and rest and 5 * loud[0] >= 6 * rest[len(rest) // 2] else 128

    def dynamic(self, velocity: int) -> str:
        if self._equal:
            return "normal"
        if self._ghosts and velocity <= _GHOST_MOST and 100 * velocity <= 55 * self._high:
            return "ghost"
        if 4 * velocity < 3 * self._high:
            return "soft"
        return "accent" if velocity >= self._accent else "normal"
