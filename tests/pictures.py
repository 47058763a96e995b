"""Take the README's and the docs' pictures from the demo, in light and dark: `make pictures`.

The demo is invented anew, served, and looked at by the browser of the tests, so that the pictures show what a reader
of the README gets from `make demo`. Run it whenever these pages look different.
"""

from __future__ import annotations

import io
import re
import subprocess
import sys
import tempfile
from datetime import datetime
from pathlib import Path

import click
from PIL import Image
from playwright.sync_api import Page

from evenhand.jobs.workspace import open_workspace
from tests.web.chromium import chromium
from tests.web.conftest import Served, serving

FOLDER = Path(__file__).parents[1] / "docs" / "pictures"
WIDTH, HEIGHT = 1280, 800
PATIENCE_MS = 180_000
"""How long a page may take: the first works everything out, also on a machine that has other things to do."""


def today(page: Page, base: str) -> None:
    """Show what needs a person first."""
    page.goto(f"{base}/")


def day(page: Page, base: str) -> None:
    """Show a long day of somebody, from its punches to what is paid."""
    page.goto(f"{base}/hours?sort=overtime&order=down")
    page.goto(base + str(page.locator('tbody a[href^="/hours/"]').first.get_attribute("href")))
    page.goto(base + str(page.locator(".days a").nth(2).get_attribute("href")))


def hand(page: Page, base: str) -> None:
    """Show the scores of the first hand that Hands names."""
    page.goto(f"{base}/hands")
    page.goto(base + str(page.locator('a[href^="/hands/person/"]').first.get_attribute("href")))


SHOWN = {"today": today, "day": day, "hand": hand}


def take(served: Served) -> None:
    """Write each picture in both schemes."""
    FOLDER.mkdir(exist_ok=True)
    with chromium() as browser:
        for scheme in ("light", "dark"):
            context = browser.new_context(viewport={"width": WIDTH, "height": HEIGHT}, color_scheme=scheme)
            page = context.new_page()
            page.set_default_timeout(PATIENCE_MS)
            page.goto(f"{served.base}/enter/{served.keeper.invite()}")
            for name, go in SHOWN.items():
                go(page, served.base)
                shot = Image.open(io.BytesIO(page.screenshot()))
                # few colours are on a page; a palette of them keeps the repository small
                shot.quantize(64).save(FOLDER / f"{name}-{scheme}.png", optimize=True)
                click.echo(f"docs/pictures/{name}-{scheme}.png")
            context.close()


def invented(folder: Path) -> tuple[Path, str]:
    """Invent the demo in a folder; return its workspace and the time that it is to be looked at."""
    made = subprocess.run(
        [sys.executable, "-m", "evenhand", "demo", folder], check=True, capture_output=True, text=True
    )
    said = re.search(r"--as-of (\S+)", made.stdout)
    assert said, made.stdout
    return folder / "workspace", said[1]


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as place:
        where, as_of = invented(Path(place) / "demo")
        with serving(open_workspace(where), datetime.fromisoformat(as_of)) as at_demo:
            take(at_demo)
