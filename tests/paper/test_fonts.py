"""The shipped fonts: found by the typesetter under the names the room uses, with their licences."""

from typst import Fonts

from onedatum.paper.text import FALLBACK_FAMILY, FAMILY
from onedatum.paper.typeset import fonts
from tests.paper.metrics import FONTS, font


def test_the_typesetter_finds_both_families_and_both_weights() -> None:
    found = fonts()
    assert {FAMILY, FALLBACK_FAMILY} <= set(found.families())
    assert {f.weight for f in found.fonts() if f.family == FAMILY} == {400, 650}


def test_no_font_of_the_machine_takes_part() -> None:
    shipped = {str(path) for path in FONTS.glob("*.ttf")}
    assert {f.path for f in fonts().fonts() if f.path} == shipped
    inside = Fonts(include_system_fonts=False).families()
    assert set(fonts().families()) == {*inside, FAMILY, FALLBACK_FAMILY}


def test_figures_are_of_one_width() -> None:
    for name in ("Regular", "Bold"):
        cmap, advances, _ = font(f"SofiaSansSemiCondensed-{name}.ttf")
        assert len({advances[cmap[ord(digit)]][0] for digit in "0123456789"}) == 1


def test_both_licences_are_shipped() -> None:
    assert "SIL OPEN FONT LICENSE" in (FONTS / "OFL-SofiaSans.txt").read_text(encoding="utf-8").upper()
    assert "Bitstream Vera" in (FONTS / "LICENCE-DejaVu.txt").read_text(encoding="utf-8")
