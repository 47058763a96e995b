"""Screens of 320 pixels, which 1280 are at four times the size (WCAG 2.2, 1.4.10), and sheets: whole and readable."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser

from tests.web.chromium import chromium
from tests.web.conftest import Served
from tests.web.test_browser import places

WIDTH = 320


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium() as opened:
        yield opened


# What is wrong on a page, each with the words it is wrong with: letters beyond the screen's edge (drawn ones too),
# names of cells of which a word is wider than its column, a field to find by that cuts its own words, and links that
# stick to a word.
WRONG = r"""(width) => {
  const found = [];
  const range = document.createRange();
  const walker = document.createTreeWalker(document.querySelector("main"), NodeFilter.SHOW_TEXT);
  for (let text = walker.nextNode(); text; text = walker.nextNode()) {
    const within = text.parentElement;
    const words = text.textContent.trim();
    if (!words || !within.checkVisibility() || within.closest(".unseen, .scrolls, textarea, option")) continue;
    range.selectNodeContents(text);
    if ([...range.getClientRects()].some((box) => box.right > width + 1)) found.push(["runs off", words]);
  }
  const probe = document.body.appendChild(document.createElement("span"));
  const wide = (words, font, size) => {
    probe.style.cssText = `position: absolute; white-space: nowrap; font: ${font}; font-size: ${size}`;
    probe.textContent = words;
    return probe.getBoundingClientRect().width;
  };
  for (const cell of document.querySelectorAll("table.cards td[data-label]")) {
    const style = getComputedStyle(cell, "::before");
    if (style.float !== "left" || !cell.checkVisibility()) continue;
    for (const word of cell.dataset.label.split(" ")) {
      if (wide(word, style.font, style.fontSize) > parseFloat(style.width) + 0.5) found.push(["is split", word]);
    }
  }
  const field = document.getElementById("find");
  if (field) {
    const style = getComputedStyle(field);
    const room = field.clientWidth - parseFloat(style.paddingLeft) - parseFloat(style.paddingRight);
    const size = getComputedStyle(field, "::placeholder").fontSize;
    if (wide(field.placeholder, style.font, size) > room) found.push(["is cut", field.placeholder]);
  }
  probe.remove();
  for (const link of document.querySelectorAll("main a")) {
    const before = link.previousSibling;
    const stands = getComputedStyle(link).display.startsWith("inline") && link.checkVisibility();
    if (stands && before?.nodeType === 3 && /[\p{L}\d,;:.]$/u.test(before.textContent)) {
      found.push(["is glued", `${before.textContent.slice(-9)}${link.textContent}`]);
    }
  }
  return found;
}"""


@pytest.mark.parametrize(("language", "most"), [("es", 99), ("en", 12)])  # Spanish words are the longer
def test_on_the_narrowest_screen_every_word_is_whole_and_within_it(
    twin: Served, browser: Browser, language: str, most: int
) -> None:
    context = browser.new_context(viewport={"width": WIDTH, "height": 568}, locale=language)
    page = context.new_page()
    page.goto(f"{twin.base}/enter/{twin.keeper.invite()}")
    listed = places(page, twin)
    page.goto(f"{twin.base}/strays")
    stray = twin.base + str(page.locator('tbody a[href^="/strays/"]').first.get_attribute("href"))
    page.goto(stray)
    page.locator('form[action$="/confirm"] button').first.click()
    page.wait_for_load_state()
    preview = page.url
    wrong = {}
    for place in (*(twin.base + one for one in listed[:most]), stray, preview):
        page.goto(place)
        if found := page.evaluate(WRONG, WIDTH):
            wrong[place.removeprefix(twin.base)] = found
    assert wrong == {}
    # what a preview changes, and what is asked, take the whole width of their row
    page.goto(preview)
    lefts = "all => all.map((one) => one.getBoundingClientRect().left + parseFloat(getComputedStyle(one).paddingLeft))"
    assert max(page.locator("td.what-changes").evaluate_all(lefts)) < WIDTH / 8
    page.goto(f"{twin.base}/missing")
    assert max(page.locator("td.told").evaluate_all(lefts)) < WIDTH / 8
    context.close()


# A case on Today says itself in the line that unfolds it; all else that only a finger can use has no place on paper.
CONTROLS = """() => [...document.querySelectorAll("button, input:not([type=hidden]), select, textarea, summary")]
  .filter((one) => !one.matches(".case *, .rest *, .listing td > input:not([type])"))
  .filter((one) => one.checkVisibility({ visibilityProperty: true }))
  .filter((one) => one.getBoundingClientRect().height > 1)
  .map((one) => one.outerHTML.slice(0, 80))"""


def test_no_sheet_shows_what_can_only_be_tapped_and_lists_in_forms_stay(twin: Served, browser: Browser) -> None:
    context = browser.new_context(viewport={"width": 1280, "height": 900})
    page = context.new_page()
    page.goto(f"{twin.base}/enter/{twin.keeper.invite()}")
    listed = places(page, twin)
    page.emulate_media(media="print")
    shown = {}
    for place in listed:
        page.goto(twin.base + place)
        if found := page.evaluate(CONTROLS):
            shown[place] = found
    assert shown == {}
    # what may be decided together is read on a sheet as on a screen, though on the screen it is a form
    page.goto(f"{twin.base}/together")
    assert page.locator("form.listing tbody tr >> visible=true").count() > 0
    context.close()
