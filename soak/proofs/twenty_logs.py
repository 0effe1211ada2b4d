"""Twenty histories that no detector was made for, and what the review said of each the first time."""

from __future__ import annotations

from soak.report import Report
from soak.trial import tried_again
from soak.twenty import TWENTY

NAME = "twenty_logs"
METHOD = (
    "Five sound logs and fifteen with one fault or two, of ten invented cases, from nine days to a year, a row each "
    "5 s to 900 s. They were written, with what counts as told beside each fault, and committed before their author "
    "had read a line of a detector; he had read the user's page, which names the statistics. Then the review was run "
    "over them once and stored. Two rules of counting were made stricter or exact after the first look: one finding "
    "counts for one fault (a drift had counted for two), and a step found in the very row of its fault is not before "
    "it. Two "
    "faults can hardly be found and count as missed all the same: the second float is held for three hours in which "
    "the level moves by less than 1 mm, and the film shows at two dips alone. "
    "What was wrong in the reasoning was mended after the first run, with sizes and limits not fitted to these logs. A "
    "meter off by more than its class was told as within it, since the class had been taken for noise and counted once "
    "for each begin that was tried. A clock off by less than one and a half blocks, 45 min at a row a minute, was not "
    "seen, and every movement then accused the gauge: the lag is now worked movement by movement. Dips far from the "
    "others were left out in a note, though the gauge had been off and not the dip: they are a finding now. One "
    "reading that is off made two balances not close: they are told as one. A cap on the reading was told as movements "
    "without answer one by one. Waves of an inflow were held against the noise at rest and told as spikes. Still "
    "missed: the hum, which at 5 s lies at a whole multiple of the interval, where the wandering mains makes it slow "
    "scatter without a line (the scatter that is charted is that from row to row); the film as such; a first step "
    "of the slope under a later drift of the leg; and the nine hours without rows are told as a clock set forward "
    "by nine hours, with missing rows among the explanations."
)
FIRST = "twenty_first.json"


def run() -> Report:
    """Run the proof."""
    trial = tried_again(TWENTY, FIRST)
    return Report(
        title="What a log review says of twenty logs that no detector was made for",
        statement="The review as it is now tells no fewer of the faults of these twenty logs than its first run did, "
        "and no more that is false. The first run is a record and stands as it came: it is not run again, and only the "
        "review of now can make this statement fail.",
        method=METHOD,
        numbers=trial.numbers,
        seeds=trial.seeds,
        holds=trial.no_worse,
    )
