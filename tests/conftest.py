"""Say at the top of every run which databases it tests on."""

from __future__ import annotations

import os


def pytest_report_header() -> str:
    if os.environ.get("EVENHAND_TEST_POSTGRES"):
        return "stores: SQLite and PostgreSQL"
    return "stores: SQLite only; PostgreSQL is not tested, since EVENHAND_TEST_POSTGRES names no server"
