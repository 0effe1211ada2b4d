"""Calling the typesetter: our fonts only, data as JSON, the same bytes every time. It is imported on first use."""

import json
from collections.abc import Sequence
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Literal, NamedTuple

from onedatum.paper.text import FONT_FOLDER

if TYPE_CHECKING:
    from typst import Fonts

TEMPLATES = Path(__file__).resolve().parent / "templates"


@lru_cache(maxsize=1)
def fonts() -> "Fonts":
    """The shipped fonts and the typesetter's own maths font; none of the machine's."""
    from typst import Fonts

    return Fonts(include_system_fonts=False, include_embedded_fonts=True, font_paths=[str(FONT_FOLDER)])


Standard = Literal["a-3a", "ua-1"]


class Enclosed(NamedTuple):
    """A file of text within a PDF."""

    name: str
    text: str
    mime_type: str
    words: str
    """What it is."""


def typeset(
    template: str, data: object, standards: Sequence[Standard] = ("ua-1",), enclosed: Sequence[Enclosed] = ()
) -> bytes:
    """One accessible PDF from a template and its data. The data reach it as JSON, so text in them is never markup.

    `standards` are those the file must keep, as the typesetter calls them; `enclosed` the files that a template which
    asks for them attaches, which of these standards only PDF/A-3 allows.
    """
    import typst

    inputs = {"data": json.dumps(data, ensure_ascii=False)}
    if enclosed:
        inputs["enclosed"] = json.dumps([each._asdict() for each in enclosed], ensure_ascii=False)
    made: bytes = typst.compile(
        str(TEMPLATES / template),
        root=str(TEMPLATES),
        font_paths=fonts(),
        ignore_system_fonts=True,
        sys_inputs=inputs,
        format="pdf",
        pdf_standards=list(standards),
        timestamp=0,
    )
    return made


def can_be_set(maths: list[str]) -> bool:
    """Whether all of these maths strings can be set in an accessible PDF."""
    import typst

    try:
        typeset("maths_check.typ", maths)
    except typst.TypstError:
        return False
    return True
