"""A store for each test: SQLite always, PostgreSQL where EVENHAND_TEST_POSTGRES names a server to use."""

import os
import uuid
from collections.abc import Iterator
from pathlib import Path

import pytest
import sqlalchemy as sa

from evenhand.store import Store, open_store

SERVER = os.environ.get("EVENHAND_TEST_POSTGRES", "")


@pytest.fixture(params=["sqlite", "postgresql"] if SERVER else ["sqlite"])
def address(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[str | Path]:
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


@pytest.fixture
def store(address: str | Path) -> Iterator[Store]:
    opened = open_store(address)
    yield opened
    opened.close()
