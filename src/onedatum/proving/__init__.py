"""Proving a level measurement: what readings at known levels say of it."""
