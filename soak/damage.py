"""A case file damaged as a hand damages it: a value replaced, a line lost, doubled or cut."""

from __future__ import annotations

from collections.abc import Sequence
from random import Random

VALUES = (
    "unknown", "none", "0", "-1 m", "1e400 m", "NaN", "1850", "1,850 mm", "12 bar", "120 %vol", "1e30 m", "1e-30 m",
    "50 degC", "-300 degC", "9**9**9 mm", "'", '"', "[1, 2", "{a: b", "*x", "&x y", "!!python/object x", "日本", "\t",
    "0 m", "1 kg", "1 mA", "100 m", "0.1 mm", "#", ": :", "3 ft 4 in", "true", "~", "unknwon", "as liquid", "12 in",
    "40 lb", "sphere", "lying cylinder", "box", "cone", "yes", "no", "2", "air", "water",
)  # fmt: skip


def damaged(random: Random, lines: Sequence[str]) -> str:
    """A text with one to four lines changed."""
    kept = list(lines)
    for _ in range(random.randint(1, 4)):
        at = random.randrange(len(kept))
        line = kept[at]
        match random.randrange(6):
            case 0 | 1 | 2 if ":" in line:
                kept[at] = f"{line.partition(':')[0]}: {random.choice(VALUES)}"
            case 3:
                del kept[at]
            case 4:
                kept.insert(at, line)
            case _:
                kept[at] = line[: random.randrange(len(line) + 1)]
    return "\n".join(kept) + "\n"
