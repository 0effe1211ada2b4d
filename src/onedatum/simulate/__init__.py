"""What an instrument would receive, from the same physics that sizes it.

`instrument_of` makes the simulated instrument of a study: from true levels and temperatures to the level told, the
current, the voltages and what the receiver shows, sound or with faults of `KINDS` by size. `read` adds the noise of
dips and meters. `filled` follows a tank that fills and empties, `shown` what its instrument shows meanwhile.
`Running` tells what an instrument tells at a moment while its tank runs.
`onedatum.simulate.echo` makes the record that a stem receives.
"""

from onedatum.simulate.faults import KINDS, Kind, kind
from onedatum.simulate.filling import Filled, Step, filled, shown
from onedatum.simulate.instrument import Instrument, Signal, State, instrument_of
from onedatum.simulate.readings import CHANNELS, Readings, Spread, read
from onedatum.simulate.running import Held, Leg, Moment, Profile, Put, Running, possible_m, steady_cycle

__all__ = [
    "CHANNELS",
    "KINDS",
    "Filled",
    "Held",
    "Instrument",
    "Kind",
    "Leg",
    "Moment",
    "Profile",
    "Put",
    "Readings",
    "Running",
    "Signal",
    "Spread",
    "State",
    "Step",
    "filled",
    "instrument_of",
    "kind",
    "possible_m",
    "read",
    "shown",
    "steady_cycle",
]
