"""The card of the signal: marks and levels with what a meter shows there, to be read on a ladder."""
