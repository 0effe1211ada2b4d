"""The picture of the field about a probe, and the chart of what it holds at every level."""
