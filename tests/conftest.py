"""Say at the top of every run which databases it tests on; let drawn cases take the time that a busy machine needs."""

from __future__ import annotations

import json
import os
import uuid
from collections.abc import Iterator
from pathlib import Path

import pytest
import sqlalchemy as sa
from hypothesis import Phase, settings

SERVER = os.environ.get("EVENHAND_TEST_POSTGRES", "")

settings.register_profile("plain", deadline=None)
# That a planted fault is seen is enough; the smallest case that shows it takes minutes to find.
settings.register_profile("planted", deadline=None, phases=(Phase.explicit, Phase.generate), derandomize=True)
settings.load_profile(os.environ.get("EVENHAND_TEST_DRAWING", "plain"))

TIMES = Path("mutmut-stats.json")  # where faults are planted, how long each test took without one


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Run what is quick first where faults are planted, since the first test that sees one ends the run."""
    if settings.get_current_profile_name() == "planted" and TIMES.is_file():
        took = json.loads(TIMES.read_text(encoding="utf-8"))["duration_by_test"]
        items.sort(key=lambda item: float(took.get(item.nodeid, 0.0)))


def pytest_report_header() -> str:
    if SERVER:
        return "stores: SQLite and PostgreSQL"
    return "stores: SQLite only; `make test` brings a PostgreSQL of its own"


@pytest.fixture(params=["sqlite", "postgresql"] if SERVER else ["sqlite"])
def address(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[str | Path]:
    """Where to keep a store: SQLite always, PostgreSQL where EVENHAND_TEST_POSTGRES names a server to use."""
    if request.param == "sqlite":
        yield tmp_path / "evenhand.sqlite"
        return
    url = sa.make_url(SERVER).set(drivername="postgresql+psycopg")
    server = sa.create_engine(url, isolation_level="AUTOCOMMIT")
    name = f"evenhand_{uuid.uuid4().hex}"
    with server.connect() as conn:
        conn.exec_driver_sql(f"CREATE DATABASE {name}")
    yield url.set(database=name).render_as_string(hide_password=False)
    with server.connect() as conn:
        conn.exec_driver_sql(f"DROP DATABASE {name} WITH (FORCE)")
    server.dispose()
