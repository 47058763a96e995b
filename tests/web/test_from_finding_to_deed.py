"""From every kind of case on Today to where it is put right, back to its place, and a deed with its undo."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime
from urllib.parse import quote

import pytest
from playwright.sync_api import Browser, Page, expect

from evenhand.jobs.workspace import SETTINGS_FILE, create_workspace, open_workspace
from evenhand.store.settings import read_settings
from evenhand.store.settings_text import write_settings
from evenhand.terms.settings import PayPeriod, SiteRules
from tests.web.chromium import chromium
from tests.web.conftest import MILL_FIRST, Served, serving, taken

MESSY_AS_OF = datetime(2026, 3, 9, 13, 0, tzinfo=UTC)


UNFOLD = "one => { for (let at = one; at; at = at.parentElement) if (at.tagName === 'DETAILS') at.open = true; }"
MOST_MS = 120_000
"""For how long a page is waited for; nothing is timed here."""


def _punches() -> Iterator[str]:
    """Yield whole days, days under a number of nobody's, one without its end, one far too long, and one of a leaver."""
    for day in range(2, 7):
        yield from _worked("MILL-1", "4101", day, "07:58", "16:02")
    for day in range(2, 5):
        yield from _worked("MILL-1", "4190", day, "08:01", "16:00")
    yield from _worked("MILL-1", "4107", 2, "08:00", "16:00")
    yield "MILL-1,4107,2026-03-03 08:00:00,in\n"
    yield from _worked("MILL-1", "4107", 4, "05:00", "23:30")
    yield from _worked("KILN-1", "4108", 3, "08:00", "16:00")
    yield "MILL-1,4103,2026-03-04 08:00:00,in\n"


def _worked(reader: str, number: str, day: int, begins: str, ends: str) -> Iterator[str]:
    yield f"{reader},{number},2026-03-{day:02d} {begins}:00,in\n"
    yield f"{reader},{number},2026-03-{day:02d} {ends}:00,out\n"


MESSY = {
    "readers.csv": (
        "reader,site,place,zone,max digits,capacity\n"
        "MILL-1,Mill,Gate,America/New_York,6,50\n"
        "MILL-2,Mill,Yard,America/New_York,6,50\n"
        "KILN-1,Kiln,Door,America/Chicago,6,50\n"
    ),
    "people.csv": (
        "person,name,number,site,department,supervisor,hired on,left on,hourly rate\n"
        "P1,Tess Marrow,4101,Mill,Milling,yes,2020-01-01,,20.00\n"
        "P2,Bram Ostler,4102,Mill,Milling,no,2020-01-01,,18.00\n"
        "P3,Ines Quill,4103,Mill,Milling,yes,2020-01-01,2026-02-20,20.00\n"
        "P4,Joss Fenn,4104,Mill,Milling,no,2020-01-01,,18.00\n"
        "P5,Cora Vale,4105,Mill,Milling,no,2020-01-01,,18.00\n"
        "P6,Odo Wren,,Mill,Milling,no,2020-01-01,,18.00\n"
        "P7,Lea Stark,4107,Mill,Milling,no,2020-01-01,,\n"
        "P8,Max Arden,4108,Kiln,Firing,no,2020-01-01,,18.00\n"
        "P9,Una Frost,4109,Mill,Milling,no,2020-01-01,,18.00\n"
    ),
    "enrolled.csv": (
        "reader,number,name,supervisor,enrolled on,presentations\n"
        "MILL-1,4101,MARROW,yes,2026-01-05,3\n"
        "MILL-1,4102,OSTLER,no,2026-01-05,3\n"
        "MILL-1,4103,QUILL,yes,2026-01-05,4\n"
        "MILL-1,4107,STARK,no,2026-01-05,3\n"
        "MILL-1,4190,FROST,no,2026-01-05,3\n"
        "MILL-2,4102,OSTLER,no,2026-01-05,3\n"
        "KILN-1,4108,ARDEN,no,2026-01-05,3\n"
        "KILN-1,4777,,no,2026-01-05,3\n"
    ),
    "consent.csv": "person,form,given on,withdrawn on\n"
    + "".join(f"P{n},release,2026-01-02,\n" for n in (1, 3, 4, 6, 8, 9))
    + "P2,release,2026-01-02,2026-02-27\n",
    "schedules.csv": "person,starts at,ends at\n"
    + "".join(
        f"{who},2026-03-{day:02d} 08:00,2026-03-{day:02d} 16:00\n" for who in ("P2", "P7", "P8") for day in range(2, 7)
    ),
    "punches.csv": "reader,number,time,direction\n" + "".join(sorted(_punches(), key=lambda row: row.split(",")[2])),
}


@pytest.fixture(scope="module")
def messy(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """A workplace in which much is amiss: leavers listed, hands nowhere, no rules, rates, logs or releases."""
    directory = tmp_path_factory.mktemp("messy")
    create_workspace(directory / "workspace", "Messy Mill", period=PayPeriod(MILL_FIRST), is_invented=True).close()
    settings = read_settings(directory / "workspace" / SETTINGS_FILE)
    rules = SiteRules("Mill", "America/New_York", rounding_s=900)
    write_settings(directory / "workspace" / SETTINGS_FILE, replace(settings, sites={"Mill": rules}))
    for name, text in MESSY.items():
        (directory / name).write_text(text)
    workspace = open_workspace(directory / "workspace")
    taken(workspace, [directory / name for name in MESSY])
    with serving(workspace, MESSY_AS_OF) as served:
        yield served


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium() as opened:
        yield opened


def let_in(browser: Browser, served: Served) -> Page:
    page = browser.new_context(viewport={"width": 1280, "height": 900}).new_page()
    page.set_default_timeout(MOST_MS)
    expect.set_options(timeout=MOST_MS)
    page.goto(f"{served.base}/enter/{served.keeper.invite()}")
    return page


def first_of_each_kind(page: Page, served: Served) -> list[str]:
    """Return the key of the first case of each kind on Today."""
    page.goto(served.base + "/")
    keys = page.locator("details.case").evaluate_all("all => all.map(one => one.dataset.case)")
    return list({key.split("/")[0]: key for key in reversed(keys)}.values())


def has_focus(page: Page, selector: str) -> bool:
    return bool(page.evaluate(f"document.activeElement.matches({selector!r})"))


@pytest.mark.parametrize("workplace", ["twin", "messy"])
def test_every_kind_of_case_leads_to_its_pages_and_back_to_its_place(
    browser: Browser, workplace: str, request: pytest.FixtureRequest
) -> None:
    served: Served = request.getfixturevalue(workplace)
    page = let_in(browser, served)
    kinds, dead, lost = first_of_each_kind(page, served), [], []
    for key in kinds:
        case = page.locator(f'details.case[data-case="{key}"]')
        here = f"/?open={quote(key, safe='')}"
        page.goto(f"{served.base}{here}#at")
        assert has_focus(page, "summary"), key
        links = case.locator(".ways > a")
        # nothing is only told: each case has a deed in its place, or one page away
        assert links.count() or case.locator("form").count(), key
        for href in links.evaluate_all("all => all.map(one => one.getAttribute('href'))"):
            answer = page.request.get(served.base + href)
            if answer.status != 200:
                dead.append((key, href, answer.status))
            elif "Back to the case" not in answer.text():
                lost.append((key, href))
        if links.count():
            links.first.click()
            page.get_by_role("link", name="Back to the case").click()
            expect(case).to_have_attribute("open", "")
            expect(case.locator("summary").first, key).to_be_focused()
            # the way back is told once: the list itself is no page to come back from
            expect(page.get_by_role("link", name="Back to the case")).to_have_count(0)
    assert (dead, lost) == ([], [])
    assert len(kinds) > 8


@pytest.mark.parametrize("workplace", ["twin", "messy"])
def test_a_finding_of_every_kind_is_settled_and_undone_in_its_place(
    browser: Browser, workplace: str, request: pytest.FixtureRequest
) -> None:
    served: Served = request.getfixturevalue(workplace)
    page = let_in(browser, served)
    for key in first_of_each_kind(page, served):
        page.goto(f"{served.base}/?open={quote(key, safe='')}#at")
        case = page.locator(f'details.case[data-case="{key}"]')
        form = case.locator("details.settle form[action='/settle']").first
        if not form.count():  # what payroll was told, and what somebody disputes, is answered on pages of their own
            assert key.split("/")[0] in ("away", "closed", "dispute_open", "asked"), key
            continue
        settled = form.locator("input[name=key]").get_attribute("value")
        form.evaluate(UNFOLD)
        form.get_by_label("Your name").fill("R. Hale")
        form.get_by_label("Why it may stand").fill("looked at with the site")
        form.get_by_role("button", name="Settle").click()
        notice = page.locator("#done")
        expect(notice).to_contain_text("Settled by R. Hale")
        expect(page.locator(f'[id="{settled}"]')).to_have_count(0)
        # the next case has the focus and is described by what was just done; where none is left, that itself has it
        assert has_focus(page, "summary[aria-describedby=done], #done"), key
        assert page.evaluate("document.activeElement.getBoundingClientRect().top >= 0"), key
        for href in notice.locator("a").evaluate_all("all => all.map(one => one.getAttribute('href'))"):
            assert page.request.get(served.base + href).status == 200, href
        notice.get_by_role("button", name="Undo").click()
        expect(page.locator("#done")).to_contain_text("Opened again by R. Hale")
        expect(page.locator(f'[id="{settled}"]')).to_have_count(1)


def test_somebody_on_no_reader_is_put_on_a_round_from_their_case_by_keyboard_alone(
    browser: Browser, messy: Served
) -> None:
    page = let_in(browser, messy)
    page.goto(f"{messy.base}/?open=not_enrolled%2FP4#at")
    assert has_focus(page, "summary")
    name = page.locator("details.case.now form[action='/round'] input[name=author]")
    while not has_focus(page, "form[action='/round'] input[name=author]"):
        page.keyboard.press("Tab")
    page.keyboard.press("Control+a")
    page.keyboard.type("R. Hale")
    expect(name).to_have_value("R. Hale")
    page.keyboard.press("Enter")
    expect(page.locator("#done")).to_contain_text("Put on round")
    assert has_focus(page, "summary[aria-describedby=done], #done")
    for href in page.locator("#done a").evaluate_all("all => all.map(one => one.getAttribute('href'))"):
        assert page.request.get(messy.base + href).status == 200, href
    page.keyboard.press("Tab")
    assert has_focus(page, "#done .leads a")
    page.locator("#done").get_by_role("button", name="Undo").click()
    expect(page.locator("#done")).to_contain_text("Taken off round")
    page.goto(f"{messy.base}/?open=not_enrolled%2FP4#at")
    expect(page.locator("details.case.now form[action='/round']")).to_have_count(1)
    # whoever has not agreed is asked first, and is on no round before
    asked = page.locator('details.case[data-case="not_enrolled/P5"]')
    expect(asked.locator("form[action='/round']")).to_have_count(0)
    expect(asked.locator(".way-out a").first).to_have_text("Open Consent")
