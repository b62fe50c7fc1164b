"""What a score says becomes strokes, however a program spells it, and what was doubtful is told."""

from __future__ import annotations

import pytest

from groundbeat.errors import MusicXmlError
from tests.notation.xml.scores import instruments, read, rest, score, strike, struck, told

QUARTER = 10080
X = "<notehead>x</notehead>"


def chord(step: str, **more: object) -> str:
    """A note at the place of the one before."""
    return strike(step, first="<chord/>", **more)  # type: ignore[arg-type]


def of(key: str) -> str:
    """An instrument by its id."""
    return f'<instrument id="{key}"/>'


def notations(inside: str) -> str:
    """Marks at a note."""
    return f"<notations>{inside}</notations>"


def only(text: str):
    """The only stroke of a score."""
    (stroke,) = read(text).beat.strokes
    return stroke


# --- which surface ---------------------------------------------------------------------------------------------------


def keyed(*rows: tuple[str, str, int]) -> str:
    """A bar with one note of each instrument, all at a place that says nothing."""
    notes = "".join(strike("C4", inside=of(key)) for key, _, _ in rows)
    return score(notes + rest(24 * (4 - len(rows))) if len(rows) < 4 else notes, part_list=instruments(*rows))


GENERAL = (
    ("a", "Bass Drum 1", 37),
    ("b", "Acoustic Snare", 39),
    ("c", "Closed Hi-Hat", 43),
    ("d", "Crash Cymbal 1", 50),
)
KIT = ["kick", "snare", "hi-hat", "crash"]


def names(text: str) -> list[str]:
    """The surfaces in the order of time."""
    return [stroke.surface for stroke in read(text).beat.strokes]


@pytest.mark.parametrize(
    ("rows", "surfaces"),
    [
        (GENERAL, KIT),
        (tuple((key, name, number - 1) for key, name, number in GENERAL), KIT),
        (tuple((key, "", number) for key, name, number in GENERAL), KIT),
        (tuple((key, "????", number) for key, name, number in GENERAL), KIT),
        (tuple((key, name, 0) for key, name, number in GENERAL), KIT),
        ((("a", "Grosse caisse", 0), ("b", "Caisse claire", 0), ("c", "Charleston ouvert", 0)), ["kick", "snare", "open hi-hat"]),
        ((("a", "High Tom", 51), ("b", "Low Tom", 46), ("c", "Low Floor Tom", 42)), ["high tom", "low tom", "floor tom"]),
        ((("a", "Side Stick", 38), ("b", "Ride Bell", 54), ("c", "Hi-Hat pedal", 45)), ["cross-stick", "ride bell", "hi-hat foot"]),
    ],
    ids=["1-based", "0-based", "no names", "unreadable names", "names alone", "French names", "toms by rank", "particular ones"],
)  # fmt: skip
def test_keys_and_names_give_the_surface(rows: tuple[tuple[str, str, int], ...], surfaces: list[str]):
    assert names(keyed(*rows)) == surfaces


def test_numbers_from_0_are_found_by_the_places_where_names_say_nothing():
    rows = (("a", "36", 35), ("b", "39", 38), ("c", "43", 42))
    bar = strike("F4", inside=of("a")) + strike("C5", inside=of("b")) + strike("G5", inside=of("c") + X) + rest()
    found = read(score(bar, part_list=instruments(*rows)))
    assert [surface for _, surface in struck(found)] == ["kick", "snare", "hi-hat"]
    assert told(found, "midi-unpitched counts from 0")


def test_right_numbers_are_not_taken_for_numbers_from_0():
    assert not told(read(keyed(*GENERAL)), "counts from 0")


def test_instruments_that_are_unknown_or_not_named_fall_back_to_the_place():
    part_list = instruments(*GENERAL)
    found = read(score(strike("F4", inside=of("gone")) + strike("C5") + rest(48), part_list=part_list))
    assert struck(found) == [(0, "kick"), (QUARTER, "snare")]
    assert told(found, 'Drum set, bar 1: the instrument "gone" is not in the part list; read by place')


def test_the_only_instrument_is_meant_where_notes_name_none():
    part_list = instruments(("a", "Cowbell", 57))
    assert names(score(strike("E4") * 4, part_list=part_list)) == ["cowbell"] * 4
    both = strike("F4") + strike("C5") + rest(48)
    assert names(score(both, part_list=part_list)) == ["kick", "snare"]


def test_an_instrument_that_the_kit_lacks_is_left_out_by_name():
    found = read(keyed(*GENERAL[:2], ("x", "Low Conga", 65)))
    assert struck(found) == [(0, "kick"), (QUARTER, "snare")]
    assert told(found, "low conga (key 64) was left out")
    with pytest.raises(MusicXmlError, match="nothing of it can be played on the kit.* triangle"):
        read(keyed(("x", "Open Triangle", 82)))


PLACES = [
    ("F4", "normal", "kick"), ("C5", "normal", "snare"), ("C5", "x", "cross-stick"), ("C5", "slashed", "rimshot"),
    ("G5", "x", "hi-hat"), ("G5", "circle-x", "open hi-hat"), ("G5", "circle x", "open hi-hat"), ("D4", "x", "hi-hat foot"),
    ("F5", "x", "ride"), ("F5", "diamond", "ride bell"), ("A5", "x", "crash"), ("B5", "circle-x", "china"),
    ("A5", "inverted triangle", "stack cymbal"), ("E5", "triangle", "cowbell"), ("E5", "normal", "high tom"),
    ("A4", "normal", "floor tom"), ("C6", "x", "splash"),
]  # fmt: skip


@pytest.mark.parametrize(("step", "head", "surface"), PLACES)
def test_place_and_head_give_the_surface_alone_and_in_a_chord(step: str, head: str, surface: str):
    marked = f"<notehead>{head}</notehead>"
    assert names(score(strike(step, inside=marked) + rest(72))) == [surface]
    beside = ("F4", "kick") if surface != "kick" else ("C5", "snare")
    found = names(score(strike(beside[0]) + chord(step, inside=marked) + rest(72)))
    assert sorted(found) == sorted([beside[1], surface])


def test_other_customs_of_placing_are_known_by_what_they_explain():
    lilypond = score((strike("E5", inside=X) + chord("F4")) * 2 + (strike("E5", inside=X) + chord("C5")) * 2)
    assert sorted(set(names(lilypond))) == ["hi-hat", "kick", "snare"]
    assert told(read(lilypond), "by the custom of LilyPond")
    agostini = score((strike("G5", inside=X) + chord("D4")) * 2 + (strike("G5", inside=X) + chord("B4")) * 2)
    assert sorted(set(names(agostini))) == ["hi-hat", "kick", "snare"]
    assert told(read(agostini), "by the custom of Agostini")


def test_a_bass_clef_shifts_places_and_the_line_of_a_percussion_clef_does_not():
    low = score(strike("A2") + strike("E3") + rest(48), clef="F")
    low = low.replace("<sign>F</sign>", "<sign>F</sign><line>4</line>")
    assert names(low) == ["kick", "snare"]
    assert names(score(strike("F4") + rest(72)).replace("percussion</sign>", "percussion</sign><line>3</line>")) == [
        "kick"
    ]


def test_a_note_without_a_place_takes_the_part_s_name_or_is_told():
    bare = "<note><unpitched/><duration>24</duration></note>"
    assert (
        names(score(bare * 4, part_list='<score-part id="P1"><part-name>Cowbell</part-name></score-part>'))
        == ["cowbell"] * 4
    )
    found = read(score(bare * 4))
    assert {surface for _, surface in struck(found)} == {"snare"}
    assert told(found, "without place, instrument or name was read as snare")


def test_a_head_and_a_place_that_nobody_uses_are_told():
    found = read(score(strike("C5", inside="<notehead>la</notehead>") + strike("G2") + strike("F4") + rest()))
    assert struck(found) == [(0, "snare"), (2 * QUARTER, "kick")]
    assert told(found, "C5 with head la was read as snare")
    assert told(found, "G2 was left out")


def test_pitched_notes_on_the_drums_channel_are_keys():
    part_list = instruments(("a", "Drums", 0)).replace(
        "</score-part>", '<midi-instrument id="a"><midi-channel>10</midi-channel></midi-instrument></score-part>'
    )
    key = "<note><pitch><step>D</step><octave>2</octave></pitch><duration>24</duration></note>"
    assert names(score(key * 4, part_list=part_list, clef="G")) == ["snare"] * 4
    with pytest.raises(MusicXmlError, match="no drum part: none of the 1 parts"):
        read(score(key * 4, clef="G"))


# --- how it is struck ------------------------------------------------------------------------------------------------


OPEN = ["<technical><open/></technical>", "<technical><open-string/></technical>", "<technical><harmonic/></technical>",
        '<technical><other-technical smufl="brassMuteOpen"/></technical>']  # fmt: skip


@pytest.mark.parametrize("mark", OPEN)
def test_an_open_hi_hat_is_known_by_any_spelling(mark: str):
    assert only(score(strike("G5", inside=X + notations(mark)) + rest(72))).surface == "open hi-hat"


def test_words_half_open_and_closed_marks_and_the_foot():
    words = "<direction><direction-type><words>o</words></direction-type></direction>"
    assert only(score(words + strike("G5", inside=X) + rest(72))).surface == "open hi-hat"
    half = notations("<technical><half-muted/></technical>")
    assert only(score(strike("G5", inside=X + half) + rest(72))).surface == "half-open hi-hat"
    rows = (("a", "Open Hi-Hat", 47), ("b", "Snare", 39))
    closed = strike("G5", inside=of("a") + notations("<technical><stopped/></technical>")) + rest(72)
    assert only(score(closed, part_list=instruments(*rows))).surface == "hi-hat"
    foot = strike("D4", inside=X + notations("<technical><open/></technical>")) + rest(72)
    assert only(score(foot)).surface == "foot splash"


def test_ghosts_accents_and_velocities():
    ghost = strike("C5", inside='<notehead parentheses="yes">normal</notehead>')
    accent = strike("C5", inside=notations("<articulations><accent/></articulations>"))
    marcato = strike("C5", inside=notations("<articulations><strong-accent/></articulations>"))
    found = read(score(ghost + accent + marcato + strike("C5")))
    assert [stroke.dynamic for stroke in found.beat.strokes] == ["ghost", "accent", "accent", "normal"]
    loud = "".join(strike("C5", about=f' dynamics="{share}"') for share in (35, 62, 93, 124))
    assert [s.dynamic for s in read(score(loud)).beat.strokes] == ["ghost", "soft", "normal", "accent"]
    same = read(score(strike("C5", about=' dynamics="50"') * 4))
    assert {stroke.dynamic for stroke in same.beat.strokes} == {"normal"}


GRACE = strike("C5", long=0, first="<grace/>")


@pytest.mark.parametrize(("many", "grace"), [(1, "flam"), (2, "drag"), (3, "ruff")])
def test_grace_notes_are_counted(many: int, grace: str):
    assert only(score(GRACE * many + strike("C5") + rest(72))).grace == grace


def test_graces_in_chords_before_rests_and_across_the_bar_line():
    on_both = GRACE * 2 + strike("G5", inside=X) + chord("C5") + rest(72)
    assert [(s.surface, s.grace) for s in read(score(on_both)).beat.strokes] == [("hi-hat", ""), ("snare", "drag")]
    found = read(score(GRACE + strike("G5", inside=X) + chord("F4") + rest(72)))
    assert [(s.surface, s.grace) for s in found.beat.strokes] == [("hi-hat", "flam"), ("kick", "")]
    assert told(found, "grace notes on another surface were given to the hi-hat")
    found = read(score(strike("C5") + GRACE + rest(72)))
    assert only(score(strike("C5") + GRACE + rest(72))).grace == ""
    assert told(found, "grace notes before a rest were left out")
    across = read(score(strike("C5") + rest(72) + GRACE, strike("C5") + rest(72)))
    assert [(s.at, s.grace) for s in across.beat.strokes] == [(0, ""), (4 * QUARTER, "flam")]
    assert told(read(score(strike("C5") + rest(72) + GRACE)), "without a note after them")


def test_a_chord_after_a_rest_and_after_a_grace_stands_where_it_can():
    assert struck(read(score(rest() + chord("C5") + rest(72)))) == [(0, "snare")]
    after = GRACE + chord("C5") + rest(72)
    assert [(s.at, s.grace) for s in read(score(after)).beat.strokes] == [(0, "flam")]


def test_tremolos_are_diddles_and_buzzes():
    def trem(inside: str) -> str:
        return score(strike("C5", inside=notations(f"<ornaments>{inside}</ornaments>")) + rest(72))

    assert only(trem('<tremolo type="single">1</tremolo>')).grace == "diddle"
    assert only(trem('<tremolo type="unmeasured">0</tremolo>')).grace == "buzz"
    assert only(trem("<tremolo>3</tremolo>")).grace == "buzz"
    found = read(trem("<tremolo>2</tremolo>"))
    assert [(s.at, s.grace) for s in found.beat.strokes] == [(0, "diddle"), (QUARTER // 2, "diddle")]
    assert told(found, "two diddles")


STICKINGS = [
    ("<direction><direction-type><words>R</words></direction-type></direction>", ""),
    ("", "<lyric><text>R</text></lyric>"),
    ("", notations("<technical><fingering>R</fingering></technical>")),
    ("<direction><direction-type><words>RH</words></direction-type></direction>", ""),
]


@pytest.mark.parametrize(("before", "inside"), STICKINGS)
def test_a_sticking_is_read_from_words_lyric_or_fingering(before: str, inside: str):
    assert only(score(before + strike("C5", inside=inside) + rest(72))).hand == "R"


def test_a_letter_at_a_foot_goes_to_the_hand_of_its_chord_and_b_to_nobody():
    letter = "<direction><direction-type><words>L</words></direction-type></direction>"
    found = read(score(letter + strike("F4") + chord("C5") + rest(72)))
    assert {s.surface: s.hand for s in found.beat.strokes} == {"kick": "", "snare": "L"}
    found = read(score(letter.replace("L<", "B<") + strike("G5", inside=X) + chord("C5") + rest(72)))
    assert {s.hand for s in found.beat.strokes} == {""}
    assert told(found, "B asks for both hands")


def test_a_choke_a_tie_a_cue_and_slashes():
    choke = notations('<technical><other-technical smufl="pictChokeCymbal">choke</other-technical></technical>')
    assert only(score(strike("A5", inside=X + choke) + rest(72))).grace == "choke"
    tied = strike("C5", inside='<tie type="start"/>') + strike("C5", inside='<tie type="stop"/>') + rest(48)
    assert struck(read(score(tied))) == [(0, "snare")]
    found = read(
        score(strike("C5") + strike("C5", first="<cue/>") + strike("B4", inside="<notehead>slash</notehead>") + rest())
    )
    assert struck(found) == [(0, "snare")]
    assert told(found, "cues") and told(found, "slashes")  # noqa: PT018
