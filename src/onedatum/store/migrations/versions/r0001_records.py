"""Records and the head of their chain, with triggers that let nothing be changed, taken away or put in between."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None

APPLICATION = 0x6F6E6564
"""By what a file of SQLite is known as one of records: the letters `oned`."""

SQLITE = (
    f"PRAGMA application_id = {APPLICATION}",
    """CREATE TRIGGER onedatum_no_update BEFORE UPDATE ON onedatum_records
       BEGIN SELECT RAISE(ABORT, 'a record is never changed'); END""",
    """CREATE TRIGGER onedatum_no_delete BEFORE DELETE ON onedatum_records
       BEGIN SELECT RAISE(ABORT, 'a record is never taken away'); END""",
    """CREATE TRIGGER onedatum_follow BEFORE INSERT ON onedatum_records
       WHEN NOT EXISTS (SELECT 1 FROM onedatum_head WHERE id = NEW.id - 1 AND hash = NEW.previous)
       BEGIN SELECT RAISE(ABORT, 'a record follows the last one'); END""",
    """CREATE TRIGGER onedatum_lead AFTER INSERT ON onedatum_records
       BEGIN UPDATE onedatum_head SET id = NEW.id, hash = NEW.hash; END""",
)

# The function that moves the head runs with the rights of the owner: a writer needs none but to read and to insert.
POSTGRESQL = (
    """CREATE FUNCTION onedatum_stand() RETURNS trigger LANGUAGE plpgsql AS
       $$ BEGIN RAISE EXCEPTION 'a record is never changed or taken away'; END $$""",
    """CREATE FUNCTION onedatum_follow() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS
       $$ BEGIN
           IF NOT EXISTS (SELECT 1 FROM onedatum_head WHERE id = NEW.id - 1 AND hash = NEW.previous) THEN
               RAISE EXCEPTION 'a record follows the last one';
           END IF;
           RETURN NEW;
       END $$""",
    """CREATE FUNCTION onedatum_lead() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER
       SET search_path FROM CURRENT AS
       $$ BEGIN UPDATE onedatum_head SET id = NEW.id, hash = NEW.hash; RETURN NULL; END $$""",
    """CREATE TRIGGER onedatum_no_change BEFORE UPDATE OR DELETE ON onedatum_records
       FOR EACH ROW EXECUTE FUNCTION onedatum_stand()""",
    """CREATE TRIGGER onedatum_no_truncate BEFORE TRUNCATE ON onedatum_records
       FOR EACH STATEMENT EXECUTE FUNCTION onedatum_stand()""",
    """CREATE TRIGGER onedatum_follow BEFORE INSERT ON onedatum_records
       FOR EACH ROW EXECUTE FUNCTION onedatum_follow()""",
    """CREATE TRIGGER onedatum_lead AFTER INSERT ON onedatum_records
       FOR EACH ROW EXECUTE FUNCTION onedatum_lead()""",
)


def upgrade() -> None:
    """Make the tables and their triggers."""
    whole = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
    texts = ("kind", "tag", "who", "at", "written", "case", "tool", "payload")
    op.create_table(
        "onedatum_records",
        sa.Column("id", whole, sa.CheckConstraint("id >= 1"), primary_key=True, autoincrement=False),
        *(sa.Column(name, sa.Text(), nullable=False) for name in texts),
        sa.Column("corrects", whole, sa.CheckConstraint("corrects < id"), sa.ForeignKey("onedatum_records.id")),
        sa.Column("previous", sa.Text(), nullable=False),
        sa.Column("hash", sa.Text(), nullable=False),
        sa.UniqueConstraint("corrects"),
        sa.UniqueConstraint("previous"),
        sa.UniqueConstraint("hash"),
    )
    head = op.create_table(
        "onedatum_head",
        sa.Column("id", whole, primary_key=True, autoincrement=False),
        sa.Column("hash", sa.Text(), nullable=False),
    )
    op.bulk_insert(head, [{"id": 0, "hash": "0" * 64}])
    for statement in SQLITE if op.get_bind().dialect.name == "sqlite" else POSTGRESQL:
        op.execute(statement)
