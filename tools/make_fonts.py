"""Make the fonts that the papers are set in. Run by hand, only when a font changes; needs fonttools with brotli.

    python tools/make_fonts.py PACKAGE.tgz DEJAVU_FOLDER DEJAVU_LICENCE

PACKAGE.tgz       `@fontsource-variable/sofia-sans-semi-condensed` as npm packs it: one woff2 per script, the OFL text
DEJAVU_FOLDER     the folder that holds DejaVuSans.ttf (Debian: package fonts-dejavu-core)
DEJAVU_LICENCE    its licence text (Debian: the package's copyright file)

Why: the typesetter reads neither woff2 nor variable fonts, and no system font may change a paper from one machine to
the next.
For each weight the script files are pinned to that weight, merged into one static TTF with tabular figures and named
as one family. `coverage.json` lists, for each shipped font, the code points it can print, so that user text can be
reduced to them before it is set; `advances.json` holds the widths, so that drawings know where their words end.
"""

import io
import json
import sys
import tarfile
import unicodedata
from collections.abc import Iterable
from pathlib import Path

from fontTools.merge import Merger  # type: ignore[import-untyped]
from fontTools.ttLib import TTFont  # type: ignore[import-untyped]
from fontTools.varLib import instancer  # type: ignore[import-untyped]

FAMILY = "Sofia Sans Semi Condensed"
SCRIPTS = ("latin", "latin-ext", "greek", "cyrillic", "cyrillic-ext")
WEIGHTS = {400: "Regular", 650: "Bold"}
FALLBACK = "DejaVuSans.ttf"
TARGET = Path(__file__).resolve().parents[1] / "src" / "onedatum" / "data" / "fonts"
NOT_TEXT = {"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"}
FONT_EPOCH_S = 3_600_000_000  # head.modified is pinned so that a second run gives the same bytes


def read_package(package: Path) -> tuple[dict[str, bytes], str]:
    """The upright variable font of each script, and the licence."""
    with tarfile.open(package) as archive:
        fonts = {
            s: read_member(archive, f"package/files/sofia-sans-semi-condensed-{s}-wght-normal.woff2") for s in SCRIPTS
        }
        return fonts, read_member(archive, "package/LICENSE").decode()


def read_member(archive: tarfile.TarFile, name: str) -> bytes:
    """One file of the package."""
    member = archive.extractfile(name)
    if member is None:
        raise SystemExit(f"{name} must be a file in the package; got something else.")
    return member.read()


def static_font(scripts: dict[str, bytes], weight: int, style: str) -> TTFont:
    """All scripts pinned to one weight and merged."""
    parts = [pinned(data, weight) for data in scripts.values()]
    font = Merger().merge(parts)
    set_figures_tabular(font)
    name_font(font, weight, style)
    return font


def pinned(data: bytes, weight: int) -> io.BytesIO:
    """One variable script file as a static TTF at the given weight."""
    font = TTFont(io.BytesIO(data), recalcTimestamp=False)
    instancer.instantiateVariableFont(font, {"wght": weight}, inplace=True)
    font.flavor = None
    out = io.BytesIO()
    font.save(out)
    out.seek(0)
    return out


def set_figures_tabular(font: TTFont) -> None:
    """Map every character with a tabular form to it, since drawings cannot ask for a font feature."""
    table = font["GSUB"].table
    lookups = {i for f in table.FeatureList.FeatureRecord if f.FeatureTag == "tnum" for i in f.Feature.LookupListIndex}
    swaps: dict[str, str] = {}
    for subtable in (s for i in lookups for s in table.LookupList.Lookup[i].SubTable):
        swaps |= getattr(subtable, "ExtSubTable", subtable).mapping
    for cmap in font["cmap"].tables:
        if cmap.isUnicode():
            cmap.cmap = {point: swaps.get(glyph, glyph) for point, glyph in cmap.cmap.items()}


def name_font(font: TTFont, weight: int, style: str) -> None:
    """One family name for both weights; weight class and style bits to match."""
    names = font["name"]
    for record_id in (16, 17, 21, 22, 25):
        names.removeNames(nameID=record_id)
    names_wanted = {1: FAMILY, 2: style, 4: f"{FAMILY} {style}", 6: f"{FAMILY.replace(' ', '')}-{style}"}
    for record_id, text in names_wanted.items():
        names.removeNames(nameID=record_id)
        names.setName(text, record_id, 3, 1, 0x409)
    bold = style == "Bold"
    font["OS/2"].usWeightClass = weight
    font["OS/2"].fsSelection = font["OS/2"].fsSelection & ~0b1100001 | (0b100000 if bold else 0b1000000)
    font["head"].macStyle = int(bold)
    font["head"].created = font["head"].modified = FONT_EPOCH_S
    font.recalcTimestamp = False


def printable_points(font: TTFont) -> list[int]:
    """Code points that the font holds and that are text: no controls, formats, private use or unassigned ones."""
    return sorted(c for c in font.getBestCmap() if unicodedata.category(chr(c)) not in NOT_TEXT)


def ranges(points: Iterable[int]) -> list[list[int]]:
    """Sorted code points as inclusive ranges."""
    found: list[list[int]] = []
    for point in points:
        if found and point == found[-1][1] + 1:
            found[-1][1] = point
        else:
            found.append([point, point])
    return found


def advances(font: TTFont, points: list[int]) -> list[list[int]]:
    """Advance widths in thousandths of the font size as [first point, last point, width], equal neighbours together."""
    cmap, widths, unit = font.getBestCmap(), font["hmtx"], font["head"].unitsPerEm
    found: list[list[int]] = []
    for point in points:
        wide = round(widths[cmap[point]][0] * 1000 / unit)
        if found and found[-1][1] == point - 1 and found[-1][2] == wide:
            found[-1][1] = point
        else:
            found.append([point, point, wide])
    return found


def main(package: Path, fallback_folder: Path, fallback_licence: Path) -> None:
    """Read everything first, then write."""
    scripts, licence = read_package(package)
    fonts = {f"SofiaSansSemiCondensed-{style}.ttf": static_font(scripts, w, style) for w, style in WEIGHTS.items()}
    fallback_bytes = (fallback_folder / FALLBACK).read_bytes()
    fallback_terms = fallback_licence.read_text(encoding="utf-8")
    TARGET.mkdir(parents=True, exist_ok=True)
    for name, font in fonts.items():
        font.save(TARGET / name)
    (TARGET / FALLBACK).write_bytes(fallback_bytes)
    (TARGET / "OFL-SofiaSans.txt").write_text(licence, encoding="utf-8")
    (TARGET / "LICENCE-DejaVu.txt").write_text(fallback_terms, encoding="utf-8")
    regular, bold = (fonts[f"SofiaSansSemiCondensed-{style}.ttf"] for style in WEIGHTS.values())
    fallback = TTFont(io.BytesIO(fallback_bytes))
    both = sorted(set(printable_points(regular)) & set(printable_points(bold)))
    wide = printable_points(fallback)
    write_json("coverage.json", {"Sofia Sans": ranges(both), "DejaVu Sans": ranges(wide)})
    write_json(
        "advances.json",
        {"400": advances(regular, both), "650": advances(bold, both), "fallback": advances(fallback, wide)},
    )


def write_json(name: str, content: object) -> None:
    """One compact JSON file into the font folder."""
    (TARGET / name).write_text(json.dumps(content, separators=(",", ":")) + "\n", encoding="utf-8")


if __name__ == "__main__":
    if len(sys.argv) != 4:
        raise SystemExit(__doc__)
    main(*(Path(argument) for argument in sys.argv[1:]))
