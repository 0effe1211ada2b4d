"""The study: case and physics joined, chapter by chapter; every step named on the sheet, no arithmetic of its own."""
