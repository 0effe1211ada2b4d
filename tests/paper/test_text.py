"""User text: what the fonts hold stays, the rest becomes codes and is named; file names are safe everywhere."""

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from onedatum.paper.text import breakable, coverage, file_stem, printable, width
from tests.closeness import close
from tests.paper.metrics import font, measured


def test_what_no_font_holds_becomes_its_code_and_is_named() -> None:
    assert printable("日本-Ω⌀1") == ("[U+65E5][U+672C]-Ω⌀1", ("日", "本"))


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("a\nb\tc", "a b c"),
        ("bell\x07", "bell[U+0007]"),
        ("\ud800", "[U+D800]"),
        ("left\u202eright", "left[U+202E]right"),
        ("e\u0301", "é"),
        ("Ж\u0301", "Ж\u0301"),
        ("\u0301", "[U+0301]"),
        ("", ""),
        ("   ", ""),
    ],
)
def test_controls_and_loose_marks(text: str, shown: str) -> None:
    assert printable(text).text == shown


@given(st.text(max_size=60))
def test_each_printed_character_is_in_a_font_file(text: str) -> None:
    """Against the character maps of the files themselves, not the shipped table."""
    held = set(font("SofiaSansSemiCondensed-Regular.ttf")[0]) & set(font("SofiaSansSemiCondensed-Bold.ttf")[0])
    held |= set(font("DejaVuSans.ttf")[0])
    assert all(ord(c) in held for c in printable(text).text)


def test_the_table_of_coverage_holds_no_controls_and_no_private_characters() -> None:
    kinds = {unicodedata.category(chr(p)) for points in coverage().values() for p in points}
    assert len(kinds) > 10
    assert not kinds & {"Cc", "Cf", "Cs", "Co"}


def test_a_very_long_text_is_cut_and_says_so() -> None:
    assert printable("x" * 10_000).text.endswith("[cut: 6000 more characters]")


def test_a_long_word_may_break_but_keeps_its_letters() -> None:
    word = "a" * 100
    assert "\u200b" in breakable(word)
    assert breakable(word).replace("\u200b", "") == word
    assert breakable("two short words") == "two short words"


@pytest.mark.parametrize("bold", [False, True])
@pytest.mark.parametrize("text", ["HH no signal", "2393.8", "no reliable signal above", "at 14.0 °C", "⌀ 1600", "m³"])
def test_the_width_of_a_line_is_that_of_the_font_file(text: str, bold: bool) -> None:
    assert close(width(text, 11, bold), measured(text, 11, bold), 0.06, "widths are kept in thousandths")


@pytest.mark.parametrize(
    ("tag", "stem"),
    [
        ("LT-101", "LT-101"),
        ("LT/101\\b:*?", "LT-101-b"),
        ("../../etc/passwd", "etc-passwd"),
        ("con", "con-case"),
        ("COM1.old", "COM1.old-case"),
        ("日本", "case"),
        ("", "case"),
        ("...", "case"),
        (" Behälter 7 ", "Behalter-7"),
    ],
)
def test_file_names_from_tags(tag: str, stem: str) -> None:
    assert file_stem(tag) == stem


@given(st.text())
def test_a_file_name_is_always_plain_short_and_not_empty(tag: str) -> None:
    stem = file_stem(tag)
    assert 0 < len(stem) <= 85
    assert set(stem) <= set("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789._-")
    assert not stem.startswith((".", "-"))
    assert not stem.endswith((".", " "))
