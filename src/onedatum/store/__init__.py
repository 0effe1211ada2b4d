"""Records that must last: append-only, each chained to the one before it, in SQLite or PostgreSQL.

A record is a kind, a tag, who, when and a plain JSON payload; what the payload means is for others to know.
`onedatum.store.store.Store` is the door.
"""
