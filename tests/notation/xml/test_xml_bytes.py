"""Scores come packed, in odd encodings and in bad faith; they read, or are refused in words."""

from __future__ import annotations

import io
import time
import zipfile

import pytest

from groundbeat.errors import MusicXmlError
from groundbeat.notation.xml import read_bytes, read_tree
from groundbeat.notation.xml.read import base_beat
from groundbeat.notation.xml.read_bytes import CONTAINER, MAX_BYTES, MAX_RATIO
from tests.notation.xml.scores import HEAD, score, strike, struck, told

PLAIN = score(strike("C5") * 4)
FOUR = [(n * 10080, "snare") for n in range(4)]
MUSICXML = "application/vnd.recordare.musicxml+xml"


def packed(files: dict[str, bytes | str], **how: int) -> bytes:
    """A zip of files."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", **how) as archive:
        for name, data in files.items():
            archive.writestr(name, data)
    return out.getvalue()


def container(*roots: tuple[str, str]) -> str:
    """A container that names scores with their media types."""
    rows = "".join(f'<rootfile full-path="{name}" media-type="{kind}"/>' for name, kind in roots)
    return f"<container><rootfiles>{rows}</rootfiles></container>"


OTHER = score(strike("F4") * 4)


@pytest.mark.parametrize(
    ("files", "says"),
    [
        ({CONTAINER: container(("a.musicxml", MUSICXML)), "a.musicxml": PLAIN}, ""),
        ({CONTAINER: container(("a.xml", "")), "0.xml": OTHER, "a.xml": PLAIN}, ""),
        ({CONTAINER: container(("a.pdf", "application/pdf"), ("b.xml", MUSICXML)), "a.pdf": "x", "b.xml": PLAIN}, ""),
        ({CONTAINER: container(("a.xml", ""), ("b.xml", "")), "a.xml": PLAIN, "b.xml": OTHER}, "names 2 scores"),
        ({CONTAINER: container(("gone.xml", "")), "a.xml": PLAIN}, 'names "gone.xml" as its score, which is not in it'),
        ({CONTAINER: "<container", "a.xml": PLAIN}, ""),
        ({"a.xml": PLAIN}, ""),
        ({".xml": PLAIN}, ""),
        ({"../../a.xml": PLAIN}, ""),
        ({"META-INF/other.xml": OTHER, "x.musicxml": PLAIN}, ""),
        ({"a.xml": PLAIN.replace("UTF-8", "UTF-16").encode("utf-16")}, ""),
    ],
    ids=["container", "no media type", "a picture first", "two scores", "a missing one", "a broken container",
         "no container", "a name that is only an end", "a name that climbs", "another file of the container", "UTF-16"],
)  # fmt: skip
def test_a_packed_score_is_found(files: dict[str, bytes | str], says: str):
    found = base_beat(packed(files))
    assert struck(found) == FOUR
    assert told(found, says) if says else not told(found, "packed")


def test_what_is_packed_badly_is_refused():
    with pytest.raises(MusicXmlError, match="holds no score .* only notes.txt"):
        base_beat(packed({"notes.txt": "x"}))
    with pytest.raises(MusicXmlError, match="holds no score .* only nothing"):
        base_beat(packed({}))
    whole = packed({"a.xml": PLAIN}, compression=zipfile.ZIP_DEFLATED)
    with pytest.raises(MusicXmlError, match="does not unpack"):
        base_beat(whole[: len(whole) // 2])
    with pytest.raises(MusicXmlError, match="does not unpack"):
        base_beat(whole.replace(whole[60:80], bytes(20), 1))


def test_a_bomb_is_refused_before_it_grows():
    bomb = packed({"a.xml": b" " * (MAX_BYTES - 1)}, compression=zipfile.ZIP_DEFLATED)
    assert len(bomb) < 30_000
    with pytest.raises(MusicXmlError, match=rf"grows \d+ times .*at most {MAX_RATIO} times"):
        base_beat(bomb)
    with pytest.raises(MusicXmlError, match="at most 16,777,216 are read"):
        base_beat(packed({"a.xml": b" " * (MAX_BYTES + 1)}, compression=zipfile.ZIP_DEFLATED))


def test_a_zip_that_lies_about_its_size_is_refused(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(read_bytes, "MAX_BYTES", 100)
    data = packed({"a.xml": PLAIN}, compression=zipfile.ZIP_STORED)
    size = len(PLAIN.encode()).to_bytes(4, "little")
    with pytest.raises(MusicXmlError, match="bytes of XML|does not unpack"):
        base_beat(data.replace(size, (50).to_bytes(4, "little")))


def test_a_zip_of_thousands_of_files_is_refused():
    with pytest.raises(MusicXmlError, match="holds 2001 files"):
        base_beat(packed({str(n): "" for n in range(2001)}))


def test_a_repeated_score_that_packs_well_is_read():
    bar = strike("G5", long=12, inside="<notehead>x</notehead>") * 8
    data = packed({"a.xml": score(*[bar] * 200)}, compression=zipfile.ZIP_DEFLATED)
    assert len(base_beat(data).beat.strokes) == 8


def named(encoding: str) -> str:
    """The plain score with a title that has letters beyond ASCII, under an encoding's name."""
    return PLAIN.replace("UTF-8", encoding).replace(
        "<part-list>", "<work><work-title>Ebbe für Lü</work-title></work><part-list>"
    )


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (named("UTF-8").encode("utf-8-sig"), ""),
        (named("UTF-16").encode("utf-16"), ""),
        (named("UTF-16").encode("utf-16-le"), ""),
        (named("UTF-16").encode("utf-16-be"), ""),
        (named("ISO-8859-1").encode("latin-1"), ""),
        (named("UTF-8").encode("latin-1"), "read as Latin-1"),
        (named("UTF-16").encode("utf-8"), "read as UTF-8"),
        (named("no-such-thing").encode("utf-8"), "read as UTF-8"),
        (b"\n  " + named("UTF-8").encode("utf-8"), "read as UTF-8"),
        (named("UTF-8").replace(HEAD, "").encode("utf-8"), ""),
    ],
    ids=["BOM", "UTF-16", "UTF-16 LE bare", "UTF-16 BE bare", "Latin-1", "Latin-1 called UTF-8",
         "UTF-8 called UTF-16", "an unknown name", "space before the head", "no head"],
)  # fmt: skip
def test_letters_are_read_in_the_encoding_that_they_have(data: bytes, says: str):
    found = base_beat(data)
    assert (found.title, struck(found)) == ("Ebbe für Lü", FOUR)
    assert told(found, says) if says else not told(found, "encoding")


DOCTYPE = (
    '<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" '
    '"http://www.musicxml.org/dtds/partwise.dtd">'
)


def test_a_doctype_is_allowed_and_never_fetched(monkeypatch: pytest.MonkeyPatch):
    def no_network(*_: object) -> None:
        raise AssertionError("something was fetched")

    monkeypatch.setattr("socket.socket.connect", no_network)
    assert struck(base_beat(score(strike() * 4, head=HEAD + DOCTYPE).encode())) == FOUR
    elsewhere = '<!DOCTYPE score-partwise SYSTEM "file:///etc/hostname">'
    assert struck(base_beat(score(strike() * 4, head=HEAD + elsewhere).encode())) == FOUR


LAUGHS = "".join(f'<!ENTITY l{n} "{f"&l{n - 1};" * 10 if n else "ha"}">' for n in range(12))


@pytest.mark.parametrize(
    "inside",
    [
        LAUGHS,
        f'<!ENTITY big "{"x" * 50_000}">',
        '<!ENTITY x SYSTEM "file:///etc/passwd">',
        '<!ENTITY % p SYSTEM "http://127.0.0.1/x">%p;',
    ],
    ids=["billion laughs", "quadratic", "a file", "a parameter entity"],
)
def test_a_file_that_defines_entities_is_refused_at_once(inside: str):
    text = score(strike() * 4, head=f"{HEAD}<!DOCTYPE score-partwise [{inside}]>")
    before = time.process_time()
    with pytest.raises(MusicXmlError, match="defines entities of its own"):
        base_beat(text.encode())
    assert time.process_time() - before < 1


def test_a_file_that_is_nested_without_end_is_refused():
    with pytest.raises(MusicXmlError, match=f"nested over {read_tree.MAX_DEPTH} deep"):
        base_beat(b"<a>" * 200_000)


def test_a_file_that_is_too_large_is_refused(monkeypatch: pytest.MonkeyPatch):
    with pytest.raises(MusicXmlError, match="16,777,217 bytes of XML"):
        base_beat(b"<" + b" " * MAX_BYTES)
    monkeypatch.setattr(read_tree, "MAX_NODES", 20)
    with pytest.raises(MusicXmlError, match="over 20 elements"):
        base_beat(PLAIN.encode())


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"", "the file is empty"),
        (b" \n\0 ", "the file is empty"),
        (b"MThd\0\0\0\6", "no MusicXML but a MIDI"),
        (b"<score-partwise>", "not well-formed XML at line 1, column 17 .no element found"),
        (b"hello", "not well-formed XML at line 1"),
        (PLAIN.encode()[:-30], "not well-formed XML"),
        (b"<opus><opus-link/></opus>", "a list of scores"),
        (b"<html><body/></html>", "a web page"),
        (b"<svg/>", "its root is <svg>, and a score's is <score-partwise>"),
        (b"<score-partwise/>", "the score has no bars"),
        (b"<score-partwise>&nbsp;</score-partwise>", "undefined entity"),
    ],
)
def test_what_is_no_score_is_refused_in_words(data: bytes, says: str):
    with pytest.raises(MusicXmlError, match=f"MusicXML file: .*{says}"):
        base_beat(data)


def test_a_score_bar_by_bar_a_lone_part_and_a_lone_bar_read():
    inner = PLAIN[PLAIN.index('<measure number="1">') : PLAIN.index("</part>")]
    part_list = PLAIN[PLAIN.index("<part-list>") : PLAIN.index('<part id="P1">')]
    content = inner.removeprefix('<measure number="1">').removesuffix("</measure>")
    timewise = (
        f'<score-timewise>{part_list}<measure number="1"><part id="P1">{content}</part></measure>'
        f'<measure number="2"><part id="P2"/><part id="P1">{strike("F4")}</part></measure></score-timewise>'
    )
    found = base_beat(timewise.encode())
    assert struck(found) == [*FOUR, (40320, "kick")]
    assert struck(base_beat(f'<part id="P1">{inner}</part>'.encode())) == FOUR
    assert struck(base_beat(inner.encode())) == FOUR


def test_namespaces_and_unknown_elements_do_no_harm():
    text = PLAIN.replace("<score-partwise", '<score-partwise xmlns="urn:x" xmlns:y="urn:y"')
    text = text.replace("<measure", '<y:thing a="1"><y:deep/></y:thing><measure', 1).replace("</note>", "<new/></note>")
    assert struck(base_beat(text.encode())) == FOUR
