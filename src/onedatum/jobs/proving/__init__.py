"""Proving a measuring point: plan, judge, record, certify, look back. Command line and pages call the same functions.

Each module loads what it needs; importing this room loads neither a database nor a typesetter.
"""
