"""Level logs of weeks and months as a works would have them, with faults whose moment and size are known.

`history` follows a tank of a case through a `Plan`: batches, rest, warmth; the instrument that feels it, the loop, the
receiver and its record; dips and meters by hand. Each `Trouble` is put in by the physics of what it happens to.
`written` puts it into a folder, the truth apart. It knows nothing of how faults are looked for.
"""

from onedatum.simulate.history.made import History, history
from onedatum.simulate.history.plan import Hands, Life, Order, Plan, Reading, Record, Trouble
from onedatum.simulate.history.troubles import trouble_kind, troubles_of
from onedatum.simulate.history.writing import written

__all__ = [
    "Hands",
    "History",
    "Life",
    "Order",
    "Plan",
    "Reading",
    "Record",
    "Trouble",
    "history",
    "trouble_kind",
    "troubles_of",
    "written",
]
