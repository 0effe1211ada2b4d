"""The picture of a received record, with what was taken from it."""
