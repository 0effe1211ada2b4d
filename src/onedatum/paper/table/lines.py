"""Lines of a terminal: how many columns a text takes, and text broken to a number of columns."""

import unicodedata


def columns_of(text: str) -> int:
    """Columns of a text: two for each wide character, none for each combining mark."""
    return sum(map(_columns_of_one, text))


def _columns_of_one(char: str) -> int:
    if unicodedata.category(char) in ("Mn", "Me", "Cf"):
        return 0
    return 2 if unicodedata.east_asian_width(char) in ("W", "F") else 1


def right(text: str, columns: int) -> str:
    """Text at the right of so many columns."""
    return " " * (columns - columns_of(text)) + text


def left(text: str, columns: int) -> str:
    """Text at the left of so many columns."""
    return text + " " * (columns - columns_of(text))


def wrapped(text: str, columns: int) -> list[str]:
    """Text in lines of at most so many columns, broken between words, inside a word only where it is too long."""
    lines: list[str] = []
    for word in text.split():
        if lines and columns_of(lines[-1]) + 1 + columns_of(word) <= columns:
            lines[-1] += " " + word
        else:
            lines += pieces(word, columns)
    return lines or [""]


def pieces(word: str, columns: int) -> list[str]:
    """A word cut into parts of at most so many columns."""
    parts, room = [""], columns
    for char in word:
        wide = _columns_of_one(char)
        if wide > room:
            parts.append("")
            room = columns
        parts[-1] += char
        room -= wide
    return parts
