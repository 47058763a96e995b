"""Say at the top of every run which databases it tests on; let drawn cases take the time that a busy machine needs."""

from __future__ import annotations

import os

from hypothesis import settings

settings.register_profile("evenhand", deadline=None)
settings.load_profile("evenhand")


def pytest_report_header() -> str:
    if os.environ.get("EVENHAND_TEST_POSTGRES"):
        return "stores: SQLite and PostgreSQL"
    return "stores: SQLite only; `make test` brings a PostgreSQL of its own"
