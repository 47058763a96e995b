"""The menu: whole at a desk, folded behind one button on a phone, opened by keyboard and without script."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page

from tests.web.chromium import chromium
from tests.web.conftest import Served

PHONE = 844
"""The height of a phone's screen, in pixels of the page."""


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium() as opened:
        yield opened


def entered(browser: Browser, served: Served, width: int, **options: object) -> Page:
    page = browser.new_context(viewport={"width": width, "height": PHONE}, **options).new_page()
    page.goto(f"{served.base}/enter/{served.keeper.invite()}")
    return page


@pytest.mark.parametrize("width", [740, 800, 1280])
def test_at_a_desk_every_place_is_in_sight_and_nothing_is_to_be_unfolded(
    mill: Served, browser: Browser, width: int
) -> None:
    page = entered(browser, mill, width)
    places = page.get_by_role("navigation", name="Places")
    assert places.get_by_role("link").count() > 15
    assert all(one.is_visible() for one in places.get_by_role("link").all())
    assert not places.get_by_text("Menu").is_visible()
    page.context.close()


@pytest.mark.parametrize("width", [320, 390, 640])  # a desk of 1280 pixels at 200 % is as wide as the last
@pytest.mark.parametrize("script", [True, False])
def test_on_a_phone_the_pages_own_name_stands_in_the_first_quarter_and_the_menu_opens_by_keyboard(
    mill: Served, browser: Browser, width: int, script: bool
) -> None:
    page = entered(browser, mill, width, java_script_enabled=script)
    title = page.get_by_role("heading", level=1).bounding_box()
    assert title is not None
    assert title["y"] + title["height"] < PHONE / 4
    places = page.get_by_role("navigation", name="Places")
    assert places.get_by_role("link").count() == 0
    page.get_by_role("searchbox").focus()
    for _ in range(2):  # past the field's own button
        page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    assert places.get_by_role("link", name="Strays").is_visible()
    assert page.get_by_role("searchbox").is_visible()
    page.keyboard.press("Tab")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    page.wait_for_url("**/missing")
    assert places.get_by_role("link").count() == 0
    page.context.close()
