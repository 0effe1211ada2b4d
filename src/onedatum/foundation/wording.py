"""Words of English that turn on a number."""

from __future__ import annotations


def counted(number: int, name: str) -> str:
    """How many of something there are, in words of English: 1 record, 2 records.

    >>> counted(1, "record"), counted(0, "record")
    ('1 record', '0 records')
    """
    return f"{number} {name}{'' if number == 1 else 's'}"
