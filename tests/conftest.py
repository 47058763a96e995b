"""Say at the top of every run which databases it tests on."""

from __future__ import annotations

import os
import shutil

import pytest


def pytest_report_header() -> str:
    if os.environ.get("EVENHAND_TEST_POSTGRES"):
        return "stores: SQLite and PostgreSQL"
    return "stores: SQLite only; PostgreSQL is not tested, since EVENHAND_TEST_POSTGRES names no server"


@pytest.fixture(scope="session")
def poppler() -> None:
    """The programs that read printed pages back; where they are missing, the test fails and says what to install."""
    if not (shutil.which("pdftoppm") and shutil.which("pdftotext")):
        pytest.fail("pdftoppm or pdftotext is missing; install Debian's package poppler-utils.")
