"""Words of English that turn on a number."""

from __future__ import annotations

MOST_TOLD = 10**9
"""Beyond it a count says no more to a reader."""


def counted(number: int, name: str) -> str:
    """How many of something there are, in words of English: 1 record, 2 records.

    >>> counted(1, "record"), counted(0, "record")
    ('1 record', '0 records')
    """
    return f"{number} {name}{'' if number == 1 else 's'}"


def about(number: float) -> str:
    """A count to three digits with its thousands, as a reader takes it in.

    >>> about(262_980.0), about(18.26), about(1e300)
    ('263,000', '18.3', 'more than 1,000,000,000')
    """
    if number > MOST_TOLD:
        return f"more than {MOST_TOLD:,}"
    return f"{float(f'{number:.3g}'):,.15g}"
