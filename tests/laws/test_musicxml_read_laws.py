"""What our own writer puts into a score, our reader takes out; and no bytes make the reader fail in another way."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from groundbeat.errors import MusicXmlError
from groundbeat.notation.xml.packed import packed
from groundbeat.notation.xml.read import base_beat
from groundbeat.notation.xml.wish import STICKINGS, Wish
from groundbeat.notation.xml.write import musicxml
from groundbeat.variation.stack import grow
from tests.strategies import grooves

wishes = st.builds(
    lambda voices, sticking, counts, signs, older: Wish(-1, False, voices, sticking, counts, signs, older),
    st.sampled_from((1, 2)),
    st.sampled_from([way for way in STICKINGS if way != "none"]),
    st.booleans(),
    st.booleans(),
    st.booleans(),
)


def played(beat):
    """What is struck, apart from which stage it came from."""
    return [(s.at, s.surface, s.dynamic, s.grace, s.hand) for s in beat.strokes]


@settings(max_examples=50)
@given(grooves(max_variations=1, max_bars=2), wishes)
def test_a_stage_comes_back_from_a_score(groove, wish):
    stages = grow(groove)
    stage = stages[-1]
    if not stage.beat.strokes:
        return
    found = base_beat(musicxml(groove, stages, wish).text.encode())
    assert played(found.beat) == played(stage.beat)
    assert (found.beat.bars, found.beat.columns) == (stage.beat.bars, stage.beat.columns)
    meter = stage.beat.meter
    if len(meter.grouping) > 1:
        assert found.beat.meter == meter
    else:  # one group is written as the plain number
        assert (found.beat.meter.count, found.beat.meter.unit) == (meter.count, meter.unit)
    assert found.feel == stage.feel
    assert found.own


@settings(max_examples=12)
@given(grooves(max_variations=3, max_bars=2))
def test_every_stage_of_a_score_with_all_comes_back_from_its_bars(groove):
    stages = grow(groove)
    told = [stage for stage in stages if stage.variation is None or stage.variation.on]
    text = packed(musicxml(groove, stages, Wish(through=True)).text)
    bar = 1
    for stage in told:
        last = bar + stage.beat.bars - 1
        if stage.beat.strokes:
            found = base_beat(text, (bar, last))
            assert played(found.beat) == played(stage.beat)
            assert found.feel == stage.feel
        bar = last + 1


SMALL = b"""<score-partwise><part-list><score-part id="P1"><part-name>Kit</part-name></score-part></part-list>
<part id="P1"><measure number="1"><attributes><divisions>2</divisions><time><beats>4</beats><beat-type>4</beat-type>
</time></attributes><note><unpitched><display-step>C</display-step><display-octave>5</display-octave></unpitched>
<duration>2</duration><type>quarter</type></note><backup><duration>2</duration></backup></measure></part>
</score-partwise>"""
SNIPPETS = [b"<chord/>", b"<grace/>", b"<duration>-3</duration>", b"<rest/>", b"<divisions>0</divisions>", b"<note>"]
SNIPPETS += [
    b"<backup/>",
    b"<forward><duration>99</duration></forward>",
    b"\0",
    b"&lt;",
    b"</note>",
    b"9" * 12,
    b"\xe4",
]


@settings(max_examples=150)
@given(st.lists(st.tuples(st.integers(0, len(SMALL)), st.integers(0, 40), st.sampled_from(SNIPPETS)), max_size=4))
def test_changed_bytes_read_or_are_refused_in_words(changes):
    data = SMALL
    for at, cut, snippet in changes:
        data = data[:at] + snippet + data[at + cut :]
    try:
        found = base_beat(data)
    except MusicXmlError as error:
        assert str(error).startswith("MusicXML file: ")
    else:
        assert found.beat.strokes
