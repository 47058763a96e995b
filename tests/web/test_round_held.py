"""Round on a phone in a real browser: the network cut, the page reloaded, nothing lost and nothing double."""

from __future__ import annotations

from collections.abc import Iterator
from importlib.resources import files

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from evenhand.jobs.rounds import see_round
from evenhand.store import frames
from tests.web.chromium import chromium
from tests.web.conftest import Served
from tests.web.rounds import NAME, PLACE, add_mill_round
from tests.web.wire import Wire

PHONE = {"width": 390, "height": 844}
SENT, UNSENT = "Everything is sent.", "Kept on this phone, not sent yet:"


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium() as opened:
        yield opened


@pytest.fixture(scope="module", autouse=True)
def a_round(mill: Served) -> None:
    add_mill_round(mill)


@pytest.fixture
def phone(browser: Browser, request: pytest.FixtureRequest) -> Iterator[BrowserContext]:
    context = browser.new_context(viewport=PHONE, has_touch=True, **getattr(request, "param", {}))
    yield context
    context.close()


@pytest.fixture
def wire(mill: Served) -> Iterator[Wire]:
    opened = Wire(mill.base)
    yield opened
    opened.close()


def _hold(phone: BrowserContext, mill: Served, base: str = "") -> Page:
    page = phone.new_page()
    page.goto(f"{base or mill.base}/enter/{mill.keeper.invite()}")
    page.goto((base or mill.base) + PLACE)
    return page


def _kept_at_hand(page: Page) -> None:
    """Wait until the page and its parts can be had without a connection."""
    page.wait_for_function(
        "async () => navigator.serviceWorker.controller"
        " && (await (await caches.open('evenhand-round')).keys()).length >= 5"
    )


def _kept(mill: Served) -> list[tuple[str, str]]:
    with mill.workspace.store.reading() as conn:
        return frames.outcomes(conn, NAME).sort("made_at").select("item", "result").rows()


def test_taps_made_without_a_connection_survive_a_reload_and_arrive_once(
    mill: Served, phone: BrowserContext, wire: Wire
) -> None:
    page = _hold(phone, mill, wire.base)
    page.get_by_label("Supervisor at the reader").fill("Sol Vane")
    page.get_by_role("button", name="3", exact=True).tap()
    expect(page.locator("#name")).to_have_text("Bram Ostler")
    expect(page.locator("#line")).to_have_text(SENT)
    _kept_at_hand(page)

    wire.cut()
    page.get_by_role("button", name="Did not come").tap()
    expect(page.locator("#line")).to_contain_text(f"No connection. {UNSENT} 1")
    page.reload()
    expect(page.locator("#name")).to_have_text("Lía <b>Quill</b>")
    expect(page.locator("#number")).to_have_text("0083214406")
    expect(page.locator("#to-person")).to_contain_text("Apoye la mano plana")
    expect(page.get_by_label("Supervisor at the reader")).to_have_value("Sol Vane")
    page.get_by_role("button", name="5", exact=True).tap()
    page.reload()
    expect(page.locator("#line")).to_contain_text(f"{UNSENT} 2")
    expect(page.locator("#done")).to_have_text("2")
    assert len(_kept(mill)) == 1

    wire.mend()
    expect(page.locator("#line")).to_have_text(SENT, timeout=20_000)
    page.reload()
    expect(page.locator("#name")).to_have_text("Joss Fenn")
    assert _kept(mill) == [(f"{NAME}-1", "enrolled"), (f"{NAME}-2", "did_not_come"), (f"{NAME}-3", "enrolled")]


# A request that the page's worker sees cannot be lost here, and the worker takes the page over whenever it is ready.
@pytest.mark.parametrize("phone", [{"service_workers": "block"}], indirect=True)
def test_an_answer_lost_on_the_way_back_leads_to_no_double(mill: Served, phone: BrowserContext) -> None:
    page = _hold(phone, mill)
    before = _kept(mill)
    arrived = []

    def lose(route) -> None:
        # The page also asks for itself now and then; it is the first tap's answer that is lost.
        if route.request.method != "POST" or arrived:
            route.continue_()
            return
        arrived.append(route.fetch().status)
        route.abort()

    page.route(lambda address: address.endswith(PLACE), lose)
    page.get_by_label("Supervisor at the reader").fill("Sol Vane")
    with page.expect_event("requestfailed"):
        page.get_by_role("button", name="4", exact=True).tap()
    assert arrived == [200]
    expect(page.locator("#line")).to_have_text(SENT, timeout=20_000)
    assert _kept(mill) == [*before, (f"{NAME}-4", "enrolled")]


def test_a_tap_is_undone_and_the_supervisor_changes_over(mill: Served, phone: BrowserContext) -> None:
    page = _hold(phone, mill)
    page.get_by_label("Supervisor at the reader").fill("Sol Vane")
    expect(page.locator("#what")).to_have_text("Take this number off")
    page.get_by_role("button", name="Taken off").tap()
    expect(page.locator("#name")).to_have_text("Bram Ostler")
    page.get_by_text("Undo the last tap").tap()
    page.get_by_role("button", name="Undo", exact=True).tap()
    expect(page.locator("#what")).to_have_text("Take this number off")
    page.get_by_role("button", name="Taken off").tap()
    page.get_by_role("button", name="Hand over to Tess Marrow").tap()
    expect(page.get_by_label("Supervisor at the reader")).to_have_value("Tess Marrow")
    page.get_by_text("Cannot be enrolled").tap()
    page.get_by_role("button", name="Keep this").tap()  # nothing was chosen, so nothing is kept
    expect(page.locator("#what")).to_have_text("Enrol")
    page.get_by_label("What was seen").select_option("Another reason")
    page.get_by_label("The other way to clock").select_option("A card")
    page.get_by_role("button", name="Keep this").tap()
    expect(page.locator("#over")).to_contain_text("Nothing is left to do here.")
    expect(page.locator("#line")).to_have_text(SENT)
    states = see_round(mill.workspace, NAME).states
    last = states.filter(states["item"] == f"{NAME}-2").row(0, named=True)
    assert (last["result"], last["reason"], last["other_way"], last["author"]) == (
        "cannot",
        "Another reason",
        "A card",
        "Tess Marrow",
    )
    page.get_by_role("button", name="Forget this round on this phone").tap()
    page.wait_for_url(f"**/rounds/{NAME}")
    assert page.evaluate("async () => [localStorage.length, (await caches.keys()).length]") == [0, 0]


@pytest.mark.parametrize("phone", [{"color_scheme": "light"}, {"color_scheme": "dark"}], indirect=True)
def test_the_held_page_puts_no_barrier_before_assistive_software(
    browser: Browser, mill: Served, phone: BrowserContext
) -> None:
    # The rules are axe-core's, after the Web Content Accessibility Guidelines 2.2; https://www.w3.org/TR/WCAG22/
    axe = (files("axe_core_python") / "axe.min.js").read_text()
    with mill.workspace.store.writing() as conn:
        from evenhand.store.rounds import add_outcomes

        at = 2_000_000_000 + len(_kept(mill))
        undone = {"outcome": f"again-{at}", "item": f"{NAME}-3", "result": "undone", "author": "Sol", "made_at": at}
        add_outcomes(conn, [undone | {"received_at": at}])
    page = _hold(phone, mill)
    for place in (PLACE, PLACE + "?speak=es", f"/rounds/{NAME}", "/rounds"):
        page.goto(mill.base + place)
        for summary in page.locator("summary:visible").all():
            summary.click()
        page.evaluate(axe + ";0")
        found = page.evaluate("axe.run({resultTypes: ['violations']})")["violations"]
        assert [(fault["id"], fault["nodes"][0]["html"]) for fault in found] == [], place
        assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"], place


def test_the_number_fills_the_phone_and_taps_are_as_wide_as_thumbs(mill: Served, phone: BrowserContext) -> None:
    page = _hold(phone, mill)
    number = page.locator("#number").bounding_box()
    assert number
    assert page.evaluate("parseFloat(getComputedStyle(document.getElementById('number')).fontSize)") >= 44
    assert number["width"] <= PHONE["width"]
    for button in page.locator("button:visible").all():
        box = button.bounding_box()
        assert box
        # 44 by 44 CSS pixels: Web Content Accessibility Guidelines 2.2, success criterion 2.5.5
        assert min(box["width"], box["height"]) >= 44, button.inner_text()


@pytest.mark.parametrize("phone", [{"java_script_enabled": False}], indirect=True)
def test_without_script_plain_forms_serve(mill: Served, phone: BrowserContext) -> None:
    page = _hold(phone, mill)
    expect(page.locator("#number")).to_have_text("0083214406")
    page.get_by_label("Supervisor at the reader").fill("Sol Vane")
    page.get_by_role("button", name="5", exact=True).tap()
    expect(page.locator("#over")).to_be_visible()
