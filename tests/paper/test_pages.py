"""A printed sheet: its text can be read, its code scanned, its pages are whole, and its bytes are the same each time."""

from __future__ import annotations

import io
import subprocess
import sys
from pathlib import Path

import pypdfium2
import pytest
import zxingcpp
from pypdf import PdfReader

from groundbeat.codec.groove_read import read_groove
from groundbeat.codec.link import write_link
from groundbeat.errors import RequestError
from groundbeat.notation.primitives import Sign
from groundbeat.notation.sheet import Sheet, Wish, lesson, staff
from groundbeat.paper.code import code_of
from groundbeat.paper.flow import Piece, pages
from groundbeat.paper.pages import Link, line_width, write_pdf
from groundbeat.variation.stack import grow
from tests.notation.test_sheet import FOUR_BARS

ROOT = Path(__file__).resolve().parents[2]
SLACK_TIDE = (ROOT / "examples/slack-tide.toml").read_text(encoding="utf-8")
AT = "https://drums.example.org/groundbeat/"


def sheet_of(text: str, paper: str = "a4", large: bool = False) -> tuple[Sheet, Link]:
    groove = read_groove(text)
    wish = Wish(width=line_width(paper), large=large, thorough=False)
    return lesson(groove, grow(groove), wish), Link(AT, write_link(groove))


def printed(text: str, paper: str = "a4", large: bool = False) -> tuple[bytes, str]:
    sheet, link = sheet_of(text, paper, large)
    out = io.BytesIO()
    count, _ = write_pdf(out, sheet, link, paper, large)
    data = out.getvalue()
    assert len(PdfReader(io.BytesIO(data)).pages) == count
    return data, link.whole


@pytest.mark.parametrize(
    ("text", "paper", "large", "size"),
    [
        (SLACK_TIDE, "a4", False, (595.28, 841.89)),
        (SLACK_TIDE, "letter", False, (612, 792)),
        (FOUR_BARS, "letter", True, (612, 792)),
    ],
    ids=["a4", "letter", "large"],
)
def test_pages_have_their_size_title_number_and_content(text: str, paper: str, large: bool, size: tuple[float, float]):
    data, whole = printed(text, paper, large)
    found = PdfReader(io.BytesIO(data))
    title = read_groove(text).title
    for number, page in enumerate(found.pages, 1):
        assert [float(edge) for edge in page.mediabox[2:]] == pytest.approx(size, abs=0.01)
        told = page.extract_text()
        assert f"Page {number} of {len(found.pages)}" in told
        assert told.count(title) >= 2  # at the head and at the foot
        rest = told.replace(title, "").replace(f"Page {number} of {len(found.pages)}", "")
        assert len(rest.split()) > 5  # no page without content
    links = [note.get_object()["/A"]["/URI"] for page in found.pages for note in page.get("/Annots") or ()]
    assert links and set(links) == {whole}


def test_every_sentence_and_caution_can_be_read_in_the_file():
    sheet, link = sheet_of(SLACK_TIDE)
    data, _ = printed(SLACK_TIDE)
    told = " ".join(" ".join(page.extract_text() for page in PdfReader(io.BytesIO(data)).pages).split())
    for block in sheet.blocks:
        assert block.heading in told
        for part in block.parts:
            if part.drawing is None and part.kind != "easier":
                assert part.text in told
    assert link.whole in told.replace(" ", "")


def test_the_code_on_the_paper_leads_to_the_beat():
    data, whole = printed(SLACK_TIDE)
    document = pypdfium2.PdfDocument(data)
    found = [
        code.text
        for number in range(len(document))
        for code in zxingcpp.read_barcodes(document[number].render(scale=150 / 72).to_pil())
    ]
    assert found == [whole]


def test_all_is_black_grey_or_white():
    document = pypdfium2.PdfDocument(printed(SLACK_TIDE)[0])
    for number in range(len(document)):
        picture = document[number].render(scale=0.5).to_pil().convert("RGB")
        assert all(red == green == blue for _, (red, green, blue) in picture.getcolors(1 << 20))


def test_a_stage_is_never_cut_where_a_page_holds_it():
    data, _ = printed(SLACK_TIDE)
    for page in PdfReader(io.BytesIO(data)).pages:
        told = page.extract_text()
        if "3 Ostinato" in told:
            assert "hi-hat on e of 1, e of 2, e of 3, e of 4" in told
            assert "1 more tricky spot" in told


def test_the_same_sheet_gives_the_same_bytes_in_another_process():
    program = "import sys; from tests.paper.test_pages import *; sys.stdout.buffer.write(printed(SLACK_TIDE)[0])"
    done = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, cwd=ROOT, check=True,
        env={"PYTHONPATH": f"{ROOT / 'engine'}:{ROOT}", "PYTHONHASHSEED": "7", "PATH": "/usr/bin:/bin"},
    )  # fmt: skip
    assert done.stdout == printed(SLACK_TIDE)[0]


def test_without_an_address_the_link_is_told_in_words_and_without_a_link_nothing_is():
    sheet, link = sheet_of(SLACK_TIDE)
    for given, wanted in ((link._replace(address=""), True), (Link(AT, ""), False)):
        out = io.BytesIO()
        write_pdf(out, sheet, given)
        document = pypdfium2.PdfDocument(out.getvalue())
        last = document[len(document) - 1]
        assert (f"#{link.fragment[:20]}" in last.get_textpage().get_text_range()) is wanted
        assert zxingcpp.read_barcodes(last.render(scale=2).to_pil()) == []


def test_letters_that_lack_are_counted_and_never_empty_boxes():
    sheet, link = sheet_of(SLACK_TIDE)
    out = io.BytesIO()
    assert write_pdf(out, sheet._replace(title="Żółw 鼓楼"), link)[1] == 2
    assert "Żółw ??" in PdfReader(out).pages[0].extract_text()


def test_an_address_that_no_code_holds_is_still_printed():
    assert code_of(AT + "#" + "x" * 3000) is None
    sheet, _ = sheet_of(SLACK_TIDE)
    out = io.BytesIO()
    write_pdf(out, sheet, Link(AT, "1" + "x" * 3000))
    assert "too long for a QR code" in "".join(page.extract_text() for page in PdfReader(out).pages)


def test_a_paper_that_there_is_not_is_refused():
    with pytest.raises(RequestError, match="a4, letter"):
        line_width("a3")


def piece(height: float, glued: bool = False) -> Piece:
    return Piece(height, 0, lambda *_: None, glued)


def test_groups_stay_whole_and_only_what_is_higher_than_a_page_is_broken():
    tall = [piece(10, True), *[piece(30)] * 4]
    made = pages([[piece(50)], [piece(60)], tall], 100)
    assert [[round(placed.top) for placed in page] for page in made] == [[0], [0], [0, 10, 40, 70], [0]]
    assert pages([[], []], 100) == []


def test_a_heading_stays_with_what_follows():
    made = pages([[piece(80), piece(20, True), piece(30)]], 100)
    assert [len(page) for page in made] == [1, 2]


def test_what_is_drawn_stays_within_the_margins():
    groove = read_groove(FOUR_BARS)
    for paper in ("a4", "letter"):
        for large in (False, True):
            drawn, _ = staff(groove, grow(groove), 0, Wish(width=line_width(paper), large=large))
            assert drawn.width * drawn.scale / 100 <= line_width(paper) * 250 + 1
            assert any(isinstance(mark.shape, Sign) for mark in drawn.marks())
