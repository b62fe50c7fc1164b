"""Lines of text: nothing is lost, nothing is wider than its room, and no line is shorter than it must be."""

from __future__ import annotations

import pytest

from groundbeat.paper.letters import ITALIC, REGULAR, font_for, printable, width, wrapped


@pytest.mark.parametrize("room", [1, 20, 100, 300])
def test_a_word_that_is_too_wide_is_broken_where_it_must_be(room: float):
    for word in ("x", "iiiiWWWWiiiiWWWW" * 8, "https://drums.example.org/#" + "1aBc" * 200):
        lines = wrapped(word, REGULAR, 8, room)
        assert "".join(lines) == word
        assert all(width(line, REGULAR, 8) <= room or len(line) == 1 for line in lines)
        assert all(width(line + after[0], REGULAR, 8) > room for line, after in zip(lines, lines[1:], strict=False))


def test_words_are_parted_only_between_them():
    text = "Move the first backbeat of the backbeat voice a sixteenth later."
    lines = wrapped(text, REGULAR, 11, 90)
    assert len(lines) > 3 and " ".join(lines) == text
    assert wrapped("  ", REGULAR, 11, 90) == []


def test_letters_of_europe_are_there_and_others_are_told():
    assert printable("Łódź, Αθήνα, Київ, naïve") == ("Łódź, Αθήνα, Київ, naïve", 0)
    assert printable("n\u0303o") == ("ño", 0)  # in two parts
    assert printable("ＡＢ①") == ("AB1", 0)  # plain forms stand in
    assert printable("a\u200b\u202eb\tc") == ("ab c", 0)  # what turns or joins letters is not printed
    assert printable("太鼓") == ("??", 2)


def test_italics_give_way_where_they_lack_letters():
    assert font_for("naïve", ITALIC) == ITALIC
    assert font_for("Київ", ITALIC) == REGULAR
