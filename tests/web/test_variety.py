"""The pages of cases of every kind, and of examples damaged at random: they stand, and in words of the reader."""

from __future__ import annotations

from random import Random

import pytest

from onedatum.web.parts import Asked
from soak.damage import damaged
from tests.web.markup import read
from tests.web.variety import CASES, TEXTS, case, pages, wrong

SEED = 20261126
DAMAGED = 8
"""Many more are read and studied by the proof of damaged cases."""


@pytest.mark.parametrize("name", CASES)
def test_every_page_of_every_kind_of_case_stands(name: str) -> None:
    for page, html in pages(case(CASES[name])):
        assert wrong(html) == [], page
        assert read(html).faults == [] or page == "case", page  # the parts of the case page are no whole page


@pytest.mark.parametrize(
    "asked",
    [Asked(level="5 kg"), Asked(level="1e400 m"), Asked(level="-5 m"), Asked(level="<i x>"), Asked(work="no such"),
     Asked(every="x"), Asked(width_px=200, height_px=200), Asked(width_px=4000, height_px=4000),
     Asked(work="level_now", every="vessel")],
)  # fmt: skip
def test_the_page_stands_whatever_is_asked_of_it(asked: Asked) -> None:
    for text in (TEXTS["spirit_receiver"], "onedatum: 1\n"):
        _, html = next(pages(case(text), asked))
        assert wrong(html) == []
        assert "<i x>" not in html


def test_a_case_that_is_damaged_breaks_no_page() -> None:
    random, names = Random(SEED), sorted(TEXTS)
    for _ in range(DAMAGED):
        name = random.choice(names)
        text = damaged(random, TEXTS[name].splitlines())
        said = [html for _, html in pages(case(text, name))]
        assert len(said) == 12
        assert [each for html in said for each in wrong(html)] == [], text
