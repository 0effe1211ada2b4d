"""Proving: what readings at known levels say."""
