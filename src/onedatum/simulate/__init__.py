"""What an instrument would receive, from the same physics that sizes it.

`instrument_of` makes the simulated instrument of a study: from true levels and temperatures to the level told, the
current, the voltages and what the receiver shows, sound or with faults of `KINDS` by size. `read` adds the noise of
dips and meters. `filled` follows a tank that fills and empties, `shown` what its instrument shows meanwhile.
`onedatum.simulate.echo` makes the record that a stem receives.
"""

from onedatum.simulate.faults import KINDS, Kind, kind
from onedatum.simulate.filling import Filled, Step, filled, shown
from onedatum.simulate.instrument import Instrument, Signal, State, instrument_of
from onedatum.simulate.readings import CHANNELS, Readings, Spread, read

__all__ = [
    "CHANNELS",
    "KINDS",
    "Filled",
    "Instrument",
    "Kind",
    "Readings",
    "Signal",
    "Spread",
    "State",
    "Step",
    "filled",
    "instrument_of",
    "kind",
    "read",
    "shown",
]
