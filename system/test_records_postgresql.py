"""Records in PostgreSQL: the same as in SQLite, and what only a server can do wrong."""

from __future__ import annotations

import threading
import time
from collections.abc import Iterator
from pathlib import Path
from random import Random

import psycopg
import pytest

from onedatum.foundation.errors import StoreError
from onedatum.store.place import LOCK, place_of
from onedatum.store.record import FIELDS
from onedatum.store.schema import REVISIONS, upgrade
from onedatum.store.store import Store
from soak.proofs.killed_writers import killed, wrongs_of_two
from system.postgresql import OWNER, PASSWORD, Cluster, cluster
from tests.store.script import outcome, refusal, ticking

COUNT = 4
NAME = "the PostgreSQL database of the URL"


@pytest.fixture(scope="module")
def server() -> Iterator[Cluster]:
    """A server for these tests."""
    with cluster() as made:
        yield made


@pytest.fixture
def url(server: Cluster) -> str:
    """A database with a few records."""
    made = server.new()
    with Store.open(made, clock=ticking()) as store:
        for number in range(COUNT):
            store.append("calibration", f"LT-{number % 2}", "A. Author", {"number": number})
    return made


def altered(url: str, *statements: str, guarded: bool = False) -> None:
    """Carry out statements past the store, without its triggers unless it stays guarded."""
    with psycopg.connect(url, autocommit=True) as connection:
        if not guarded:
            connection.execute("ALTER TABLE onedatum_records DISABLE TRIGGER ALL")
        for statement in statements:
            connection.execute(statement.encode())
        if not guarded:
            connection.execute("ALTER TABLE onedatum_records ENABLE TRIGGER ALL")


def opened(url: str) -> str:
    """The sentence against opening it, which holds nothing of the URL."""
    said = refusal(lambda: Store.open(url, wait_s=0.5).close())
    assert not any(word in said for word in (PASSWORD, OWNER, "records_", "host", "/"))
    return said


def test_the_script_gives_the_same_as_in_sqlite(server: Cluster, tmp_path: Path) -> None:
    (tmp_path / "a").mkdir()
    (tmp_path / "b").mkdir()
    assert outcome(server.new(), tmp_path / "a") == outcome(tmp_path / "records.sqlite", tmp_path / "b")


def test_records_move_from_one_database_to_the_other_and_back(server: Cluster, url: str, tmp_path: Path) -> None:
    with Store.open(url) as store, Store.open(tmp_path / "r") as file, Store.open(server.new()) as other:
        head = store.backup(tmp_path / "one.jsonl")
        assert file.import_(tmp_path / "one.jsonl") == COUNT
        file.export(tmp_path / "two.jsonl")
        assert other.import_(tmp_path / "two.jsonl") == COUNT
        assert other.all() == store.all() and other.verify(head).whole
        other.append("number", "LT-0", "A", {})
        store.append("number", "LT-0", "B", {})
        assert "got another record 5" in refusal(lambda: store.import_(_exported(other, tmp_path / "three.jsonl")))


def _exported(store: Store, path: Path) -> Path:
    store.export(path)
    return path


def test_two_writers_lose_nothing_and_make_one_chain(server: Cluster) -> None:
    """They also make the tables, both at once."""
    assert wrongs_of_two(server.new(), 60) == (0, 120)


def test_a_writer_that_is_killed_loses_nothing_that_it_said(server: Cluster) -> None:
    assert killed(server.new(), 4, Random(11)).wrong == 0


@pytest.mark.parametrize("more", ["repeatable read", "serializable"])
def test_a_server_with_other_settings_loses_nothing(server: Cluster, more: str) -> None:
    url = server.new()
    name = url.split("/")[3].split("?")[0]
    server.carry_out("postgres", f"ALTER DATABASE {name} SET default_transaction_isolation = '{more}'")
    assert wrongs_of_two(url, 30) == (0, 60)


OTHER = {"id": "90", "corrects": "1"}


@pytest.mark.parametrize("name", FIELDS)
def test_a_change_of_any_field_is_found(url: str, name: str) -> None:
    value = OTHER.get(name, "'altered'")
    altered(url, f'UPDATE onedatum_records SET "{name}" = {value} WHERE id = 3')
    with Store.open(url) as store:
        assert store.verify().bad == 3


def test_a_record_taken_away_or_swapped_is_found(server: Cluster, url: str) -> None:
    swap = [(2, 99), (3, 2), (99, 3)]
    with Store.open(url) as store:
        altered(url, *(f"UPDATE onedatum_records SET id = {to} WHERE id = {at}" for at, to in swap))
        assert store.verify().bad == 2
        altered(url, "DELETE FROM onedatum_records WHERE id = 1")
        assert store.verify().bad == 1


def test_the_last_record_taken_away_is_found(url: str) -> None:
    altered(url, f"DELETE FROM onedatum_records WHERE id = {COUNT}")
    with Store.open(url) as store:
        assert store.verify().bad == COUNT
        assert "the last record must be" in refusal(lambda: store.append("number", "LT-0", "A", {}))


@pytest.mark.parametrize(
    ("statement", "words"),
    [
        ("UPDATE onedatum_records SET who = 'x' WHERE id = 1", "never changed or taken away"),
        ("DELETE FROM onedatum_records WHERE id = 4", "never changed or taken away"),
        ("TRUNCATE onedatum_records", "never changed or taken away"),
        ("INSERT INTO onedatum_records SELECT * FROM onedatum_records WHERE id = 4", "follows the last one"),
    ],
)
def test_the_database_itself_refuses_a_change(url: str, statement: str, words: str) -> None:
    with pytest.raises(psycopg.Error, match=words):
        altered(url, statement, guarded=True)
    with Store.open(url) as store:
        assert store.verify().whole and store.head().id == COUNT


def test_a_user_that_may_only_read_and_insert_can_append_and_no_more(server: Cluster, url: str) -> None:
    name = url.split("/")[3].split("?")[0]
    server.carry_out(
        name,
        f"CREATE ROLE writer LOGIN PASSWORD '{PASSWORD}'",
        "GRANT SELECT ON onedatum_records, onedatum_head, onedatum_revision TO writer",
        "GRANT INSERT ON onedatum_records TO writer",
    )
    own = server.url(name, "writer")
    with Store.open(own) as store:
        store.append("number", "LT-0", "A", {})
        assert store.verify().whole and store.head().id == COUNT + 1
    for statement in (
        "UPDATE onedatum_head SET id = 9",
        "DELETE FROM onedatum_records",
        "ALTER TABLE onedatum_records DISABLE TRIGGER ALL",
    ):
        with pytest.raises(psycopg.errors.InsufficientPrivilege):
            altered(own, statement, guarded=True)


def test_a_busy_store_is_told_after_a_bounded_wait_and_can_be_read_meanwhile(url: str) -> None:
    with psycopg.connect(url) as other, Store.open(url, wait_s=0.4) as store:
        other.execute("SELECT pg_advisory_xact_lock(%s)", (LOCK,))
        start = time.monotonic()
        said = refusal(lambda: store.append("number", "LT-0", "A", {}))
        assert 0.3 < time.monotonic() - start < 5.0
        assert said.startswith(f"{NAME} must be free to be written; got one that another writer holds.")
        assert store.verify().whole
        other.rollback()
        assert store.append("number", "LT-0", "A", {}).id == COUNT + 1


def test_a_connection_that_broke_is_told_or_made_again(server: Cluster, url: str) -> None:
    with Store.open(url, wait_s=0.5) as store:
        assert store.head().id == COUNT
        server.stop()
        try:
            said = refusal(store.head)
        finally:
            server.start()
        assert said.startswith(f"{NAME} must be a database that answers; got no connection or a broken one.")
        assert PASSWORD not in said and str(server.folder) not in said
        assert store.append("number", "LT-0", "A", {}).id == COUNT + 1
        assert store.verify().whole


def test_an_older_store_is_upgraded(server: Cluster) -> None:
    url = server.new()
    place = place_of(url, 1.0)
    with place.writing() as connection:
        upgrade(connection, REVISIONS[0])
    place.close()
    with Store.open(url) as store:
        store.append("number", "LT-0", "A", {})
        assert store.verify().whole
    with psycopg.connect(url) as connection:
        rows = connection.execute("SELECT indexname FROM pg_indexes WHERE tablename = 'onedatum_records'").fetchall()
    assert {"onedatum_records_tag", "onedatum_records_kind"} <= {row[0] for row in rows}


def test_what_cannot_be_used_is_told(server: Cluster, url: str) -> None:
    for wrong in (server.url("postgres", password="wrong"), server.url("records_of_none")):
        assert opened(wrong).startswith(f"{NAME} must be a database that answers; got no connection or a broken one.")
    latin = server.new("ENCODING 'LATIN1' LOCALE 'C' TEMPLATE template0")
    assert opened(latin) == f"{NAME} must be one with the encoding UTF8; got LATIN1. It must hold every character."
    altered(url, "UPDATE onedatum_revision SET version_num = '0907'")
    assert "got one of revision 0907. It is newer than the tool." in opened(url)
    altered(url, "DROP TABLE onedatum_revision")
    assert "must be empty or a store of records; got something else." in opened(url)


def test_tables_of_others_are_left_alone(server: Cluster) -> None:
    url = server.new()
    altered(url, "CREATE TABLE other AS SELECT 7 AS x", guarded=True)
    with Store.open(url) as store:
        store.append("number", "LT-0", "A", {})
    with psycopg.connect(url) as connection:
        assert connection.execute("SELECT x FROM other").fetchone() == (7,)


def test_threads_share_a_store(url: str) -> None:
    with Store.open(url) as store:

        def write() -> None:
            for number in range(10):
                store.append("calibration", threading.current_thread().name, "A", number)

        threads = [threading.Thread(target=write, name=f"thread {number}") for number in range(6)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        assert store.verify().head.id == COUNT + 60


def test_triggers_taken_away_are_found(url: str) -> None:
    altered(url, "ALTER TABLE onedatum_records DISABLE TRIGGER onedatum_no_change", guarded=True)
    with Store.open(url) as store:
        assert store.verify().fault == "the records are sound, but the triggers that refuse a change are gone"
        assert store.verify().bad is None


def test_an_error_is_no_trace_of_the_url(server: Cluster) -> None:
    with pytest.raises(StoreError) as caught:
        Store.open(server.url("postgres", password="wrong"), wait_s=0.5)
    assert caught.value.__suppress_context__
