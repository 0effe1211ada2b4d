"""One server for all tests that share it, its folder changed from test to test: its workers start once."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from fastapi import FastAPI
from starlette.testclient import TestClient

from onedatum.jobs.folder import Folder
from onedatum.web.app import create_app
from onedatum.web.guard import Door

EXAMPLES = Path(__file__).parents[2] / "examples"
HOST = "127.0.0.1:8423"


@dataclass
class Desk:
    """A client of a server, and the folder that it serves."""

    client: TestClient
    folder: Path
    app: FastAPI

    def files(self) -> dict[str, bytes]:
        """What stands in the folder, the lock left out."""
        found = (path for path in self.folder.rglob("*") if path.is_file() and path.name != "lock")
        return {str(path.relative_to(self.folder)): path.read_bytes() for path in found}


@pytest.fixture(scope="session")
def shared(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    """The server."""
    folder = tmp_path_factory.mktemp("none")
    app = create_app(folder, Door({HOST}), workers=1)
    with TestClient(app, base_url=f"http://{HOST}", follow_redirects=False, raise_server_exceptions=False) as client:
        yield Desk(client, folder, app)


@pytest.fixture
def desk(shared: Desk, tmp_path: Path) -> Desk:
    """The server on a folder of one case."""
    folder = tmp_path / "cases"
    folder.mkdir()
    shutil.copy(EXAMPLES / "spirit_receiver.yaml", folder / "one.yaml")
    shared.app.state.serving.folder = Folder(folder)
    return Desk(shared.client, folder, shared.app)
