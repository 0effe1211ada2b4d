"""The card as an accessible PDF of size A5, in type that is read at arm's length."""

from onedatum.paper.card.as_text import ASSUMED
from onedatum.paper.card.model import Card
from onedatum.paper.data import Data, foot_data, plain
from onedatum.paper.text import missing_sentence
from onedatum.paper.typeset import typeset

TEMPLATE = "card.typ"
MOST_MISSING = 40


def card_pdf(card: Card) -> bytes:
    """The card as PDF/UA-1; the same bytes for the same card."""
    missing: dict[str, None] = {}
    data: Data = plain(card, missing)
    if card.assumed:
        data["cautions"] = [ASSUMED, *data["cautions"]]
    if missing:
        data["cautions"] = [*data["cautions"], missing_sentence("The card", tuple(missing)[:MOST_MISSING])]
    data["foot"] = foot_data(data["head"])
    return typeset(TEMPLATE, data)
