"""The text of a PDF, page by page, as a reader's copy would give it."""

from __future__ import annotations

import pypdfium2

BREAKS = str.maketrans("", "", "\u200b\u00ad\ufffe")
"""Places where a word may be broken; they are no part of it."""


def pages_of(pdf: bytes) -> list[str]:
    """The text of every page."""
    found = pypdfium2.PdfDocument(pdf)
    try:
        return [_text(page) for page in found]
    finally:
        found.close()


def _text(page: pypdfium2.PdfPage) -> str:
    words = page.get_textpage()
    try:
        text: str = words.get_text_range()
        return text.translate(BREAKS)
    finally:
        words.close()
        page.close()
