"""What options of several commands have in common."""

from __future__ import annotations

RECORDS = "ONEDATUM_RECORDS"
"""The variable of the environment that names file or URL of the records; an option names it before."""
