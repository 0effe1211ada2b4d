"""Commissioning: one or two known levels against the case, and what of the difference is to be adjusted where."""

from onedatum.proving.commissioning.adjusting import Adjusting, adjusting
from onedatum.proving.commissioning.known import Known, Within, faults_of

__all__ = ["Adjusting", "Known", "Within", "adjusting", "faults_of"]
