"""Which part may be wrong: causes ranked by readings of a tank and its loop, and what to measure next.

`rank` takes the simulated instrument of a study, `Readings` (made of `Row` by `readings_of`) and the `Priors`
(`stated_priors`, or `read_priors` of a table of the user's own). It never asserts a cause: `Ranking` holds
probabilities, the groups that the readings cannot tell apart, and the next measurement; `told` says it in words.
"""

from onedatum.proving.causes.further import Further
from onedatum.proving.causes.priors import Measurement, Priors, Size, read_priors, stated_priors
from onedatum.proving.causes.ranking import NOT_LISTED, NOTHING, Cause, Group, Ranking, rank
from onedatum.proving.causes.rows import ALLOWED, MOST_ROWS, Row, allowed, readings_of
from onedatum.proving.causes.rows_csv import MEASURED, UNITS, WAYS, heads_of, read_rows, write_rows_form
from onedatum.proving.causes.words import CAUTION, per_cent, size_words, told

__all__ = [
    "ALLOWED",
    "CAUTION",
    "MEASURED",
    "MOST_ROWS",
    "NOTHING",
    "NOT_LISTED",
    "UNITS",
    "WAYS",
    "Cause",
    "Further",
    "Group",
    "Measurement",
    "Priors",
    "Ranking",
    "Row",
    "Size",
    "allowed",
    "heads_of",
    "per_cent",
    "rank",
    "read_priors",
    "read_rows",
    "readings_of",
    "size_words",
    "stated_priors",
    "told",
    "write_rows_form",
]
