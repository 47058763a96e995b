"""Say at the top of every run which databases it tests on; let drawn cases take the time that a busy machine needs."""

from __future__ import annotations

import os

from hypothesis import Phase, settings

settings.register_profile("plain", deadline=None)
# That a planted fault is seen is enough; the smallest case that shows it takes minutes to find.
settings.register_profile("planted", deadline=None, phases=(Phase.explicit, Phase.generate), derandomize=True)
settings.load_profile(os.environ.get("EVENHAND_TEST_DRAWING", "plain"))


def pytest_report_header() -> str:
    if os.environ.get("EVENHAND_TEST_POSTGRES"):
        return "stores: SQLite and PostgreSQL"
    return "stores: SQLite only; `make test` brings a PostgreSQL of its own"
