"""Finding in a real browser: by the key /, without script, and with the key switched off."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from tests.web.chromium import chromium
from tests.web.conftest import Served


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium() as opened:
        yield opened


@pytest.fixture
def context(browser: Browser, request: pytest.FixtureRequest) -> Iterator[BrowserContext]:
    made = browser.new_context(**getattr(request, "param", {}))
    yield made
    made.close()


@pytest.fixture
def page(context: BrowserContext, mill: Served) -> Page:
    opened = context.new_page()
    opened.goto(f"{mill.base}/enter/{mill.keeper.invite()}")
    return opened


def test_the_key_leads_to_the_search_and_the_search_to_the_person(page: Page) -> None:
    field = page.get_by_role("searchbox", name="Find a person, number, reader, file or day")
    expect(field).to_have_attribute("aria-keyshortcuts", "/")
    page.keyboard.press("/")
    expect(field).to_be_focused()
    page.keyboard.type("ostler/")  # within a field it is a sign like others
    expect(field).to_have_value("ostler/")
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1, name="Bram Ostler")).to_be_visible()


def test_the_key_can_be_switched_off_and_stays_so(page: Page, mill: Served) -> None:
    # WCAG 2.2, success criterion 2.1.4, https://www.w3.org/TR/WCAG22/#character-key-shortcuts
    page.goto(mill.base + "/find")
    page.get_by_role("button", name="Switch that off").click()
    expect(page.get_by_text("does nothing now")).to_be_visible()
    page.goto(mill.base + "/people")
    field = page.locator("#find")
    expect(field).not_to_have_attribute("aria-keyshortcuts", "/")
    page.locator("h1").click()
    page.keyboard.press("/")
    expect(field).not_to_be_focused()
    page.goto(mill.base + "/find")
    page.get_by_role("button", name="Let it lead to the search").click()
    page.keyboard.press("/")
    expect(field).to_be_focused()


@pytest.mark.parametrize("context", [{"java_script_enabled": False}], indirect=True)
def test_without_script_the_form_serves(page: Page) -> None:
    page.locator("#find").fill("mill-1")
    page.locator("#find").press("Enter")
    expect(page.get_by_role("heading", level=1, name="MILL-1")).to_be_visible()
