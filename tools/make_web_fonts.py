"""The fonts of the pages, as a browser reads them: the same outlines as the fonts of the papers, compressed.

python tools/make_web_fonts.py
"""

from __future__ import annotations

from pathlib import Path

from fontTools.ttLib import TTFont

SOURCE = Path("src/onedatum/data/fonts")
TARGET = Path("src/onedatum/web/static")
FONTS = ("SofiaSansSemiCondensed-Regular", "SofiaSansSemiCondensed-Bold")


def main() -> None:
    """Write both weights."""
    for name in FONTS:
        font = TTFont(SOURCE / f"{name}.ttf")
        font.flavor = "woff2"
        font.save(TARGET / f"{name}.woff2")


if __name__ == "__main__":
    main()
