"""Numbers with fewer digits than a double has, so that more of them are alike."""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics.kinds import Reals

DIGITS = 53
"""Binary digits of a double."""


def shortened(values: Reals, digits: int) -> Reals:
    """Each rounded to the nearest number of so many binary digits, off by its 2**-digits at most; NaN stays NaN.

    `digits` from 2 to 51; values of less than 1e290. By the splitting of T. J. Dekker, A floating-point technique for
    extending the available precision, Numerische Mathematik 18 (1971), [from memory].
    """
    far = float((1 << (DIGITS - digits)) + 1) * values
    return np.asarray(far - (far - values))
