"""The tables as the newest revision leaves them. Their making is in `migrations`."""

from __future__ import annotations

from sqlalchemy import BigInteger, Column, MetaData, Table, Text

METADATA = MetaData()

RECORDS = Table(
    "onedatum_records",
    METADATA,
    Column("id", BigInteger, primary_key=True, autoincrement=False),
    Column("kind", Text),
    Column("tag", Text),
    Column("who", Text),
    Column("at", Text),
    Column("written", Text),
    Column("case", Text),
    Column("tool", Text),
    Column("payload", Text),
    Column("corrects", BigInteger),
    Column("previous", Text),
    Column("hash", Text),
)

HEAD = Table("onedatum_head", METADATA, Column("id", BigInteger, primary_key=True), Column("hash", Text))
"""One row, kept by a trigger: the last record. It shows that the last records were taken away."""
