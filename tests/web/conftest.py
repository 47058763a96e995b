"""A workplace small enough to reckon by hand, an invented one of the usual size, and both served for real."""

from __future__ import annotations

import shutil
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime
from pathlib import Path

import httpx
import numpy as np
import pytest
import uvicorn
from fastapi import FastAPI

from evenhand import twin as twin_room
from evenhand.jobs.take import Receipt, take_files
from evenhand.jobs.workspace import SETTINGS_FILE, Workspace, create_workspace, open_workspace
from evenhand.store.settings import read_settings
from evenhand.store.settings_text import write_settings
from evenhand.store.taking import FileTaken, taking
from evenhand.terms.settings import PayPeriod, SiteRules
from evenhand.terms.sources import CONSENT, ENROLMENTS, PEOPLE, PUNCHES, READERS, SCHEDULES
from evenhand.web.app import create_app
from evenhand.web.doorkeeper import Doorkeeper

# The mill rounds to the quarter hour; its week begins on Sunday 1 March 2026.
MILL_FIRST = date(2026, 3, 1)
MILL_AS_OF = datetime(2026, 3, 9, 13, 0, tzinfo=UTC)
MILL = {
    "readers.csv": "reader,site,place,zone,max digits,capacity\nMILL-1,Mill,Gate,America/New_York,6,50\n",
    "people.csv": (
        "person,name,number,site,supervisor\n"
        "P1,Tess Marrow,4101,Mill,yes\n"
        "P2,Bram Ostler,4102,Mill,no\n"
        "P3,<b>Ines</b> Quill,4103,Mill,yes\n"
        "P4,Joss Fenn,4104,Mill,no\n"
    ),
    "enrolled.csv": (
        "reader,number,name,supervisor,enrolled on,presentations\n"
        "MILL-1,4101,MARROW,yes,2026-01-05,3\n"
        "MILL-1,4102,OSTLER,no,2026-01-05,3\n"
        "MILL-1,4103,QUILL,yes,2026-01-05,4\n"
    ),
    "punches.csv": (
        "reader,number,time,direction\n"
        "MILL-1,4101,2026-03-02 07:53:00,in\n"
        "MILL-1,4101,2026-03-02 12:00:00,out\n"
        "MILL-1,4101,2026-03-02 12:32:00,in\n"
        "MILL-1,4101,2026-03-02 16:08:00,out\n"
        "MILL-1,4102,2026-03-02 07:00:00,in\n"
        "MILL-1,4102,2026-03-03 07:00:00,in\n"
        "MILL-1,4102,2026-03-03 15:00:00,out\n"
        "MILL-1,4103,2026-03-02 09:00:00,in\n"
        "MILL-1,4103,2026-03-02 17:00:00,out\n"
    ),
}

TWIN_FIRST, TWIN_WEEKS = date(2026, 10, 4), 2
TWIN_AS_OF = datetime(2026, 10, 19, 13, 0, tzinfo=UTC)


@dataclass(frozen=True)
class Served:
    """A workspace behind a real server on a loopback port."""

    base: str
    keeper: Doorkeeper
    app: FastAPI
    workspace: Workspace

    @contextmanager
    def enter(self) -> Iterator[httpx.Client]:
        """Yield a client that has been let in and follows no redirect by itself."""
        with httpx.Client(base_url=self.base, headers={"origin": self.base}, timeout=30) as client:
            assert client.get(f"/enter/{self.keeper.invite()}").status_code == 303
            yield client


@contextmanager
def serving(workspace: Workspace, as_of: datetime, machine: datetime | None = None) -> Iterator[Served]:
    keeper = Doorkeeper()
    app = create_app(workspace, now=lambda: as_of, clock=lambda: machine or as_of, keeper=keeper)
    server = uvicorn.Server(uvicorn.Config(app, port=0, log_level="warning", access_log=False))
    thread = threading.Thread(target=server.run)
    thread.start()
    while not server.started and thread.is_alive():
        time.sleep(0.01)
    try:
        port = server.servers[0].sockets[0].getsockname()[1]
        yield Served(f"http://127.0.0.1:{port}", keeper, app, workspace)
    finally:
        server.should_exit = True
        thread.join()
        workspace.close()


def taken(workspace: Workspace, files: list[Path]) -> None:
    for receipt in take_files(workspace, files):
        assert isinstance(receipt, Receipt), receipt


@pytest.fixture(scope="session")
def mill_directory(tmp_path_factory: pytest.TempPathFactory) -> Path:
    directory = tmp_path_factory.mktemp("mill")
    workspace = create_workspace(directory / "workspace", "Mill & Sons", period=PayPeriod(MILL_FIRST), is_invented=True)
    workspace.close()
    settings = read_settings(directory / "workspace" / SETTINGS_FILE)
    rules = SiteRules("Mill", "America/New_York", rounding_s=900)
    write_settings(directory / "workspace" / SETTINGS_FILE, replace(settings, sites={"Mill": rules}))
    for name, text in MILL.items():
        (directory / name).write_text(text)
    workspace = open_workspace(directory / "workspace")
    taken(workspace, [directory / name for name in MILL])
    workspace.close()
    return directory / "workspace"


@pytest.fixture(scope="session")
def twin_directory(tmp_path_factory: pytest.TempPathFactory) -> Path:
    directory = tmp_path_factory.mktemp("twin")
    made = twin_room.workplace(11, first=TWIN_FIRST, weeks=TWIN_WEEKS, people=100)
    workspace = create_workspace(directory / "workspace", made.name, period=PayPeriod(TWIN_FIRST))
    for table in (READERS, PEOPLE, ENROLMENTS, SCHEDULES, CONSENT, PUNCHES):
        frame = getattr(made, table.name)
        source = FileTaken(f"{table.name}.csv", table.name, "", int(TWIN_AS_OF.timestamp()))
        with taking(workspace.store, source, table, frame, np.arange(frame.height) + 2):
            pass
    workspace.close()
    return directory / "workspace"


@pytest.fixture(scope="module")
def mill(mill_directory: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """The mill, a copy for each module, since some of them decide things."""
    with serving(copied(mill_directory, tmp_path_factory), MILL_AS_OF) as served:
        yield served


@pytest.fixture(scope="module")
def twin(twin_directory: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """The invented workplace, a copy for each module."""
    with serving(copied(twin_directory, tmp_path_factory), TWIN_AS_OF) as served:
        yield served


def copied(directory: Path, factory: pytest.TempPathFactory) -> Workspace:
    return open_workspace(shutil.copytree(directory, factory.mktemp("copy") / "workspace"))


@pytest.fixture
def at_mill(mill: Served) -> Iterator[httpx.Client]:
    """A browser let in at the mill."""
    with mill.enter() as client:
        yield client


@pytest.fixture
def form_token() -> Callable[[httpx.Client], str]:
    """What the session's forms are signed with, read from a page as a browser reads it."""

    def read(client: httpx.Client) -> str:
        page = client.get("/hand-off").text
        return page.split('name="form_token" value="')[1].split('"')[0]

    return read
