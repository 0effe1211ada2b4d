"""Which part may be wrong: causes ranked by readings of a tank and its loop, and what to measure next.

`rank` takes the simulated instrument of a study, `Readings` (made of `Row` by `readings_of`) and the `Priors`
(`stated_priors`, or `read_priors` of a table of the user's own). It never asserts a cause: `Ranking` holds
probabilities, the groups that the readings cannot tell apart, and the next measurement; `told` says it in words.
"""

from onedatum.proving.causes.priors import Priors, Size, read_priors, stated_priors
from onedatum.proving.causes.ranking import NOT_LISTED, NOTHING, Cause, Group, Ranking, rank
from onedatum.proving.causes.rows import Row, readings_of
from onedatum.proving.causes.words import told

__all__ = [
    "NOTHING",
    "NOT_LISTED",
    "Cause",
    "Group",
    "Priors",
    "Ranking",
    "Row",
    "Size",
    "rank",
    "read_priors",
    "readings_of",
    "stated_priors",
    "told",
]
