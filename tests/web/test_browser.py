"""The pages in a real browser: at a desk, on a phone, on paper, by keyboard, without script, read by software."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from importlib.resources import files
from urllib.parse import quote, urlsplit

import pytest
from playwright.sync_api import Browser, BrowserContext, Page

from evenhand.store import frames
from tests.printed import box_of, sizes, texts
from tests.web.chromium import chromium
from tests.web.conftest import Served

Enter = Callable[..., Page]


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium() as opened:
        yield opened


@pytest.fixture
def enter(browser: Browser) -> Iterator[Enter]:
    """Open a page that has been let in; options are those of a browser context."""
    contexts: list[BrowserContext] = []

    def open_page(served: Served, *, width: int = 1280, **options: object) -> Page:
        context = browser.new_context(viewport={"width": width, "height": 900}, **options)
        contexts.append(context)
        page = context.new_page()
        page.goto(f"{served.base}/enter/{served.keeper.invite()}")
        return page

    yield open_page
    for context in contexts:
        context.close()


SETTINGS = (
    "/glossary",
    "/numbers",
    "/new-numbers?more=2&scheme=usual&seed=7",
    "/moving-numbers",
    "/change-number?person=Ostler&number=8642",
    "/enrolment",
    "/enrolment/plan",
    "/enrolment/queue",
    "/hand-off?period=2026-01-04",
    "/consent/new-policy",
    "/settings",
    "/settings/text",
    "/settings/columns",
    "/settings/change?table=policy&look=yes&meal_minutes=45",
    "/settings/number?file=rules/us_federal/minimum_wage.toml&name=minimum_wage",
)


LISTS = ("/hands", "/hands/threshold", "/strays", "/consent", "/leavers", "/retention", "/files", "/rounds", "/settled")
"""What is looked at with the others, and wants nothing found before."""


def places(page: Page, served: Served) -> list[str]:
    """Every kind of page, as the pages' own links lead to them."""
    first = {}
    for listed, kind in (("/people", "/people/"), ("/readers", "/readers/"), ("/hours", "/hours/")):
        page.goto(served.base + listed)
        first[kind] = page.locator(f'tbody a[href^="{kind}"]').first.get_attribute("href")
    page.goto(served.base + "/settings")
    site = page.locator('tbody a[href^="/settings/site/"]').first.get_attribute("href")
    page.goto(served.base + str(first["/hours/"]))
    day = page.locator(".days a").nth(2).get_attribute("href")
    preview = f"{day}/correct?action=add&on={str(day)[-10:]}&at=15:00&direction=out"
    page.goto(f"{served.base}/missing")
    asked = page.locator("#supervisor option").nth(1).get_attribute("value")
    page.goto(f"{served.base}/")
    opened = page.locator("details.case").first.get_attribute("data-case")
    page.goto(f"{served.base}/together")
    strays = page.locator("input[name=stray]").evaluate_all("all => all.map(one => one.value)")
    return [
        "/",
        f"/?open={quote(str(opened), safe='')}",
        "/?show_only=pay",
        "/together",
        *(f"/together/strays?stray={quote(stray, safe='')}" for stray in strays[:1]),
        "/people",
        "/readers",
        "/hours",
        *first.values(),
        day,
        preview,
        "/find?q=o",
        "/find?q=zz",
        "/numbers/4102",
        "/numbers/0540",  # nobody's
        "/rounding",
        "/rounds/steps",
        "/rounds/steps/With%20a%20lid",
        "/signoff",
        "/signoff/reader",
        "/missing",
        f"/missing?supervisor={asked}",
        f"/missing/at/{asked}",
        "/hand-off",
        "/ledger",
        "/ledger/decisions",
        "/ledger/1",
        "/teaching",
        *LISTS,
        *SETTINGS,
        site,
        "/nowhere",
    ]


@pytest.mark.parametrize("width", [320, 800, 980])
def test_wide_lists_fit_between_a_desk_and_a_phone_with_their_forms_open(
    twin: Served, enter: Enter, width: int
) -> None:
    page = enter(twin, width=width)
    for place in (
        "/readers",
        "/rounding",
        "/consent",
        "/strays",
        "/files",
        "/missing",
        "/ledger",
        "/hands",
        "/together",
    ):
        page.goto(twin.base + place)
        page.locator("details").evaluate_all("all => all.forEach(one => { one.open = true; })")
        assert page.evaluate("document.documentElement.scrollWidth") <= width, place


@pytest.mark.parametrize("width", [1280, 390])
def test_every_page_fits_a_desk_and_a_phone_and_obeys_its_own_policy(twin: Served, enter: Enter, width: int) -> None:
    page = enter(twin, width=width)
    said: list[str] = []
    page.on("console", lambda message: said.append(message.text))
    for place in places(page, twin):
        page.goto(twin.base + place)
        assert page.evaluate("document.documentElement.scrollWidth") <= width, place
        assert page.evaluate("getComputedStyle(document.querySelector('.masthead')).display") in ("flex", "grid")
    # the last place is not there, which the browser says in so many words
    assert [line for line in said if "404" not in line] == []


OTHER = {"light": "dark", "dark": "light"}
# Targets below 24 by 24 px, unless they stand in a line of text, or a circle of 24 px around each touches no other.
# Source: Web Content Accessibility Guidelines 2.2, 2.5.8.
SMALL = """() => {
  const TAPPED = "a[href], button, input:not([type=hidden]), select, textarea, summary";
  const shown = [...document.querySelectorAll(TAPPED)]
    .map((node) => ({ node, box: node.getBoundingClientRect() }))
    .filter(({ box }) => box.width > 1 && box.height > 1 && box.bottom > 0)
    .filter(({ node }) => node.checkVisibility({ visibilityProperty: true }));
  const isText = (one) => one.nodeType === 3 && one.textContent.trim().length > 1;
  const inText = (node) =>
    getComputedStyle(node).display.startsWith("inline") && [...node.parentElement.childNodes].some(isText);
  const small = shown.filter(({ box }) => box.width < 24 || box.height < 24);
  const middle = ({ box }) => [box.left + box.width / 2, box.top + box.height / 2];
  const away = ([x, y], box) =>
    Math.hypot(Math.max(box.left - x, 0, x - box.right), Math.max(box.top - y, 0, y - box.bottom));
  const apart = (one, other) => {
    const [here, there] = [middle(one), middle(other)];
    const between = Math.hypot(here[0] - there[0], here[1] - there[1]);
    return away(here, other.box) >= 12 && (!small.includes(other) || between >= 24);
  };
  const nested = (one, other) => other.node.contains(one.node) || one.node.contains(other.node);
  return small
    .filter((one) => !inText(one.node))
    .filter((one) => !shown.every((other) => nested(one, other) || apart(one, other)))
    .map(({ node, box }) => `${node.outerHTML.slice(0, 80)} ${Math.round(box.width)}x${Math.round(box.height)}`);
}"""


@pytest.mark.parametrize(("workplace", "width", "scheme"), [("twin", 1280, "light"), ("mill", 390, "dark")])
def test_no_page_puts_a_barrier_before_assistive_software(
    request: pytest.FixtureRequest, enter: Enter, workplace: str, width: int, scheme: str
) -> None:
    # The rules are axe-core's, after the Web Content Accessibility Guidelines 2.2; https://www.w3.org/TR/WCAG22/
    axe = (files("axe_core_python") / "axe.min.js").read_text()
    served = request.getfixturevalue(workplace)
    page = enter(served, width=width, bypass_csp=True, color_scheme=scheme)
    for place in places(page, served):
        page.goto(served.base + place)
        page.evaluate(axe + ";0")
        found = page.evaluate("axe.run({resultTypes: ['violations']})")["violations"]
        page.emulate_media(color_scheme=OTHER[scheme])
        found += page.evaluate("axe.run({runOnly: ['color-contrast'], resultTypes: ['violations']})")["violations"]
        page.emulate_media(color_scheme=scheme)
        assert [(fault["id"], fault["nodes"][0]["html"]) for fault in found] == [], place


def test_what_can_be_tapped_is_large_enough_or_stands_apart(mill: Served, enter: Enter) -> None:
    page = enter(mill, width=390)
    small = {}
    for place in places(page, mill):
        page.goto(mill.base + place)
        if found := page.evaluate(SMALL):
            small[place] = found
    assert small == {}


# A box that is broken over lines is as high as all of them; one line of it is what is tapped.
LOW = """all => all.filter(a => [...a.getClientRects()].some((b) => b.width > 1 && b.height < 23.5))
  .map(a => a.outerHTML.slice(0, 90))"""


@pytest.mark.parametrize("width", [320, 1280])
def test_every_link_of_a_page_is_24_pixels_high_also_within_a_table(mill: Served, enter: Enter, width: int) -> None:
    page = enter(mill, width=width)
    low = {}
    for place in ("/", "/people", "/people/P2", "/readers", "/hours", "/strays", "/missing", "/leavers", "/rounding"):
        page.goto(mill.base + place)
        page.locator("main details").evaluate_all("all => all.forEach(one => { one.open = true; })")
        if found := page.locator("main a").evaluate_all(LOW):
            low[place] = found
    assert low == {}


def test_a_finding_leads_to_the_day_it_names(mill: Served, enter: Enter) -> None:
    page = enter(mill)
    case = page.locator("details.case", has_text="Bram Ostler").filter(has=page.get_by_text("Blocks pay")).first
    case.locator("summary").first.click()
    case.get_by_role("link", name=re.compile("See Mon 2")).first.click()
    assert urlsplit(page.url).path == "/hours/P2/2026-03-02"
    assert page.get_by_role("heading", level=1).inner_text() == "Monday 2 March 2026"
    assert page.get_by_text("The punch at 07:00 begins something that nothing ended").is_visible()


def tab_to(page: Page, name: str) -> None:
    """Press Tab until what has the focus is called `name`."""
    called = "e => (e.labels && e.labels[0] ? e.labels[0].innerText : e.innerText || '').trim()"
    for _ in range(60):
        page.keyboard.press("Tab")
        if page.evaluate(f"({called})(document.activeElement)") == name:
            return
    pytest.fail(f"{name} cannot be reached by keyboard on {page.url}")


@pytest.mark.parametrize(("script", "day"), [(True, "2026-03-02"), (False, "2026-03-04")])
def test_a_correction_is_made_by_keyboard_alone_with_and_without_script(
    mill: Served, enter: Enter, script: bool, day: str
) -> None:
    page = enter(mill, java_script_enabled=script)
    page.goto(f"{mill.base}/hours/P4/{day}")
    if script:
        tab_to(page, "Time")
        page.keyboard.type("0700AM")
        tab_to(page, "Way")
        page.keyboard.type("in")
        tab_to(page, "Show what it changes")
        page.keyboard.press("Enter")
    else:
        page.get_by_label("Time", exact=True).fill("07:00")
        page.get_by_label("Way").first.select_option("in")
        page.get_by_label("Rests on").first.press("Tab")
        page.keyboard.press("Enter")
    page.wait_for_url("**/correct?**")
    assert page.get_by_text("Nothing has been changed yet").is_visible()
    if script:
        tab_to(page, "Your name")
        page.keyboard.type("R. Hale")
        tab_to(page, "Why it is right")
        page.keyboard.type("the reader was down")
        tab_to(page, "Make this correction")
        page.keyboard.press("Enter")
    else:
        page.get_by_label("Your name").fill("R. Hale")
        page.get_by_label("Why it is right").fill("the reader was down")
        page.get_by_label("Why it is right").press("Enter")
    page.wait_for_url(f"**/hours/P4/{day}")
    assert page.get_by_role("status").inner_text().endswith("made by R. Hale: paid time 0 min.")
    assert page.get_by_text("07:00 punch added, in").is_visible()


def test_the_first_tab_skips_to_the_content_and_focus_can_be_seen(mill: Served, enter: Enter) -> None:
    page = enter(mill)
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.innerText") == "Skip to the content"
    assert page.evaluate("getComputedStyle(document.activeElement).outlineWidth") == "3px"
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "content"


def test_paper_shows_the_steps_and_neither_menu_nor_forms(mill: Served, enter: Enter) -> None:
    page = enter(mill)
    page.emulate_media(media="print")
    for place in ("/readers/MILL-1", "/hours/P2/2026-03-02", "/"):
        page.goto(mill.base + place)
        assert page.locator("nav >> visible=true").count() == 0, place
        assert page.locator("form >> visible=true").count() == 0, place
    page.goto(f"{mill.base}/readers/MILL-1")
    assert page.locator(".tick-box >> visible=true").count() == page.locator(".steps > li").count() > 0
    # at least 20 points, to be read at arm's length: 20 pt are 26.7 px
    assert float(page.evaluate("parseFloat(getComputedStyle(document.querySelector('.big')).fontSize)")) > 26


@pytest.mark.parametrize("sheet", ["Letter", "A4"])
def test_steps_carried_on_paper_stand_several_to_a_sheet(enter: Enter, twin: Served, sheet: str) -> None:
    page = enter(twin)
    steps = {}
    page.goto(f"{twin.base}/readers")
    for reader in page.locator('tbody a[href^="/readers/"]').evaluate_all("all => all.map(a => a.href)"):
        page.goto(reader)
        steps[reader] = page.locator(".steps > li").count()
    most = max(steps, key=lambda one: steps[one])
    assert steps[most] > 2
    page.goto(most)
    assert len(texts(page.pdf(format=sheet))) <= 1 + steps[most] // 4


@pytest.mark.parametrize("sheet", ["Letter", "A4"])
def test_what_is_asked_on_paper_is_within_the_sheet(enter: Enter, twin: Served, sheet: str) -> None:
    page = enter(twin)
    page.goto(f"{twin.base}/missing")
    asked = page.locator("#supervisor option").nth(1).get_attribute("value")
    page.goto(f"{twin.base}/missing?supervisor={asked}")
    days = page.locator(".asked tbody tr").count()
    printed = page.pdf(format=sheet)
    assert 0 < len(texts(printed)) <= 1 + -(-days // 4)
    # What is to be written in has a good inch within the sheet: 14 mm of margin are 0.55 inches.
    left, _, _, _ = box_of("What was it", printed, page=0, dpi=100)
    assert left < {"Letter": 850, "A4": 827}[sheet] - 55 - 100


def test_what_is_held_at_a_reader_is_printed_on_the_paper_of_the_workplace(enter: Enter, twin: Served) -> None:
    page = enter(twin)
    for place in ("/signoff/reader", "/practice", "/people"):
        page.goto(twin.base + place)
        # the browser's own paper is A4, the workplace's letter: 8.5 x 11 inches are 612 x 792 points
        assert sizes(page.pdf(format="A4", prefer_css_page_size=True)) == {(612, 792)}, place


def test_names_in_tables_stay_whole_on_paper_and_nothing_runs_off_the_sheet(enter: Enter, twin: Served) -> None:
    page = enter(twin, width=794)  # an A4 sheet, in pixels of 1/96 inch
    with twin.workspace.store.reading() as conn:
        [site, *_] = frames.people(conn)["site"].drop_nulls().unique().sort()
        [reader, *_] = frames.readers(conn)["reader"].sort()
    for place, whole in (("/consent", site), ("/rounding", site), ("/strays", "punches"), ("/readers", reader)):
        page.goto(twin.base + place)
        assert any(whole in one for one in texts(page.pdf(format="A4"))), place
    page.emulate_media(media="print")
    # Between margins of 14 mm a sheet of 210 mm leaves 182 mm, which are 688 of those pixels.
    within = "document.body.style.width = '688px', [...document.querySelectorAll('main table')].map(t => t.scrollWidth)"
    for place in (
        "/consent",
        "/rounding",
        "/strays",
        "/hands",
        "/hours",
        "/people",
        "/leavers",
        "/together",
        "/readers",
    ):
        page.goto(twin.base + place)
        assert page.evaluate("document.documentElement.scrollWidth") <= 794, place
        assert max(page.evaluate(within), default=0) <= 688, place


def test_a_day_with_an_added_punch_fits_a_phone(mill: Served, enter: Enter) -> None:
    page = enter(mill, width=390)
    day = f"{mill.base}/hours/P2/2026-03-02"
    page.goto(f"{day}/correct?action=add&on=2026-03-02&at=15:00&direction=out")
    page.get_by_label("Your name").fill("R. Hale")
    page.get_by_label("Why").fill("forgot to punch, seen leaving")
    page.get_by_role("button", name="Make this correction").click()
    page.goto(day)
    assert page.locator("span.kept", has_text="15:00 out, added by a correction").is_visible()
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    lines = "at => { const r = document.createRange(); r.selectNodeContents(at); return r.getClientRects().length; }"
    assert page.locator("tr.paid td.amount").evaluate(lines) == 1


def test_what_is_at_stake_leaves_a_finding_most_of_its_width(enter: Enter, twin: Served) -> None:
    page = enter(twin)
    page.goto(twin.base + "/")
    # Of this width is a law with its sections, which would otherwise take all of the line.
    page.locator(".stakes").first.evaluate("list => { list.append('Biometric Information Privacy Act, '.repeat(9)) }")
    widths = page.locator(".finding").first.evaluate(
        "one => [one.clientWidth, one.querySelector('h3').parentElement.querySelector('.next').clientWidth]"
    )
    assert widths[1] > 0.6 * widths[0]


def test_the_preview_of_a_stray_of_many_weeks_stays_short_on_a_phone(enter: Enter, twin: Served) -> None:
    page = enter(twin, width=390)
    page.goto(twin.base + "/strays")
    page.goto(twin.base + str(page.locator('tbody a[href^="/strays/"]').first.get_attribute("href")))
    page.locator('form[action$="/confirm"] button').first.click()
    page.wait_for_load_state()  # the address changes before the rows are there
    weeks = page.locator("table.brief tbody tr")
    assert weeks.count() >= 3  # so that it is one of many weeks
    heights = weeks.evaluate_all("rows => rows.map(row => row.getBoundingClientRect().height)")
    assert max(heights) < 180
    assert page.evaluate("document.documentElement.scrollWidth") == 390
