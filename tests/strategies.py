"""Random beats and grooves for the laws: every meter, every division, every surface, every kind."""

from __future__ import annotations

from functools import cache

from hypothesis import strategies as st

from groundbeat.model.beat import Beat, Stroke, base_beat
from groundbeat.model.feel import Feel
from groundbeat.model.groove import Groove
from groundbeat.model.kit import BY_NAME, DYNAMICS, GRACES, SURFACES
from groundbeat.model.meter import COUNTS, WHOLE, Meter
from groundbeat.model.place import COLUMNS
from groundbeat.model.roles import ROLES
from groundbeat.variation import stack
from groundbeat.variation.catalogue import ENTRIES
from groundbeat.variation.catalogue import kind as kind_of
from groundbeat.variation.notes import Note, amount_text, cell_text
from groundbeat.variation.patterns import HAND_LETTERS, offset_text, swing_text
from groundbeat.variation.selection import STAGE, WHERE, WORDS
from groundbeat.variation.setting import Setting

SURFACE_NAMES = [surface.name for surface in SURFACES]
USUAL = [
    "kick",
    "snare",
    "hi-hat",
    "ride",
    "open hi-hat",
    "cross-stick",
    "rimshot",
    "ride bell",
    "hi-hat foot",
    "floor tom",
]


@st.composite
def meters(draw) -> Meter:
    unit = draw(st.sampled_from([4, 4, 8, 2, 16]))
    low, high = COUNTS[unit]
    count = draw(st.integers(low, high))
    if draw(st.booleans()):
        return Meter.of(f"{count}/{unit}")
    sizes, left = [], count
    while left:
        sizes.append(draw(st.integers(1, min(left, 4))))
        left -= sizes[-1]
    return Meter.of(f"{count}/{unit}", "+".join(map(str, sizes)))


@st.composite
def beats(draw, max_bars: int = 3, surfaces=None, off_columns: bool = True) -> Beat:
    meter = draw(meters())
    fits = [name for name, ticks in COLUMNS.items() if meter.bar % ticks == 0]
    columns = draw(st.sampled_from(fits))
    bars = draw(st.integers(1, max_bars))
    cycle = bars * meter.bar
    names = draw(st.lists(st.sampled_from(surfaces or USUAL + SURFACE_NAMES), max_size=6, unique=True))
    strokes, taken = [], set()
    ticks = COLUMNS[columns]
    for name in names:
        instrument = BY_NAME[name].instrument
        rows = draw(st.lists(st.tuples(st.integers(0, cycle // ticks - 1), st.integers(0, 9999)), max_size=8))
        for column, dice in rows:
            at = column * ticks
            if off_columns and dice % 17 == 16:
                at = min(at + (ticks // 3, ticks // 5, ticks // 7, 1)[dice % 4], cycle - 1)
            if (at, instrument) in taken:
                continue
            taken.add((at, instrument))
            hand = ("", "", "", "R", "L")[dice // 7 % 5] if BY_NAME[name].limb == "hand" else ""
            grace = ("", "", "", *GRACES)[dice // 35 % 10]
            strokes.append(Stroke(at, name, DYNAMICS[dice // 350 % 4], grace, hand))
    return base_beat(meter, bars, columns, strokes)


targets = st.sampled_from([*ROLES, "everything", *USUAL])
places = st.lists(
    st.one_of(
        st.sampled_from(
            [
                *(word for word in WORDS if word not in (STAGE, WHERE)),
                "e",
                "&",
                "a",
                "trip",
                "let",
                "2",
                "4",
                "1e",
                "3a",
                "2:1",
                "2:beats",
                "first backbeat",
            ]
        ),
        st.sampled_from(
            [
                "first backbeat",
                "last beats",
                "first all",
                "2[3/6]",
                "1[4/8]",
                "2:first backbeat",
                "5&",
                "last e",
                "free",
                "kick",
                "last hi-hat-foot",
                "riding",
                "2:backbeat-voice",
                "stage 1",
                "first stage 0",
                "last accents",
                "first soft",
            ]
        ),
    ),
    min_size=1,
    max_size=3,
).map(" ".join)
amounts = st.builds(
    lambda ticks, sign: amount_text(ticks * sign),
    st.one_of(
        st.sampled_from([WHOLE // 16, WHOLE // 8, WHOLE // 12, WHOLE // 4, 5 * WHOLE // 16]), st.integers(1, 2 * WHOLE)
    ),
    st.sampled_from([1, -1]),
)
cells = st.lists(
    st.builds(
        Note,
        st.sampled_from(["whole", "half", "quarter", "eighth", "sixteenth", "thirty-second"]),
        st.sampled_from(["", "", "dotted", "triplet"]),
        st.booleans(),
    ),
    min_size=1,
    max_size=6,
).map(lambda row: cell_text((row[0]._replace(sounds=True), *row[1:])))


@st.composite
def touches(draw) -> str:
    sign = draw(st.sampled_from("+-="))
    name = draw(st.sampled_from(SURFACE_NAMES))
    place = draw(st.sampled_from(["1", "2", "3a", "2&", "2:1e", "4[3/6]", "1[2/7]"]))
    words = [sign, name, place]
    if sign != "-":
        words.append(draw(st.sampled_from(DYNAMICS)))
        words += draw(st.sampled_from([[], ["flam"], ["plain"], ["buzz"]]))
        if BY_NAME[name].limb == "hand":
            words += draw(st.sampled_from([[], ["L"], ["R"], ["free"]]))
    return " ".join(words)


surfaces = st.sampled_from(SURFACE_NAMES)
TYPES = {
    "target": targets,
    "surface": surfaces,
    "targets": st.lists(targets, max_size=3),
    "places": places,
    "amount": amounts,
    "cell": cells,
    "dynamic": st.sampled_from(DYNAMICS),
    "grace": st.sampled_from(GRACES[1:]),
    "changes": st.lists(touches(), min_size=1, max_size=4),
    "row": st.lists(surfaces, min_size=1, max_size=4),
    "note": st.builds(
        lambda value, shape: cell_text((Note(value, shape, True),)),
        st.sampled_from(["half", "quarter", "eighth", "sixteenth", "thirty-second"]),
        st.sampled_from(["", "", "dotted", "triplet"]),
    ),
    "grouping": st.lists(st.integers(1, 15), min_size=1, max_size=5).map(lambda row: "+".join(map(str, row))),
    "hands": st.lists(st.sampled_from(HAND_LETTERS), min_size=1, max_size=12).map(lambda row: "R" + "".join(row)),
    "swing": st.one_of(
        st.just("straight"),
        st.builds(swing_text, st.sampled_from(["eighths", "sixteenths"]), st.integers(1, 9), st.integers(1, 9)),
    ),
    "offset": st.integers(-100, 100).map(offset_text),
}


def values_of(setting: Setting) -> st.SearchStrategy:
    """Random values of a setting."""
    if setting.type.name == "choice":
        return st.sampled_from(setting.words)
    if setting.type.name == "number":
        return st.integers(setting.low, setting.high).map(str)
    if setting.type.name == "group":
        return _settings(setting.inner)
    return TYPES[setting.type.name]


def _settings(settings: tuple[Setting, ...]) -> st.SearchStrategy[dict]:
    rows = {setting.name: values_of(setting) for setting in settings}
    needed = {setting.name for setting in settings if setting.default is None}
    return st.fixed_dictionaries(
        {name: rows[name] for name in rows if name in needed},
        optional={name: rows[name] for name in rows if name not in needed},
    )


@cache  # a strategy is worked out once, then it can be drawn from as often as wanted
def settings_of(kind: str) -> st.SearchStrategy[dict]:
    """Random settings of a kind, each given or left at its default."""
    return _settings(kind_of(kind).settings)


KINDS = [entry.name for entry in ENTRIES]


@st.composite
def variations(draw):
    """A kind with settings, on or off, as (kind, settings, on)."""
    kind = draw(st.sampled_from(KINDS))
    return kind, draw(settings_of(kind)), draw(st.integers(0, 5)) > 0


titles = st.text(st.characters(exclude_categories=["Cs", "Cc"]), max_size=20)


@st.composite
def grooves(draw, max_variations: int = 5, max_bars: int = 3) -> Groove:
    base = draw(beats(max_bars=max_bars))
    sounding = {stroke.surface for stroke in base.strokes}
    silent = draw(st.lists(st.sampled_from(USUAL), max_size=2, unique=True))
    ordered = sorted((name for name in silent if name not in sounding), key=lambda name: BY_NAME[name].row)
    roles = draw(st.dictionaries(st.sampled_from(ROLES), st.sampled_from(USUAL), max_size=2))
    feel = Feel()
    if draw(st.booleans()):
        pushes = draw(st.dictionaries(st.sampled_from(["all", "snare", "ride"]), st.integers(-30, 30), max_size=2))
        swung = draw(st.sampled_from(["", "eighths", "sixteenths"]))
        feel = Feel(
            swung,
            draw(st.integers(1, 5)) if swung else 1,
            draw(st.integers(1, 3)) if swung else 1,
            tuple(sorted((name, ms) for name, ms in pushes.items() if ms)),
        )
    groove = Groove(
        title=draw(titles),
        note=draw(titles),
        base=base,
        lines=tuple(ordered),
        tempo=draw(st.integers(2000, 40000)),
        roles=tuple((role, roles[role]) for role in ROLES if role in roles),
        feel=feel,
        next_key=draw(st.sampled_from([1, 1, 4])),
    )
    for kind, raw, on in draw(st.lists(variations(), max_size=max_variations)):
        groove = stack.add(groove, kind, raw)
        if not on:
            groove = stack.switch(groove, groove.variations[-1].key, False)
    if len(groove.variations) > 1 and draw(st.booleans()):
        groove = stack.remove(groove, groove.variations[0].key)
    return groove
