"""What a MusicXML file of ours holds, read element by element."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path
from xml.etree import ElementTree

import pytest

from groundbeat.codec.groove_read import read_groove
from groundbeat.errors import RequestError
from groundbeat.model.beat import Stroke, base_beat
from groundbeat.model.feel import Feel
from groundbeat.model.groove import Groove
from groundbeat.model.kit import BY_NAME, SURFACES
from groundbeat.model.meter import QUARTER, Meter
from groundbeat.notation.staff import place
from groundbeat.notation.xml import write
from groundbeat.notation.xml.instruments import SOUNDS
from groundbeat.notation.xml.packed import packed
from groundbeat.notation.xml.wish import Wish
from groundbeat.notation.xml.write import musicxml
from groundbeat.variation import stack

EIGHTH = QUARTER // 2
SIXTEENTH = QUARTER // 4
SLACK_TIDE = Path(__file__).parents[2] / "examples/slack-tide.toml"


def groove(
    *strokes: Stroke, meter: str = "4/4", bars: int = 1, columns: str = "sixteenths", grouping: str = "", **more
):
    return Groove(base=base_beat(Meter.of(meter, grouping), bars, columns, strokes), **more)


def text(*strokes: Stroke, wish: Wish = write.USUAL, **more) -> str:
    made = groove(*strokes, **more)
    return musicxml(made, stack.grow(made), wish).text


def score(*strokes: Stroke, **more) -> ElementTree.Element:
    return ElementTree.fromstring(text(*strokes, **more).encode())


def notes(root: ElementTree.Element) -> list[ElementTree.Element]:
    return root.findall(".//note")


def names(note: ElementTree.Element) -> list[str]:
    return [child.tag for child in note]


def test_the_file_says_what_it_is():
    lines = text(Stroke(0, "kick"), title="Ebb & <Flow>").splitlines()
    assert lines[0] == '<?xml version="1.0" encoding="UTF-8"?>'
    assert lines[1].startswith("<!DOCTYPE score-partwise PUBLIC")
    assert lines[2] == '<score-partwise version="4.0">'
    assert " <work>" in lines and "  <work-title>Ebb &amp; &lt;Flow&gt;</work-title>" in lines


def test_a_title_may_hold_what_xml_does_not_allow():
    assert score(Stroke(0, "kick"), title='a\uffff"b').findtext("work/work-title") == 'a\ufffd"b'


def test_every_surface_has_an_instrument_with_its_key_counted_from_one():
    root = score(*(Stroke(n * SIXTEENTH, surface.name) for n, surface in enumerate(SURFACES)), bars=2)
    part = root.find("part-list/score-part")
    assert part is not None
    tags = names(part)
    assert tags == sorted(tags, key=["part-name", "part-abbreviation", "score-instrument", "midi-instrument"].index)
    told = {each.get("id"): each for each in part.findall("score-instrument")}
    played = {each.get("id"): each for each in part.findall("midi-instrument")}
    assert len(told) == len(played) == len(SURFACES)
    for note in (note for note in notes(root) if note.find("rest") is None):
        link = note.find("instrument")
        assert link is not None
        name = told[link.get("id")].findtext("instrument-name")
        surface = BY_NAME[str(name)]
        assert told[link.get("id")].findtext("instrument-sound") == SOUNDS.get(surface.name)
        keys = played[link.get("id")]
        assert [keys.findtext(f"midi-{tag}") for tag in ("channel", "unpitched")] == ["10", str(surface.key + 1)]
        at = place(surface.name)
        assert (note.findtext("unpitched/display-step"), note.findtext("unpitched/display-octave")) == (
            at.step,
            str(at.octave),
        )
        assert note.findtext("notehead", "normal") == at.head


def test_all_sounds_are_in_the_list_of_the_standard(real_inputs: Path):
    known = {sound.get("id") for sound in ElementTree.parse(real_inputs / "musicxml_schema/sounds.xml").iter("sound")}
    assert set(SOUNDS.values()) <= known


def test_hands_and_feet_are_two_voices_with_the_way_back_between():
    root = score(Stroke(0, "hi-hat"), Stroke(0, "kick"), Stroke(2 * QUARTER, "snare"))
    measure = root.find("part/measure")
    assert measure is not None
    tags = names(measure)
    back = tags.index("backup")
    assert measure.findtext("backup/duration") == str(4 * int(str(root.findtext(".//divisions"))))
    voices = [(note.findtext("voice"), note.findtext("stem")) for note in notes(root) if note.find("rest") is None]
    assert voices == [("1", "up"), ("1", "up"), ("2", "down")]
    assert tags[:back].count("note") and tags[back:].count("note")
    one = score(Stroke(0, "hi-hat"), Stroke(0, "kick"), wish=Wish(voices=1))
    assert one.find(".//backup") is None and [note.find("chord") is None for note in notes(one)][:2] == [True, False]


def test_divisions_are_as_few_as_the_lengths_need():
    assert score(Stroke(0, "kick"), Stroke(QUARTER, "kick")).findtext(".//divisions") == "1"
    assert score(*(Stroke(n * QUARTER // 7, "snare") for n in range(7))).findtext(".//divisions") == "7"


def test_elements_of_a_note_stand_in_the_order_of_the_schema():
    strokes = [Stroke(n * QUARTER // 3, "snare", "accent", "flam", "L") for n in (0, 2)]
    root = score(*strokes, columns="eighth triplets", wish=Wish(sticking="fingering", counts=True))
    grace, main = notes(root)[:2]
    assert names(grace) == ["grace", "unpitched", "instrument", "voice", "type", "stem", "notations"]
    assert names(main) == [
        "unpitched", "duration", "instrument", "voice", "type", "time-modification", "stem", "notations", "lyric",
        "play",
    ]  # fmt: skip
    assert main.findtext("time-modification/normal-type") == "eighth"
    assert [child.tag for child in main.findall("notations/*")] == ["tuplet", "slur", "technical", "articulations"]


@pytest.mark.parametrize(("grace", "count"), [("flam", 1), ("drag", 2), ("ruff", 3)])
def test_graces_stand_before_their_stroke_and_are_slurred_to_it(grace: str, count: int):
    root = score(Stroke(0, "snare"), Stroke(QUARTER, "snare", "accent", grace), Stroke(QUARTER, "hi-hat"))
    row = notes(root)
    small = [note for note in row if note.find("grace") is not None]
    assert len(small) == count and row.index(small[0]) == 1
    assert all(note.find("duration") is None for note in small)
    assert {note.get("dynamics") for note in small} == {"62.22"}  # 56 of 90
    slurs = [(note.get("id"), slur.get("type"), slur.get("number")) for note in row for slur in note.iter("slur")]
    assert slurs == [(f"s0.0.snare.1-4.g{count}", "start", "2"), ("s0.0.snare.1-4", "stop", "2")]
    beams = [[beam.text for beam in note.findall("beam")] for note in small]
    assert beams == {1: [[]], 2: [["begin"] * 2, ["end"] * 2], 3: [["begin"] * 2, ["continue"] * 2, ["end"] * 2]}[count]


def test_dynamics_are_heads_accents_and_velocities():
    root = score(*(Stroke(n * QUARTER, "snare", word) for n, word in enumerate(("ghost", "soft", "normal", "accent"))))
    row = notes(root)
    assert [note.get("dynamics") for note in row] == ["35.56", "62.22", "93.33", "124.44"]
    assert [head.get("parentheses") for note in row for head in note.findall("notehead")] == ["yes"]
    assert [note.find(".//accent") is not None for note in row] == [False, False, False, True]


def marks_of(root: ElementTree.Element) -> list[list[str]]:
    return [
        [mark.tag for mark in note.findall("notations/technical/*")]
        for note in notes(root)
        if note.find("rest") is None
    ]


def test_the_hi_hat_says_how_far_it_is_open():
    strokes = [Stroke(n * QUARTER, name) for n, name in enumerate(["open hi-hat", "hi-hat", "half-open hi-hat"])]
    assert marks_of(score(*strokes)) == [["open"], ["stopped"], ["half-muted"]]
    assert marks_of(score(*strokes, wish=Wish(older=True))) == [["open-string"], ["stopped"], ["half-muted"]]
    below = score(Stroke(0, "foot splash")).find(".//open")
    assert below is not None and below.get("placement") == "below"


def test_buzz_and_diddle_are_tremolos_and_a_choke_is_said():
    root = score(
        Stroke(0, "snare", grace="buzz"),
        Stroke(QUARTER, "snare", grace="diddle"),
        Stroke(2 * QUARTER, "crash", grace="choke"),
    )
    assert [(each.get("type"), each.text) for each in root.iter("tremolo")] == [("unmeasured", "0"), ("single", "1")]
    assert [each.get("smufl") for each in root.iter("other-technical")] == ["pictChokeCymbal"]
    assert "choke" in [each.text for each in root.iter("words")]


HANDS = [Stroke(0, "hi-hat", hand="R"), Stroke(0, "snare", hand="L"), Stroke(QUARTER, "snare", hand="L")]


def test_hands_are_words_lyrics_or_fingerings():
    below = [each for each in score(*HANDS).iter("direction") if each.get("placement") == "below"]
    assert [each.findtext("direction-type/words") for each in below] == ["B", "L"]
    lyric = score(*HANDS, wish=Wish(sticking="lyric"))
    assert [(each.get("number"), each.findtext("text")) for each in lyric.iter("lyric")] == [("1", "B"), ("1", "L")]
    fingers = score(*HANDS, wish=Wish(sticking="fingering"))
    assert [each.text for each in fingers.iter("fingering")] == ["R", "L", "L"]
    none = text(*HANDS, wish=Wish(sticking="none"))
    assert "<words>" not in none and "other-play" not in none


def test_each_note_knows_its_own_hand_where_one_letter_stands_for_two():
    assert [each.text for each in score(*HANDS).iter("other-play")] == ["R", "L", "L"]


def test_hands_that_were_worked_out_may_be_given():
    made = groove(Stroke(0, "snare"))
    told = musicxml(made, stack.grow(made), hands={0: {"0/snare@0": "R"}}).text
    assert "<words>R</words>" in told


def test_counts_are_a_second_lyric_each_at_one_note():
    root = score(Stroke(0, "hi-hat"), Stroke(0, "kick"), Stroke(3 * SIXTEENTH, "kick"), wish=Wish(counts=True))
    counts = [
        (note.get("id"), each.get("number"), each.findtext("text"))
        for note in notes(root)
        for each in note.iter("lyric")
    ]
    assert counts == [("s0.0.hi-hat.0", "2", "1"), ("s0.0.kick.3-16", "2", "a")]


def test_tempo_has_its_unit_and_says_quarters_for_the_sound():
    root = score(Stroke(0, "kick"), meter="6/8", tempo=9250)
    assert [each.text or "" for each in root.findall(".//metronome/*")] == ["quarter", "", "92.5"]
    sound = root.find(".//sound[@tempo]")
    assert sound is not None and sound.get("tempo") == "138.75"
    assert score(Stroke(0, "kick"), wish=Wish(tempo=6000)).findtext(".//per-minute") == "60"


def test_swing_is_for_the_sound_and_in_words_and_pushes_are_attacks():
    feel = Feel("sixteenths", 2, 1, (("snare", 10),))
    root = score(Stroke(0, "hi-hat"), Stroke(QUARTER, "snare"), feel=feel, tempo=6000)
    assert [each.text for each in root.findall(".//swing/*")] == ["2", "1", "16th"]
    assert feel.said() in [each.text for each in root.iter("words")]
    assert [(note.get("id"), note.get("attack")) for note in notes(root) if note.get("attack")] == [
        ("s0.0.snare.1-4", "0.01")
    ]
    assert root.findtext(".//miscellaneous-field[@name='stage 0 feel']") == "swing sixteenths 2:1; push snare 10"


def test_a_stroke_between_the_written_values_keeps_its_place_in_attack():
    made = groove(Stroke(0, "hi-hat"), Stroke(11, "kick"))
    found = musicxml(made, stack.grow(made))
    root = ElementTree.fromstring(found.text.encode())
    kick = next(note for note in notes(root) if note.get("attack"))
    assert round(float(str(kick.get("attack"))) * QUARTER / int(str(root.findtext(".//divisions")))) == 11
    assert len(found.says) == 2 and "kick" in found.says[0]


def test_unusual_groups_stand_in_the_meter_and_usual_ones_do_not():
    assert score(Stroke(0, "kick"), meter="7/8", columns="eighths").findtext(".//beats") == "7"
    assert score(Stroke(0, "kick"), meter="7/8", columns="eighths", grouping="3+2+2").findtext(".//beats") == "3+2+2"


def test_an_empty_bar_is_one_rest_of_the_whole_bar():
    rests = [
        note
        for note in notes(score(Stroke(0, "kick"), meter="3/4", bars=2))
        if note.find("rest[@measure='yes']") is not None
    ]
    assert [(note.findtext("duration"), note.find("type")) for note in rests] == [("3", None)]


def test_bars_that_repeat_have_their_sign_only_where_it_is_asked_for_and_are_written_out():
    bar = 4 * QUARTER
    strokes = [Stroke(n * bar, "kick") for n in range(3)] + [Stroke(3 * bar, "snare")]
    assert "measure-repeat" not in text(*strokes, bars=4)
    root = score(*strokes, bars=4, wish=Wish(signs=True))
    signs = [
        (measure.get("number"), sign.get("type"))
        for measure in root.iter("measure")
        for sign in measure.iter("measure-repeat")
    ]
    assert signs == [("2", "start"), ("4", "stop")]
    assert len([note for note in notes(root) if note.find("rest") is None]) == 4


def test_names_stand_where_a_place_on_the_staff_is_no_custom():
    root = score(
        *(Stroke(n * QUARTER, name) for n, name in enumerate(["stack cymbal", "stack cymbal", "ride edge", "ride"]))
    )
    assert [each.text for each in root.iter("words")] == ["stack cymbal", "ride edge", "ride"]


def test_all_stages_stand_one_after_the_other():
    tide = read_groove(SLACK_TIDE.read_text(encoding="utf-8"))
    tide = stack.switch(tide, tide.variations[1].key, False)
    stages = stack.grow(tide)
    root = ElementTree.fromstring(musicxml(tide, stages, Wish(through=True)).text.encode())
    assert [each.text for each in root.iter("rehearsal")] == ["Base beat", "Stage 1", "Stage 3", "Stage 4"]
    assert [measure.get("number") for measure in root.iter("measure")] == ["1", "2", "3", "4"]
    assert [each.text for each in root.iter("bar-style")] == ["light-light"] * 3 + ["light-heavy"]
    said = [each.text for each in root.iter("words")]
    assert stack.plain(stages[1].variation, {stage.key: stage.number for stage in stages}) in said
    ids = [note.get("id") for note in notes(root) if note.get("id")]
    assert len(ids) == len(set(ids)) == sum(len(stages[number].beat.strokes) for number in (0, 1, 3, 4))
    assert len(root.findall(".//divisions")) == len(root.findall(".//time")) == 1


@pytest.mark.parametrize(
    ("wish", "field"),
    [(Wish(stage=9), "stage"), (Wish(stage=-2), "stage"), (Wish(voices=3), "voices"), (Wish(sticking="x"), "sticking"),
     (Wish(tempo=5), "tempo")],
)  # fmt: skip
def test_a_wish_that_cannot_be_had_is_refused_by_its_field(wish: Wish, field: str):
    with pytest.raises(RequestError) as refused:
        text(Stroke(0, "kick"), wish=wish)
    assert refused.value.field == field


def test_a_file_does_not_grow_without_end(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(write, "MAX_STROKES", 1)
    with pytest.raises(RequestError, match="would hold 2 strokes, at most 1"):
        text(Stroke(0, "kick"), Stroke(QUARTER, "kick"))


def test_the_packed_file_begins_with_its_type_and_names_its_score():
    told = text(Stroke(0, "kick"), title="Ebbe ü")
    data = packed(told)
    assert data[30:38] == b"mimetype" and data[38:72] == b"application/vnd.recordare.musicxml"
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        assert archive.testzip() is None
        assert archive.namelist() == ["mimetype", "META-INF/container.xml", "score.musicxml"]
        first = archive.infolist()[0]
        assert (first.compress_type, first.extra) == (zipfile.ZIP_STORED, b"")
        container = ElementTree.fromstring(archive.read("META-INF/container.xml"))
        root = container.find("rootfiles/rootfile")
        assert root is not None and archive.read(str(root.get("full-path"))).decode() == told
    assert packed(told) == data and len(data) < len(told)
