"""The round to practise on in a real browser, without a connection: once well, once badly, as a page and as a file."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime
from importlib.resources import files
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from evenhand.enrolment.teaching.playing import play
from evenhand.enrolment.teaching.results import Result, read_result
from evenhand.jobs.own_steps import add_own_steps
from evenhand.jobs.practice import practice_round
from evenhand.records.codes import LETTERS, read_code
from evenhand.store import frames
from tests.web.chromium import chromium
from tests.web.conftest import MILL_AS_OF, Served, copied, serving

PHONE = {"width": 390, "height": 844}
DAY = datetime(2026, 3, 9, 18, 0)
TESS = "/practice/P1"
WELL: tuple[int | str, ...] = (1, 2, 0, 2, 0, "4128", 1, 0, 2, 1, 2, 2, "2271", 2, 0, 2, 1, 0)
"""What somebody does who knows how; read from the scenario by hand."""
BADLY: tuple[int | str, ...] = (0, 0, 1, 1, 1, "4182", 2, 1, 0, 0, 1, 0, 0, "2217", 0, 1, 1, 3, 1)
"""Somebody who gets everything wrong, takes off another's number and keeps quiet about it."""


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium() as opened:
        yield opened


@pytest.fixture
def phone(browser: Browser, request: pytest.FixtureRequest) -> Iterator[BrowserContext]:
    context = browser.new_context(viewport=PHONE, has_touch=True, **getattr(request, "param", {}))
    yield context
    context.close()


def opened(phone: BrowserContext, mill: Served, place: str = TESS) -> Page:
    """Open the round on a phone whose clock stands at DAY, and wait until it can be had without a connection."""
    page = phone.new_page()
    page.clock.set_fixed_time(DAY)
    page.goto(f"{mill.base}/enter/{mill.keeper.invite()}")
    page.goto(mill.base + place)
    if place == TESS:
        expect(page.get_by_text("It works without a connection.")).to_be_visible()
    return page


def begin(page: Page) -> None:
    page.get_by_role("button", name="Begin").click()


def answer(page: Page, given: int | str) -> None:
    if isinstance(given, str):
        page.get_by_label("The number").fill(given)
        page.get_by_role("button", name="Done").click()
    else:
        page.locator(".choices button").nth(given).click()
    page.get_by_role("button", name="Go on").click()


def result(page: Page) -> Result | None:
    """Return what the code says that the page shows at the end."""
    code = read_code(page.locator("#code").inner_text())
    assert code is not None
    return read_result(code.replace("-", "")[:-1], tuple(practice_round().themes))


def parts(page: Page, title: str) -> list[str]:
    """Return the themes listed at the end under a title."""
    return page.get_by_role("heading", name=title).locator("+ ul h4").all_inner_texts()


def test_played_well_without_a_connection(mill: Served, phone: BrowserContext) -> None:
    page = opened(phone, mill)
    phone.set_offline(True)
    page.reload()
    begin(page)
    for given in WELL:
        answer(page, given)
    expect(page.get_by_role("heading", name="The round is over")).to_be_visible()
    expect(page.get_by_text("Everything was right.")).to_be_visible()
    assert parts(page, "What you did right") == [text["en"] for text in practice_round().themes.values()]
    read = result(page)
    assert read
    assert (read.edition, read.day, read.well) == (1, date(2026, 3, 9), tuple(practice_round().themes))


def test_played_badly_without_a_connection(mill: Served, phone: BrowserContext) -> None:
    page = opened(phone, mill)
    phone.set_offline(True)
    page.reload()
    begin(page)
    for given in BADLY:
        answer(page, given)
    expect(page.get_by_role("heading", name="The round is over")).to_be_visible()
    expect(page.get_by_text("Nothing yet; everybody begins somewhere.")).to_be_visible()
    assert parts(page, "What to look at again") == [text["en"] for text in practice_round().themes.values()]
    consent = page.locator(".outcome > li").filter(has=page.get_by_role("heading", name="Consent before the hand"))
    expect(consent).to_contain_text("You chose: Enrol now; the paper can be signed afterwards")
    expect(consent).to_contain_text("Why: Writing comes before the hand.")
    expect(consent).to_contain_text("Better: Let Rowan read and decide first")
    read = result(page)
    assert read
    assert read.well == ()


def test_sent_without_a_connection_it_comes_to_the_desk_once_there_is_one(mill: Served, phone: BrowserContext) -> None:
    page = opened(phone, mill)
    phone.set_offline(True)
    page.reload()
    begin(page)
    for given in WELL:
        answer(page, given)
    page.get_by_role("button", name="Send the result to the desk").click()
    expect(page.get_by_text("The result is kept on this phone")).to_be_visible()
    phone.set_offline(False)
    expect(page.get_by_text("The desk has it.")).to_be_visible()
    with mill.workspace.store.reading() as conn:
        rows = frames.practices(conn).filter(code=page.locator("#code").inner_text()).to_dicts()
    assert [(row["person"], row["way"], row["author"], row["day"], row["not_well"]) for row in rows] == [
        ("P1", "phone", "Tess Marrow", date(2026, 3, 9), "")
    ]


@pytest.mark.parametrize("wrong", [1, 3, 9])
def test_the_browser_judges_as_the_program_does(mill: Served, phone: BrowserContext, wrong: int) -> None:
    given = (*WELL[:wrong], 0 if WELL[wrong] != 0 else 1, *WELL[wrong + 1 :])
    expected = play(practice_round(), given)
    page = opened(phone, mill, "/practice")
    page.get_by_label("Your name").fill("Tess Marrow")
    begin(page)
    for one in given:
        answer(page, one)
    read = result(page)
    assert read
    assert read.well == expected.well
    assert parts(page, "What to look at again") == [practice_round().themes[one]["en"] for one in expected.not_well]


def test_who_comes_back_goes_on_where_they_were_in_the_other_language_too(mill: Served, phone: BrowserContext) -> None:
    page = opened(phone, mill)
    begin(page)
    for given in WELL[:5]:
        answer(page, given)
    phone.set_offline(True)
    page.reload()
    expect(page.locator("#step")).to_have_text("Step 6 of 18")
    page.get_by_role("link", name="español").click()
    expect(page.locator("#step")).to_have_text("Paso 6 de 18")
    expect(page.get_by_text("Teclee el número de Alex, de la hoja.")).to_be_visible()
    assert page.evaluate("document.documentElement.lang") == "es"


def test_who_opens_it_in_spanish_keeps_it_so_without_a_connection(mill: Served, phone: BrowserContext) -> None:
    page = phone.new_page()
    page.goto(f"{mill.base}/enter/{mill.keeper.invite()}")
    page.goto(f"{mill.base}{TESS}?speak=es")
    expect(page.get_by_text("Funciona sin conexión.")).to_be_visible()
    phone.set_offline(True)
    page.reload()
    expect(page.get_by_role("heading", name="Diga quién practica y empiece.")).to_be_visible()


def test_as_one_file_it_needs_nothing_else(mill: Served, phone: BrowserContext, tmp_path: Path) -> None:
    page = opened(phone, mill, "/teaching")
    with page.expect_download() as taken:
        page.get_by_role("link", name="Take it away as one file").click()
    file = tmp_path / taken.value.suggested_filename
    taken.value.save_as(file)
    phone.set_offline(True)
    said: list[str] = []
    page.on("console", lambda message: said.append(message.text))
    page.on("request", lambda asked: said.append(asked.url) if not asked.url.startswith("file:") else None)
    page.goto(file.as_uri())
    page.get_by_label("Your name").fill("Tess Marrow")
    begin(page)
    for given in WELL:
        answer(page, given)
    expect(page.get_by_text("Everything was right.")).to_be_visible()
    expect(page.get_by_role("button", name="Send the result")).to_have_count(0)
    assert said == []


@pytest.mark.parametrize("phone", [{"java_script_enabled": False}], indirect=True)
def test_without_script_it_is_read(mill: Served, phone: BrowserContext) -> None:
    page = opened(phone, mill, "/practice?speak=es")
    expect(page.get_by_role("heading", name="Qué es lo correcto, y por qué")).to_be_visible()
    expect(page.get_by_text("Primero la persona lee qué se guarda")).to_be_visible()


def test_on_paper_it_is_whole_wherever_one_was(mill: Served, phone: BrowserContext) -> None:
    page = opened(phone, mill, "/practice")
    page.emulate_media(media="print")
    expect(page.get_by_role("heading", name="What is right, and why")).to_be_visible()
    expect(page.get_by_text("Say who practises, then begin.")).to_be_hidden()


@pytest.mark.parametrize(
    "phone", [{"color_scheme": scheme, "bypass_csp": True} for scheme in ("light", "dark")], indirect=True
)
def test_it_puts_no_barrier_before_assistive_software(mill: Served, phone: BrowserContext) -> None:
    # The rules are axe-core's, after the Web Content Accessibility Guidelines 2.2; https://www.w3.org/TR/WCAG22/
    axe = (files("axe_core_python") / "axe.min.js").read_text()
    page = opened(phone, mill, "/practice")

    def check() -> None:
        page.evaluate(axe + ";0")
        found = page.evaluate("axe.run({resultTypes: ['violations']})")["violations"]
        assert [(fault["id"], fault["nodes"][0]["html"]) for fault in found] == []
        assert page.evaluate("document.documentElement.scrollWidth") <= 390

    for place in ("/practice/P1?own=yes", "/teaching", "/teaching/P1", "/practice"):
        page.goto(mill.base + place)
        check()
    page.get_by_label("Your name").fill("Tess Marrow")
    begin(page)
    for given in BADLY:
        check()
        if isinstance(given, int):
            page.locator(".choices button").nth(given).click()
            check()
            page.get_by_role("button", name="Go on").click()
        else:
            answer(page, given)
    check()


OWN = """kind = "Yard clocks"
readers = ["MILL-1"]
[en]
enrol = ["Open the flap", "Key the number"]
[quick]
enrol = { step = 2, seconds = 8 }
"""


def test_the_workplaces_own_steps_stand_in_their_scene(
    mill_directory: Path, tmp_path_factory: pytest.TempPathFactory, phone: BrowserContext
) -> None:
    workspace = copied(mill_directory, tmp_path_factory)
    add_own_steps(workspace, OWN, file="own.toml", author="Sol", reason="new clocks", as_of=MILL_AS_OF)
    with serving(workspace, MILL_AS_OF) as served:
        page = opened(phone, served)
        begin(page)
        for given in WELL[:3]:
            answer(page, given)
        page.get_by_text("How it is done on our own readers").click()
        expect(page.get_by_role("heading", name="Yard clocks")).to_be_visible()
        expect(page.get_by_text("Key the number (within 8 seconds)")).to_be_visible()


def test_it_can_be_played_by_keyboard_and_the_focus_goes_along(mill: Served, phone: BrowserContext) -> None:
    page = opened(phone, mill, "/practice")
    page.get_by_label("Your name").fill("Tess Marrow")
    page.keyboard.press("Enter")
    for given in WELL[:6]:
        expect(page.locator("#turn h2")).to_be_focused()
        page.keyboard.press("Tab")
        if isinstance(given, str):
            page.keyboard.type(given)
        for _ in range(given if isinstance(given, int) else 0):
            page.keyboard.press("Tab")
        page.keyboard.press("Enter")
        expect(page.get_by_role("heading", name="Right")).to_be_focused()
        page.keyboard.press("Tab")
        page.keyboard.press("Enter")
    expect(page.locator("#step")).to_have_text("Step 7 of 18")


def test_the_letters_are_those_of_every_other_code(mill: Served) -> None:
    with mill.enter() as client:
        assert f'const LETTERS = "{LETTERS}"' in client.get("/static/practice_play.js").text


def test_on_a_phone_no_column_of_the_desks_page_is_squeezed(mill: Served, phone: BrowserContext) -> None:
    page = opened(phone, mill, "/teaching")
    reason = page.locator("table.teaching tbody tr td:last-child").first
    assert reason.evaluate("cell => cell.getBoundingClientRect().width") > 300
