"""Which revision of the tables a database has, and bringing it to the newest; what is not ours is left as it is."""

from __future__ import annotations

from pathlib import Path

import sqlalchemy as sa

from onedatum.foundation.errors import StoreError
from onedatum.store.place import Place, write_ahead
from onedatum.store.whole_file import copy_to, free_path, new_file

REVISIONS = ("0001", "0002")
"""Every revision this tool knows, oldest first; a test holds them to the steps of `migrations`."""
NEWEST = REVISIONS[-1]
REVISION_TABLE = "onedatum_revision"
_APPLICATION = 0x6F6E6564
_FOLDER = Path(__file__).parent / "migrations"


def prepare(place: Place, existing: bool) -> None:
    """Make or upgrade the tables; raises StoreError where the database is newer, not ours, or empty but must not be."""
    with place.reading() as connection:
        found = revision(place, connection)
    if found is None and existing:
        raise StoreError(place.name, "a store of records", "an empty one", remedy="see to its path, or open a backup")
    if place.file is not None and found in (None, NEWEST):
        write_ahead(place)
    if found == NEWEST:
        return
    with place.writing() as connection:
        found = revision(place, connection)  # another may have been quicker
        if found is not None and found != NEWEST and place.file is not None:
            with new_file(free_path(place.file, f"before-{NEWEST}")) as made:
                copy_to(place.file, made, place.wait_s)
        if found != NEWEST:
            upgrade(connection)


def revision(place: Place, connection: sa.Connection) -> str | None:
    """The revision of a database, None where there is nothing yet; raises StoreError."""
    names = set(sa.inspect(connection).get_table_names())
    if REVISION_TABLE in names:
        rows = connection.exec_driver_sql(f"SELECT version_num FROM {REVISION_TABLE}").scalars().all()
        found = str(rows[0]) if len(rows) == 1 else ""
        if found in REVISIONS and (place.file is None or _application(connection) == _APPLICATION):
            return found
        if found.isdecimal() and found > NEWEST:
            got = f"one of revision {found}"
            remedy = "use the newer tool that made it; nothing was changed"
            raise StoreError(place.name, f"one of revision {NEWEST} or older", got, "it is newer than the tool", remedy)
    elif not _foreign(place, connection, names):
        return None
    remedy = "name another place; this one is left as it is"
    raise StoreError(place.name, "empty or a store of records", "something else", "it is not ours", remedy)


def _application(connection: sa.Connection) -> int:
    return int(connection.exec_driver_sql("PRAGMA application_id").scalar() or 0)


def _foreign(place: Place, connection: sa.Connection, names: set[str]) -> bool:
    """Whether something of others stands where the tables would be made."""
    if place.file is None:
        return any(name.startswith("onedatum_") for name in names)
    anything = connection.exec_driver_sql("SELECT count(*) FROM sqlite_master").scalar()
    return bool(anything) or _application(connection) != 0


def upgrade(connection: sa.Connection, to: str = "head") -> None:
    """Carry out the steps up to a revision within the transaction of a connection."""
    from alembic import command
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", str(_FOLDER).replace("%", "%%"))
    config.set_main_option("path_separator", "os")
    config.attributes["connection"] = connection
    command.upgrade(config, to)
