"""Files in a real browser: dropped, looked at, taken, taken back; by keyboard, on a phone, on paper, without script."""

from __future__ import annotations

import re
from collections.abc import Iterator
from importlib.resources import files
from pathlib import Path

import pytest
from playwright.sync_api import Page

from evenhand.jobs.waiting import list_waiting
from tests.web import test_browser
from tests.web.conftest import MILL_AS_OF, Served, copied, serving
from tests.web.pages.test_files import AMBIGUOUS, LOG, MORE_READERS, ROSTER, takes
from tests.web.test_browser import Enter, tab_to

browser, enter = test_browser.browser, test_browser.enter  # fixtures


@pytest.fixture
def fresh(mill_directory: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    with serving(copied(mill_directory, tmp_path_factory), MILL_AS_OF) as served:
        yield served


def named(folder: Path, **texts: str) -> list[Path]:
    """Write files of these names, without their ending, and return where they are."""
    for name, text in texts.items():
        (folder / f"{name}.csv").write_text(text)
    return [folder / f"{name}.csv" for name in texts]


def put(page: Page, served: Served, *paths: Path) -> None:
    page.goto(f"{served.base}/files")
    page.get_by_label("drop them here, or choose them").set_input_files(list(paths))
    if page.locator("#drop-at-once").is_hidden():  # without script nothing is sent by itself
        page.get_by_role("button", name="Look at them").click()


@pytest.mark.parametrize("script", [True, False])
def test_a_log_is_put_on_looked_at_asked_about_taken_and_taken_back(
    fresh: Served, enter: Enter, tmp_path: Path, script: bool
) -> None:
    page = enter(fresh, java_script_enabled=script)
    put(page, fresh, *named(tmp_path, february=AMBIGUOUS))
    page.wait_for_url("**/files/waiting/*")
    page.get_by_role("radio").nth(0).check()
    page.get_by_role("button", name="Look again with these answers").click()
    page.wait_for_url("**?dates=*")
    page.get_by_role("button", name=re.compile("^Take 4 rows in")).click()
    page.get_by_role("status").filter(has_text="february.csv: 4 rows read, 4 taken").wait_for()
    page.get_by_role("link", name="Take it back").click()
    page.get_by_label("Your name").fill("R. Hale")
    page.get_by_label("Why it is taken back").fill("the wrong reader")
    page.get_by_role("button", name="Take it back").click()
    page.get_by_text("Nothing of this file counts now.").wait_for()
    page.get_by_role("link", name="Read it again").click()
    page.get_by_label("Why it is read again").fill("it was right")
    page.get_by_role("button", name="Read it so from now on").click()
    page.locator(".tag", has_text="read again").wait_for()


def test_files_are_dropped_on_the_page_and_told_how_far_they_are(fresh: Served, enter: Enter, tmp_path: Path) -> None:
    page = enter(fresh)
    said: list[str] = []
    page.on("console", lambda message: said.append(message.text))
    page.goto(f"{fresh.base}/files")
    texts = {path.name: path.read_text() for path in named(tmp_path, march=LOG, people=ROSTER)}
    dropped = page.evaluate_handle(
        "texts => { const held = new DataTransfer();"
        " for (const [name, text] of Object.entries(texts)) held.items.add(new File([text], name)); return held; }",
        texts,
    )
    page.dispatch_event("#drop", "dragover", {"dataTransfer": dropped})
    assert "over" in (page.locator("#drop").get_attribute("class") or "")
    page.dispatch_event("#drop", "drop", {"dataTransfer": dropped})
    page.wait_for_url("**/files/waiting")
    assert page.get_by_role("status").inner_text().startswith("2 files to be looked at")
    assert sorted(one.file for one in list_waiting(fresh.workspace)) == ["march.csv", "people.csv"]
    assert said == []


def test_what_cannot_be_put_on_is_said_where_it_was_tried(fresh: Served, enter: Enter, tmp_path: Path) -> None:
    page = enter(fresh)
    put(page, fresh, *named(tmp_path, empty=""))
    fault = page.get_by_role("alert")
    fault.get_by_text("empty.csv is empty; export it again.").wait_for()
    assert page.url == f"{fresh.base}/files"
    assert page.get_by_role("button", name="Look at them").is_enabled()


def test_a_file_is_looked_at_and_taken_by_keyboard_alone(fresh: Served, enter: Enter, tmp_path: Path) -> None:
    page = enter(fresh)
    put(page, fresh, *named(tmp_path, march=LOG))
    page.wait_for_url("**/files/waiting/*")
    for _ in range(80):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.getAttribute('aria-label')") == "What remark is":
            break
    page.keyboard.type("nothing")
    tab_to(page, "Look again")
    page.keyboard.press("Enter")
    page.wait_for_url("**use-5=none")
    tab_to(page, "Take 2 rows in")
    page.keyboard.press("Enter")
    page.wait_for_url("**/files/takes/5")
    assert takes(fresh)[-1] == (5, "march.csv", 2)


def places(page: Page, served: Served, folder: Path) -> list[str]:
    """Every kind of page that Files has, with something to see on each."""
    wide = ";".join(f"c{at}" for at in range(90)) + "\n" + ";".join("x" * 30 for _ in range(90)) + "\n"
    ready = {"readers": MORE_READERS, "x" * 140: MORE_READERS.replace("DOCK", "QUAY")}
    put(page, served, *named(folder, march=LOG, february=AMBIGUOUS, people=ROSTER, wide=wide, **ready))
    page.wait_for_url("**/files/waiting")
    march = next(one for one in list_waiting(served.workspace) if one.file == "march.csv")
    page.goto(f"{served.base}/files/waiting/{march.key}")
    page.get_by_role("button", name=re.compile("^Take 2")).click()
    page.wait_for_url("**/files/takes/5")
    waiting = [f"/files/waiting/{one.key}" for one in list_waiting(served.workspace)]
    return [
        "/files",
        "/files/waiting",
        *waiting,
        "/files/takes/5",
        "/files/takes/4/back",
        "/files/takes/2/back",
        "/files/takes/4/again",
    ]


@pytest.mark.parametrize(("width", "scheme"), [(1280, "light"), (390, "dark")])
def test_the_pages_fit_obey_their_policy_and_put_no_barrier(
    fresh: Served, enter: Enter, tmp_path: Path, width: int, scheme: str
) -> None:
    # The rules are axe-core's, after the Web Content Accessibility Guidelines 2.2; https://www.w3.org/TR/WCAG22/
    axe = (files("axe_core_python") / "axe.min.js").read_text()
    found = places(enter(fresh), fresh, tmp_path)
    said: list[str] = []
    plain = enter(fresh, width=width)
    plain.on("console", lambda message: said.append(message.text))
    page = enter(fresh, width=width, bypass_csp=True, color_scheme=scheme)
    for place in found:
        plain.goto(fresh.base + place)
        assert plain.evaluate("document.documentElement.scrollWidth") <= width, place
        page.goto(fresh.base + place)
        page.evaluate(axe + ";0")
        violations = page.evaluate("axe.run({resultTypes: ['violations']})")["violations"]
        assert [(fault["id"], fault["nodes"][0]["html"]) for fault in violations] == [], place
    assert said == []


def test_paper_shows_how_a_file_is_read_and_neither_menu_nor_forms(fresh: Served, enter: Enter, tmp_path: Path) -> None:
    page = enter(fresh)
    found = places(page, fresh, tmp_path)
    page.emulate_media(media="print")
    for place in found:
        page.goto(fresh.base + place)
        for what in ("nav", "form", "button", "select", "input"):
            assert page.locator(f"{what} >> visible=true").count() == 0, (place, what)
        assert page.locator("h1").is_visible()
    page.goto(fresh.base + "/files/takes/5")
    assert page.get_by_text("MILL-1;41-4;2026-03-03 12:30;in;").is_visible()
