"""User text on paper: reduced to what the shipped fonts hold, measured for the drawings, made safe as a file name.

One character that no font holds makes the whole accessible PDF invalid, so each is replaced by its code, [U+65E5],
and named.
"""

import json
import re
import unicodedata
from functools import lru_cache
from pathlib import Path
from typing import NamedTuple

FONT_FOLDER = Path(__file__).resolve().parents[1] / "data" / "fonts"
FAMILY = "Sofia Sans"
FALLBACK_FAMILY = "DejaVu Sans"
LONGEST_LINE = 4000
LONGEST_STEM = 80
LONGEST_WORD = 28
RESERVED_STEM = re.compile(r"(?i)^(con|prn|aux|nul|conin\$|conout\$|com[0-9¹²³]|lpt[0-9¹²³])$")


class Printable(NamedTuple):
    """Text that the fonts can set, and the characters that had to be replaced, each once, in order."""

    text: str
    missing: tuple[str, ...]


@lru_cache(maxsize=8192)
def printable(text: str) -> Printable:
    """Reduce text to what the shipped fonts hold; line breaks and tabs become spaces, other controls their codes."""
    plain = re.sub(r"\s+", " ", unicodedata.normalize("NFC", text)).strip()
    plain, rest = plain[:LONGEST_LINE], plain[LONGEST_LINE:]
    if not rest and set(plain) <= plain_characters():
        return Printable(plain, ())
    pieces: list[str] = []
    missing: dict[str, None] = {}
    for cluster in clusters(plain):
        for char, held in zip(cluster, held_parts(cluster), strict=True):
            pieces.append(char if held else f"[{code(char)}]")
            if not held:
                missing[char] = None
    cut = f" [cut: {len(rest)} more characters]" if rest else ""
    return Printable("".join(pieces) + cut, tuple(missing))


def clusters(text: str) -> list[str]:
    """Each base character with the combining marks that follow it; one font must hold them all."""
    found: list[str] = []
    for char in text:
        if found and unicodedata.combining(char):
            found[-1] += char
        else:
            found.append(char)
    return found


def held_parts(cluster: str) -> list[bool]:
    """Which characters of a cluster can be set: all if one font holds them all, else only the base, if held."""
    fonts = coverage().values()
    loose = bool(unicodedata.combining(cluster[0]))
    if not loose and any(all(ord(c) in points for c in cluster) for points in fonts):
        return [True] * len(cluster)
    base_held = not loose and any(ord(cluster[0]) in points for points in fonts)
    return [base_held] + [False] * (len(cluster) - 1)


def code(char: str) -> str:
    """The code of a character: U+65E5."""
    return f"U+{ord(char):04X}"


def missing_sentence(where: str, missing: tuple[str, ...]) -> str:
    """What a finding or caution says of characters that could not be printed."""
    codes = ", ".join(map(code, missing))
    return f"{where} holds characters that the shipped fonts cannot print; their codes stand for them: {codes}."


def breakable(text: str) -> str:
    """Let a word too long for a line break anywhere in it."""
    return re.sub(rf"[^\s\u200b]{{{LONGEST_WORD}}}(?=[^\s\u200b])", lambda m: m.group() + "\u200b", text)


@lru_cache(maxsize=1)
def coverage() -> dict[str, frozenset[int]]:
    """Code points that each shipped font can print."""
    held: dict[str, list[list[int]]] = json.loads(font_file("coverage.json").decode())
    return {family: frozenset(p for low, high in spans for p in range(low, high + 1)) for family, spans in held.items()}


@lru_cache(maxsize=1)
def plain_characters() -> frozenset[str]:
    """Characters of the main family that stand alone: text of nothing else is printed as it is."""
    held = map(chr, coverage()[FAMILY])
    return frozenset(char for char in held if not unicodedata.combining(char))


def font_file(name: str) -> bytes:
    """The bytes of one file of the font folder."""
    return (FONT_FOLDER / name).read_bytes()


@lru_cache(maxsize=1)
def advances() -> dict[str, dict[int, int]]:
    """Advance widths by weight ("400", "650", "fallback") and code point, in thousandths of the font size."""
    read: dict[str, list[list[int]]] = json.loads(font_file("advances.json").decode())
    return {name: {p: wide for low, high, wide in spans for p in range(low, high + 1)} for name, spans in read.items()}


@lru_cache(maxsize=32768)
def width(text: str, size: float, bold: bool = False) -> float:
    """Width of a line of text in the unit of its size."""
    face = "fallback" if needs_fallback(text) else "650" if bold else "400"
    table = advances()[face]
    return sum(table.get(ord(char), 1000) for char in text) * size / 1000


@lru_cache(maxsize=8192)
def needs_fallback(text: str) -> bool:
    """Whether the main family lacks a character; a drawing then sets the whole line in the fallback."""
    held = coverage()[FAMILY]
    return any(ord(char) not in held for char in text)


def file_stem(tag: str) -> str:
    """A file name, without ending, made from a tag: safe on every common system and never empty."""
    plain = unicodedata.normalize("NFKD", tag).encode("ascii", "ignore").decode()
    stem = re.sub(r"[^A-Za-z0-9._-]+", "-", plain).strip("-._ ")[:LONGEST_STEM].rstrip("-._ ")
    if not stem:
        return "case"
    return f"{stem}-case" if RESERVED_STEM.match(stem.split(".")[0]) else stem
