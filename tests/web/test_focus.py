"""Whoever goes by keyboard sees where they are: every control of every page shows an outline while it has the focus.

Source: Web Content Accessibility Guidelines 2.2, 2.4.7 (focus visible).
"""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page

from tests.web.chromium import chromium
from tests.web.conftest import Served
from tests.web.test_browser import places

MORE = (
    "/consent",
    "/consent/policy/1",
    "/consent/campaign",
    "/strays",
    "/files",
    "/leavers",
    "/retention",
    "/rounds",
    "/enrolment",
    "/hands",
)

# Looked at whenever the key is let go: within a field of a date it goes from part to part, and to its calendar.
WATCH = """() => {
  for (const one of document.querySelectorAll("details")) one.open = true;
  window.unseen = new Set();
  window.stops = 0;
  window.isOver = false;
  document.addEventListener("keyup", (key) => {
    const one = document.activeElement;
    if (key.key !== "Tab") return;
    if (!one || one === document.body) { window.isOver = window.stops > 0; return; }
    window.stops += 1;
    const isSeen = (of) => {
      const style = getComputedStyle(of), box = of.getBoundingClientRect();
      return style.outlineStyle !== "none" && parseFloat(style.outlineWidth) >= 2 && box.width > 2 && box.height > 2;
    };
    if (!isSeen(one) && !isSeen(one.closest("label") ?? one)) window.unseen.add(one.outerHTML.slice(0, 120));
  });
}"""
MOST = 100
"""How often the key is pressed on a page: of a longer list the rows are alike."""


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium() as opened:
        yield opened


@pytest.fixture
def page(browser: Browser, twin: Served) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": 1280, "height": 900})
    opened = context.new_page()
    opened.goto(f"{twin.base}/enter/{twin.keeper.invite()}")
    yield opened
    context.close()


def test_every_control_shows_that_it_has_the_focus(twin: Served, page: Page) -> None:
    unseen, stops = {}, 0
    page.goto(twin.base + "/consent")
    asked = page.locator('a[href^="/consent/"]').evaluate_all("all => all.map(one => one.getAttribute('href'))")
    for place in dict.fromkeys((*places(page, twin), *MORE, *asked[:3])):
        page.goto(twin.base + place)
        page.evaluate(WATCH)
        for _ in range(MOST // 20):
            for _ in range(20):
                page.keyboard.press("Tab")
            if page.evaluate("window.isOver"):
                break
        stops += page.evaluate("window.stops")
        if found := page.evaluate("[...window.unseen]"):
            unseen[place] = found
    assert unseen == {}
    assert stops > 1000
