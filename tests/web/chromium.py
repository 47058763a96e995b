"""Debian's Chromium, as every test of a page opens it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from playwright.sync_api import Browser, sync_playwright

__all__ = ["chromium"]

CHROMIUM = Path("/usr/bin/chromium")
# Nothing that calls home: the tests allow no network but their own.
ARGUMENTS = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)


@contextmanager
def chromium(*more: str) -> Iterator[Browser]:
    """Yield a browser started with these arguments too; where none is installed, the test fails and says so."""
    if not CHROMIUM.exists():
        pytest.fail(f"{CHROMIUM} is missing; install Debian's package chromium, which these tests drive.")
    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(executable_path=CHROMIUM, args=[*ARGUMENTS, *more])
        yield opened
        opened.close()
