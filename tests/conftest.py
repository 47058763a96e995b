"""Say at the top of every run which databases it tests on."""

from __future__ import annotations

import os


def pytest_report_header() -> str:
    if os.environ.get("EVENHAND_TEST_POSTGRES"):
        return "stores: SQLite and PostgreSQL"
    return "stores: SQLite only; `make test` brings a PostgreSQL of its own"
