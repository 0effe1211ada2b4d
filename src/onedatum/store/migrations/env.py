"""What alembic runs to carry out the steps, on the connection and in the transaction that the store gives it."""

from __future__ import annotations

from alembic import context

from onedatum.store.schema import REVISION_TABLE


def run() -> None:
    """Carry out the steps that are missing."""
    connection = context.config.attributes["connection"]
    context.configure(connection=connection, version_table=REVISION_TABLE, transactional_ddl=True)
    with context.begin_transaction():
        context.run_migrations()


run()
