"""Calling the typesetter: our fonts only, data as JSON, the same bytes every time. It is imported on first use."""

import json
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

from onedatum.paper.text import FONT_FOLDER

if TYPE_CHECKING:
    from typst import Fonts

TEMPLATES = Path(__file__).resolve().parent / "templates"


@lru_cache(maxsize=1)
def fonts() -> "Fonts":
    """The shipped fonts and the typesetter's own maths font; none of the machine's."""
    from typst import Fonts

    return Fonts(include_system_fonts=False, include_embedded_fonts=True, font_paths=[str(FONT_FOLDER)])


def typeset(template: str, data: object) -> bytes:
    """One accessible PDF from a template and its data. The data reach it as JSON, so text in them is never markup."""
    import typst

    return typst.compile(
        str(TEMPLATES / template),
        root=str(TEMPLATES),
        font_paths=fonts(),
        ignore_system_fonts=True,
        sys_inputs={"data": json.dumps(data, ensure_ascii=False)},
        format="pdf",
        pdf_standards=["ua-1"],
        timestamp=0,
    )


def can_be_set(maths: list[str]) -> bool:
    """Whether all of these maths strings can be set in an accessible PDF."""
    import typst

    try:
        typeset("maths_check.typ", maths)
    except typst.TypstError:
        return False
    return True
