"""Chromium, as every test of a page opens it: Debian's where it is installed, else the browser library's own."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager

from playwright.sync_api import Browser, sync_playwright

__all__ = ["chromium"]

# Nothing that calls home: the tests allow no network but their own.
ARGUMENTS = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-dev-shm-usage",  # bare machines give that memory no room
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)


@contextmanager
def chromium(*more: str) -> Iterator[Browser]:
    """Yield a browser started with these arguments too; where there is none, playwright says how to install it."""
    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(executable_path=shutil.which("chromium"), args=[*ARGUMENTS, *more])
        yield opened
        opened.close()
