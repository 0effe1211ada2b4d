"""The pulse that is counted on where the instrument states none; the noise above which wrong peaks are taken."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from onedatum import data
from onedatum.foundation.sources import Figure

TABLE = "echoes.json"


@dataclass(frozen=True)
class UsualEcho:
    """Width of the pulse, rate of the samples, noise over the height."""

    width_s: Figure
    rate_Hz: Figure
    noise_share: Figure


@cache
def usual_echo() -> UsualEcho:
    """The pulse that is counted on where none is stated.

    Formula
    -------
    looked up

    Parameters
    ----------
    none

    Returns
    -------
    UsualEcho
        width [s], rate [Hz], noise over height [1], each with source and tag

    Validity
    --------
    an illustration of a usual stem; the figures of the instrument come first

    Source
    ------
    Common practice of the trade [common practice, no source]

    Example
    -------
    >>> usual_echo().width_s.value
    1.5e-06
    """
    return UsualEcho(**{key: Figure(**row) for key, row in data.table(TABLE)["usual"].items()})


@dataclass(frozen=True)
class WrongPeaks:
    """How often the matched filter takes a peak of the noise, by the energy of the pulse against the noise."""

    search_s: float
    energy_to_noise: tuple[float, ...]
    share: tuple[float, ...]
    """Of wrong peaks, at each energy."""
    least_energy_to_noise: float
    """Below it an echo is not read."""
    source: str
    tag: str


@cache
def wrong_peaks() -> WrongPeaks:
    """How often wrong peaks are taken, and the energy to noise that an echo must have to be read.

    Formula
    -------
    looked up

    Parameters
    ----------
    none

    Returns
    -------
    WrongPeaks
        search [s], energies to noise [1], shares of wrong peaks at them [1], least energy to noise [1], source and tag

    Validity
    --------
    a search of 60 us for a Ricker pulse of 1.5 us; a longer search takes wrong peaks more often, in proportion

    Source
    ------
    Derived from geometry or first principles, simulation of 180,000 records each [derived and checked]

    Example
    -------
    >>> round(wrong_peaks().least_energy_to_noise, 1)
    39.8
    """
    row = data.table(TABLE)["wrong_peaks"]
    return WrongPeaks(
        search_s=row["search_s"],
        energy_to_noise=tuple(10 ** (level / 10) for level in row["energies_dB"]),
        share=tuple(row["shares"]),
        least_energy_to_noise=10 ** (row["least_energy_dB"] / 10),
        source=row["source"],
        tag=row["tag"],
    )
