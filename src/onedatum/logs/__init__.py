"""Level logs and live readings: read, judged, told; stores nothing itself."""
