"""The views of the page."""
