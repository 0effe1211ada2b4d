"""The quantity statement as text, PDF and pictures: everything is printed, nothing breaks, bars say what shares are."""

from __future__ import annotations

import re
from dataclasses import replace
from io import BytesIO
from xml.etree import ElementTree

import pytest
from pypdf import PdfReader

from onedatum.paper.model import Head
from onedatum.paper.quantity.as_pdf import statement_pdf
from onedatum.paper.quantity.as_text import WIDTH, statement_text
from onedatum.paper.quantity.chart import MOST_BARS, budget_svg, histogram_svg, ordered, per_cent
from onedatum.paper.quantity.model import Amount, Budget, Share, Statement
from onedatum.paper.table.lines import columns_of
from onedatum.paper.table.model import Line
from tests.closeness import close
from tests.paper.statement_sample import PICTURE, SHARES, STATEMENT
from tests.pdf import pages_of

NASTY = "#eval(1) $x$ \\ <b> \u0007 日本 " + "W" * 300


def words_of(pdf: bytes) -> str:
    return " ".join("".join(pages_of(pdf)).split())


def hostile() -> Statement:
    """Every text replaced by what would break a paper that trusted it."""
    share = Share(NASTY, NASTY, NASTY, float("nan"), NASTY)
    budget = Budget(NASTY, NASTY, NASTY, NASTY, NASTY, (share,) * 60, NASTY, (NASTY,))
    return replace(
        STATEMENT,
        head=Head(NASTY, NASTY),
        answer=NASTY,
        amounts=(Amount(NASTY, NASTY, NASTY, NASTY),) * 3,
        factors=(Line(NASTY, NASTY),),
        budget=budget,
        no_monte_carlo=NASTY,
        batch=None,
    )


# ---------------------------------------------------------------- text


def test_no_line_is_wider_than_a_terminal() -> None:
    for statement in (STATEMENT, hostile()):
        assert max(map(columns_of, statement_text(statement).splitlines())) <= WIDTH


@pytest.mark.parametrize(
    "said",
    [
        "12505 L",
        "0.378 %",
        "63.2 %",
        "−6.1 %",
        "34.2 L",
        "1400 mm (u 0.5 mm)",
        "354 mm",
        "guarded acceptance",
        "[read]",
        "8356 L",
    ],
)
def test_every_number_stands_in_text_and_pdf(said: str) -> None:
    assert said in " ".join(statement_text(STATEMENT).split())
    assert said.strip("[]") in words_of(statement_pdf(STATEMENT))


def test_what_is_not_known_says_so() -> None:
    text = statement_text(STATEMENT)
    assert re.search(r"Free water +unknown +– +–", text)
    assert re.search(r"strength +unknown", text)
    assert re.search(r"Mass in vacuum +unknown +3489 kg", text)


def test_the_rule_stands_before_the_result() -> None:
    for said in (statement_text(STATEMENT), words_of(statement_pdf(STATEMENT))):
        assert said.index("guarded acceptance") < said.index("accepted.")


def test_a_statement_of_little_is_still_a_statement() -> None:
    bare = Statement(
        Head("LT-1"), "Nothing is known yet.", (), (), "U (k = 2)", no_budget="No budget: nothing is known."
    )
    assert "No budget: nothing is known." in statement_text(bare)
    assert "No budget: nothing is known." in words_of(statement_pdf(bare))


# ---------------------------------------------------------------- PDF


def test_the_pdf_is_the_same_every_time_and_says_what_it_is() -> None:
    first = statement_pdf(STATEMENT)
    assert first == statement_pdf(STATEMENT)
    reader = PdfReader(BytesIO(first))
    assert reader.metadata is not None and reader.metadata.title == "Quantity statement of LT-999"
    assert len(reader.pages) <= 3


def test_hostile_text_is_printed_not_run() -> None:
    said = words_of(statement_pdf(hostile()))
    assert "#eval(1) $x$" in said
    assert "U+65E5" in said


# ---------------------------------------------------------------- pictures


def bars(svg: str) -> list[tuple[float, float]]:
    """Left edge and width of each bar."""
    found = list(ElementTree.fromstring(svg).iter("{http://www.w3.org/2000/svg}rect"))[1:]
    return [(float(e.get("x", "0")), float(e.get("width", "0"))) for e in found]


def test_bars_are_as_long_as_their_shares_and_a_negative_one_stands_left() -> None:
    drawn = bars(budget_svg(SHARES))
    assert len(drawn) == 3
    (first, wide), (second, other), (third, back) = drawn
    close(other / wide, 0.229 / 0.632, 0.002, "two decimals of a px")
    close(back / wide, 0.061 / 0.632, 0.002, "two decimals of a px")
    assert first == second
    close(third + back, first, 0.02, "ends at the zero line")
    assert "url(#cancels)" in budget_svg(SHARES)


def test_the_pictures_say_in_words_what_they_show() -> None:
    assert "relative error of the tank table 63.2 %" in budget_svg(SHARES)
    assert "shortest 95 % from 12455.0 to 12551.0 L" in histogram_svg(PICTURE)


def test_many_inputs_make_one_bar_of_the_rest() -> None:
    many = tuple(Share(f"input {n}", "", "", 0.02, "") for n in range(50))
    assert len(bars(budget_svg(many))) == MOST_BARS
    assert f"{50 - MOST_BARS + 1} further inputs" in budget_svg(many)


@pytest.mark.parametrize("shares", [(), (Share("x", "", "", float("nan"), ""),)])
def test_without_shares_there_is_a_sentence(shares: tuple[Share, ...]) -> None:
    assert "No shares to draw." in budget_svg(shares)


@pytest.mark.parametrize(
    "change",
    [
        {"densities": (0.0,) * 100},
        {"edges": (1.0, 1.0), "densities": (0.0,)},
        {"mean": float("nan")},
        {"intervals": (("x", float("inf"), 1.0),)},
    ],
)
def test_without_a_spread_there_is_a_sentence(change: dict[str, object]) -> None:
    svg = histogram_svg(replace(PICTURE, **change))  # type: ignore[arg-type]
    assert "No histogram" in svg and "nan" not in svg and "inf" not in svg.replace("information", "")


@pytest.mark.parametrize(
    ("share", "text"), [(0.632, "63.2 %"), (-0.061, "−6.1 %"), (0.0002, "0.02 %"), (0.0, "0.00 %"), (1.0, "100.0 %")]
)
def test_shares_in_words(share: float, text: str) -> None:
    assert per_cent(share) == text


def test_the_bar_of_the_rest_holds_what_the_bars_leave() -> None:
    many = tuple(replace(SHARES[0], label=f"input {number}", share=1.0 / 40) for number in range(40))
    drawn = ordered(many)
    assert (len(drawn), drawn[-1].label) == (MOST_BARS, f"{41 - MOST_BARS} further inputs")
    close(sum(share.share for share in drawn), 1.0, 1e-12, "rounding")
