"""From the first revision to the newest, with a backup before; the steps that are packed are those that are known."""

from __future__ import annotations

import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
import sqlalchemy as sa
from alembic.script import ScriptDirectory

import onedatum.store.migrations as steps
from onedatum.store.place import place_of
from onedatum.store.schema import NEWEST, REVISIONS, upgrade
from onedatum.store.store import Store
from onedatum.store.table import METADATA
from tests.store.conftest import COUNT, open_to_others
from tests.store.script import refusal
from tests.store.test_places import GIVE_UP, in_a_process


def indexes(file: Path) -> set[str]:
    """The indexes that a step makes by name."""
    with closing(sqlite3.connect(file)) as connection:
        rows = connection.execute("SELECT name FROM sqlite_master WHERE type = 'index' AND sql IS NOT NULL")
        return {str(row[0]) for row in rows}


@pytest.fixture
def old(file: Path) -> Path:
    """The store as the first revision left it, with its records."""
    made = file.with_name("old.sqlite")
    place = place_of(made, 1.0)
    with place.writing() as connection:
        upgrade(connection, REVISIONS[0])
        connection.exec_driver_sql(f"ATTACH '{file}' AS whole")
        connection.exec_driver_sql("INSERT INTO onedatum_records SELECT * FROM whole.onedatum_records ORDER BY id")
    place.close()
    return made


def test_the_known_revisions_are_the_steps() -> None:
    script = ScriptDirectory(steps.__path__[0])
    assert tuple(step.revision for step in reversed(list(script.walk_revisions()))) == REVISIONS
    assert script.get_heads() == [NEWEST]


def test_the_steps_lead_to_the_tables_that_are_used(file: Path) -> None:
    engine = sa.create_engine(f"sqlite:///{file}")
    found = sa.inspect(engine)
    for name, table in METADATA.tables.items():
        assert [column["name"] for column in found.get_columns(name)] == [column.name for column in table.columns]
    engine.dispose()


def test_an_older_store_is_upgraded_after_a_backup(old: Path) -> None:
    assert indexes(old) == set()
    before = old.read_bytes()
    with Store.open(old) as store:
        assert store.verify().whole and store.head().id == COUNT
        store.append("number", "LT-0", "A", {})
    assert indexes(old) == {"onedatum_records_tag", "onedatum_records_kind"}
    backup = old.with_name(f"old-before-{NEWEST}.sqlite")
    assert indexes(backup) == set()
    with closing(sqlite3.connect(backup)) as kept, closing(sqlite3.connect(":memory:")) as first:
        first.deserialize(before)
        assert list(kept.iterdump()) == list(first.iterdump())
    with Store.open(backup) as store:
        assert store.head().id == COUNT and store.verify().whole


def test_an_upgrade_is_done_once(old: Path) -> None:
    for _ in range(3):
        Store.open(old).close()
    assert len(list(old.parent.glob("old-before-*"))) == 1


def test_records_of_a_tag_are_found_by_the_index(file: Path) -> None:
    query = "EXPLAIN QUERY PLAN SELECT * FROM onedatum_records WHERE {} = 'x' ORDER BY id"
    with closing(sqlite3.connect(file)) as connection:
        for name in ("tag", "kind"):
            (plan,) = connection.execute(query.format(name)).fetchall()
            assert f"USING INDEX onedatum_records_{name}" in plan[-1]


def test_an_upgrade_that_finds_no_room_leaves_the_store_as_it_was(old: Path) -> None:
    """The backup cannot be made: its folder may not be written to."""
    with open_to_others() as folder:
        there = Path(shutil.copy(old, folder / old.name))
        before = there.read_bytes()
        there.chmod(0o666)
        folder.chmod(0o555)
        try:
            said = in_a_process(there, GIVE_UP)
        finally:
            folder.chmod(0o755)
        assert said.startswith(f"{folder}") and "must be " in said
        assert there.read_bytes() == before
        assert refusal(lambda: Store.open(there).close()) == ""
