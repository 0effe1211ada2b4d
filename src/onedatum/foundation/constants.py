"""Facts about the tool itself that every room may need."""

VERSION = "0.1.0"
"""Version of the tool; `pyproject.toml` states the same, and a test holds them together."""
