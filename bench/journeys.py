"""What somebody at the desk does with a pointer and keys: jobs one by one, then a week down to its hand-off.

Everything is done through the pages of the invented workplace, in a browser, as a person would: each click, each key
and each page that was waited for is counted, beside what it took before. What no page leads to a decision about is
printed as left over.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import TypeVar

from playwright.sync_api import Locator, Page, expect, sync_playwright

NOW = "2026-11-16T13:00:00+00:00"
TAPPED, PUNCHED = "2026-11-16T12:30:00+00:00", "2026-11-16 06:50:00"
"""What the phone's clock tells in a round, and the reader's that of the punch which proves it."""
WAIT_MS = 180_000
SEED = "1"
"""What the workplace is invented from."""
WHO = "R. Hale"
MOST_DECISIONS = 400
BLOCKING = "details.case.blocks"
AWAY = "form.together:not(.stand)"
T = TypeVar("T")


@dataclass(frozen=True)
class Taken:
    """What a job takes; keys or seconds are None where nobody measured them."""

    clicks: int
    keys: int | None
    pages: int
    seconds: float | None

    def __add__(self, other: Taken) -> Taken:
        """Return both together."""
        keys = (self.keys or 0) + (other.keys or 0)
        seconds = (self.seconds or 0) + (other.seconds or 0)
        return Taken(self.clicks + other.clicks, keys, self.pages + other.pages, seconds)


BEFORE = {
    "a missing punch": Taken(8, None, 4, None),
    "a stray": Taken(7, None, 5, None),
    "settle who was away": Taken(3, 39, 1, 3.5),
    "enrol and prove": Taken(14, None, 9, None),
    "the week": Taken(254, 3268, 138, 317.0),
    "hand over": Taken(7, 48, 3, 3.5),
}
"""What the jobs took before, measured in November 2026 on two cores that others used too.

The first two before Today listed cases, enrolling at revision 17092e25, the others at revision b0164973 by this
program as it was then; its week were 79 decisions, one by one.
"""


@dataclass
class Desk:
    """A browser at the pages, and what was done with it: clicks, keys, and pages waited for."""

    page: Page
    base: str
    clicks: int = 0
    keys: int = 0
    pages: int = 0

    def go(self, place: str) -> None:
        """Open a page by its address, which is no step of a job."""
        self.page.goto(self.base + place)

    def click(self, what: Locator, *, leads_on: bool = False) -> None:
        """Click on something, and wait for the page it leads to."""
        self.clicks += 1
        if not leads_on:
            what.click()
            return
        self.pages += 1
        with self.page.expect_navigation():
            what.click()

    def write(self, where: Locator, text: str) -> None:
        """Write into a field, unless the page has filled it."""
        if not where.input_value():
            self.clicks += 1
            self.keys += len(text)
            where.fill(text)

    def sign(self, form: Locator, reason: str, button: str) -> None:
        """Say who and why where a form asks, tick what it wants ticked, and send it."""
        for box in form.locator("input[type=checkbox][required]").all():
            self.click(box)
        for name, text in (("author", WHO), ("reason", reason)):
            for field in form.locator(f"input[name={name}]:visible").all():
                self.write(field, text)
        self.click(form.get_by_role("button", name=button), leads_on=True)

    def mark(self, boxes: Locator) -> None:
        """Tick each box that is not ticked."""
        for box in boxes.all():
            if not box.is_checked():
                self.click(box)

    def unfold(self, case: Locator) -> None:
        """Open a case, and the rest of the list before it where it stands there."""
        rest = case.locator("xpath=ancestor::details[contains(@class, 'rest')]")
        for one in (*rest.all(), case):
            if one.get_attribute("open") is None:
                self.click(one.locator("> summary"))


def give_punches(desk: Desk, case: Locator) -> None:
    """Give a stray's punches to whom its evidence names, after seeing what that does."""
    desk.click(case.get_by_role("button", name="See what giving them would do").first, leads_on=True)
    desk.sign(desk.page.locator("main form.sign"), "keyed it at the reader while I stood by", "Give them to")


def put_on_round(desk: Desk, case: Locator) -> None:
    """Put the steps at a reader that a case wants on its next round."""
    desk.sign(case.locator("form[action='/round']").first, "", "Put it on the next round")


def add_punch(desk: Desk, case: Locator) -> None:
    """Add the punch that a case proposes, or do what else it offers for its first open day."""
    form = case.locator(".way-out form.adding[action$='/correct']:visible").first
    desk.click(form.get_by_role("button"), leads_on=True)
    desk.sign(desk.page.locator("main form.sign"), "as they say, and their supervisor too", "Make this correction")


def settle_together(desk: Desk, case: Locator) -> None:
    """Settle those of a case who were away, for one reason."""
    desk.sign(case.locator(AWAY), "the crew was off, says their supervisor", "Settle those marked")


def let_stand(desk: Desk, case: Locator) -> None:
    """Settle what keeps the period from payroll of a case, all of it for one reason."""
    form = case.locator("form.stand")
    desk.mark(form.locator("input[type=checkbox]"))
    desk.sign(form, "asked the person: nothing was worked that is not on record", "Settle")


def settle_one(desk: Desk, case: Locator) -> None:
    """Settle one finding of a case that keeps the period from payroll."""
    found = case.locator("details.found")
    if found.count() and found.get_attribute("open") is None:
        desk.click(found.locator("> summary"))
    finding = case.locator("article.finding.blocks").first
    desk.click(finding.locator("details.settle > summary"))
    form = finding.locator("details.settle form")
    desk.sign(form, "asked the person: nothing was worked that is not on record", "Settle")


def decide_together(desk: Desk) -> Counter[str]:
    """Accept what is as good as certain and every other proposal, and settle those away and asked about, from Today."""
    done: Counter[str] = Counter()
    page = desk.page
    desk.click(page.locator("a[href^='/together']").first, leads_on=True)
    offered = page.locator("input[name=mark]")
    if offered.count():
        done["corrected together"] = offered.count()
        desk.mark(offered)
        desk.click(page.get_by_role("button", name="See what they would do"), leads_on=True)
        desk.sign(page.locator("main form.sign"), "as they say, and their supervisors too", "Make these corrections")
    strays = page.locator("section:has(> #strays) form")
    if strays.count():
        done["strays given together"] = strays.locator("input[name=stray]").count()
        desk.click(strays.get_by_role("button", name="See what giving them would do"), leads_on=True)
        desk.sign(page.locator("main form.sign"), "as their evidence says", "Confirm them")
    for part, reason in (("away", "the crew was off, says their supervisor"), ("asked", "nothing was worked")):
        form = page.locator(f"section:has(> #{part}) form")
        if form.count():
            done["settled together"] += form.locator("input[name=key]").count()
            desk.mark(form.locator("input[name=key]"))
            desk.sign(form, reason, "Settle those marked")
    return done


def enrol_and_prove(desk: Desk) -> None:
    """Put the enrolment of somebody on no reader on a round, hold it there, and take the first punch that proves it.

    At the reader the round is opened by its link, as a phone opens it by the code on the sheet. The log that holds the
    punch is one that the reader writes; the rest of the round's turns are left to their people.
    """
    page = desk.page
    offered = 'details.case[data-case^="not_enrolled/"]:has(form[action="/round"])'
    case = page.locator(f'details.case[data-case="{page.locator(offered).first.get_attribute("data-case")}"]')
    desk.unfold(case)
    number = case.locator("form[action='/round'] input[name=number]").input_value()
    desk.sign(case.locator("form[action='/round']"), "", "Put it on the next round")
    desk.click(page.locator(".notice .leads a").first, leads_on=True)
    reader = page.locator("h1").inner_text()
    expect(page.locator("#number")).to_have_text(number)
    desk.click(page.get_by_role("button", name="3", exact=True))
    expect(page.locator("#line")).to_have_text("Everything is sent.")
    with tempfile.TemporaryDirectory() as folder:
        log = Path(folder) / "first.csv"
        log.write_text(f"reader,number,time,direction\n{reader},{number},{PUNCHED},in\n")
        desk.go("/")
        take_file(desk, log)
    expect(page.locator(".notice")).to_contain_text("1 enrolment proved")


def take_file(desk: Desk, file: Path) -> None:
    """Put a file on at Files, where it is looked at as soon as it is chosen, and take it as it is understood."""
    desk.click(desk.page.locator("nav").get_by_role("link", name="Files", exact=True).first, leads_on=True)
    desk.clicks += 1
    desk.pages += 1
    with desk.page.expect_navigation():
        desk.page.locator("#file").set_input_files(file)
    desk.click(desk.page.get_by_role("button", name=re.compile("^Take .* in$")), leads_on=True)


def hand_over(desk: Desk) -> None:
    """Write payroll's files, from Today on; where they were written before, say how what changed since is made good.

    The period's own files are replaced, and what changed in earlier ones is carried by a later file.
    """
    page = desk.page
    desk.click(page.locator("nav").get_by_role("link", name="Hand-off", exact=True).first, leads_on=True)
    period = page.locator(".heading p").inner_text().partition(", for payroll")[0]
    changed = page.locator("form.making-good")
    if changed.count():
        for one in changed.locator("article").all():
            way = one.locator(f"input[value={'replace' if period in one.inner_text() else 'adjust'}]")
            if not way.is_checked():
                desk.click(way)
        desk.sign(changed, "the week was worked down", "Settle what changed")
    new = page.locator("form.sign[action='/hand-off']")
    if new.count():
        desk.sign(new, "", "Write the files for payroll")


def ways(case: Locator) -> Iterator[tuple[str, Callable[[Desk, Locator], None]]]:
    """Yield the ways out that an open case shows, its guided ones first."""
    if case.get_by_role("button", name="See what giving them would do").count():
        yield "punches given", give_punches
    if case.locator(".way-out form.adding[action$='/correct']:visible").count() and _is_filled(case):
        yield "a punch added or directed", add_punch
    if case.locator(AWAY).count():
        yield "settled together", settle_together
    if case.locator("form.stand").count():
        yield "let stand for one reason", let_stand
    if case.locator("article.finding.blocks details.settle").count():
        yield "settled with a reason", settle_one


def _is_filled(case: Locator) -> bool:
    form = case.locator(".way-out form.adding[action$='/correct']:visible").first
    return all(field.input_value() for field in form.locator("input[required], select").all())


def work_down(desk: Desk) -> tuple[Counter[str], list[str]]:
    """Decide each case that keeps the period from payroll, and return how, with those that no way leads out of."""
    done: Counter[str] = Counter()
    stuck: list[str] = []
    desk.go("/?show_only=pay")
    for _ in range(MOST_DECISIONS):
        open_cases = desk.page.locator(BLOCKING)
        keys = [str(one.get_attribute("data-case")) for one in open_cases.all()]
        # what changed in a period that payroll has is decided on Hand-off, last of all
        keys = [key for key in keys if key not in stuck and not key.startswith("closed/")]
        if not keys:
            break
        case = desk.page.locator(f'{BLOCKING}[data-case="{keys[0]}"]').first
        desk.unfold(case)
        told = next(ways(case), None)
        if told is None:
            stuck.append(keys[0])
            continue
        how, act = told
        before = case.inner_text()
        act(desk, case)
        again = desk.page.locator(f'{BLOCKING}[data-case="{keys[0]}"]')
        if again.count() and again.first.inner_text() == before:
            stuck.append(keys[0])
            continue
        done[how] += 1
        if "show_only=pay" not in desk.page.url:
            desk.go("/?show_only=pay")
    return done, stuck


def main() -> None:
    """Print each job's clicks, keys, pages and seconds, and then those of the whole week."""
    print(f"a workplace made before: {sys.argv[1]}" if len(sys.argv) > 1 else f"seed {SEED}")
    with served() as (page, base):
        desk = Desk(page, base)
        jobs: list[tuple[str, Callable[[], None]]] = [
            ("a missing punch", lambda: _first(desk, "asked/", add_punch)),
            ("a stray", lambda: _first(desk, "other_number/", give_punches)),
            ("a reader's steps on a round", lambda: _first(desk, "other_number/", put_on_round)),
            ("enrol and prove", lambda: enrol_and_prove(desk)),
            ("settle who was away", lambda: _first(desk, "away/", settle_together)),
        ]
        print(f"{'':<28}{'now':<36}  before\n{'job':<28}{TITLES}  {TITLES}")
        for name, job in jobs:
            desk.go("/")
            _measured(desk, name, job)
        desk.go("/")
        together, first = _taken(desk, lambda: decide_together(desk))
        (done, stuck), rest = _taken(desk, lambda: work_down(desk))
        _told("several together", first)
        for how, count in together.items():
            print(f"  {count:>4} {how}")
        _told("one by one", rest)
        for how, count in done.most_common():
            print(f"  {count:>4} {how}")
        for one in stuck:
            print(f"  no way out: {one}")
        decided = together.total() + done.total()
        _told("the week", first + rest)
        print(f"  {decided:>4} decisions")
        desk.go("/")
        _measured(desk, "hand over", lambda: hand_over(desk))
        print(page.locator("#before").locator("xpath=..").locator("tbody tr").first.inner_text().replace("\n", " "))
        desk.go("/")
        for part in page.locator("section.standing > div").all():
            print("Today:", " / ".join(part.inner_text().split("\n\n")))


OFFERED: dict[Callable[[Desk, Locator], None], str] = {
    add_punch: ".way-out form.adding[action$='/correct'] input[name=at]:not([value=''])",
    give_punches: "form[action$='/confirm']",
    put_on_round: "form[action='/round']",
    settle_together: AWAY,
}
"""What a case holds that offers a way out."""


def _first(desk: Desk, kind: str, act: Callable[[Desk, Locator], None]) -> None:
    """Do a job at the first case of a kind that offers it."""
    offering = desk.page.locator(f'details.case[data-case^="{kind}"]:has({OFFERED[act]})')
    if not offering.count():
        print(f"  no case of {kind} offers it")
        return
    case = desk.page.locator(f'details.case[data-case="{offering.first.get_attribute("data-case")}"]')
    desk.unfold(case)
    act(desk, case)
    expect(desk.page.locator("[role=status]").first).to_be_visible()


TITLES = f"{'clicks':>8}{'keys':>8}{'pages':>8}{'seconds':>9}"


def _measured(desk: Desk, name: str, job: Callable[[], T]) -> T:
    result, taken = _taken(desk, job)
    _told(name, taken)
    return result


def _taken(desk: Desk, job: Callable[[], T]) -> tuple[T, Taken]:
    desk.clicks = desk.keys = desk.pages = 0
    began = time.perf_counter()
    result = job()
    return result, Taken(desk.clicks, desk.keys, desk.pages, time.perf_counter() - began)


def _told(name: str, now: Taken) -> None:
    print(f"{name:<28}{_row(now)}" + (f"  {_row(BEFORE[name])}" if name in BEFORE else ""), flush=True)


def _row(taken: Taken) -> str:
    keys = "" if taken.keys is None else taken.keys
    seconds = "" if taken.seconds is None else f"{taken.seconds:.1f}"
    return f"{taken.clicks:>8}{keys:>8}{taken.pages:>8}{seconds:>9}"


@contextmanager
def served() -> Iterator[tuple[Page, str]]:
    """Yield a browser let in at the pages of the invented workplace, served by a program of its own."""
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        place = Path(sys.argv[1]) if len(sys.argv) > 1 else Path(folder) / "demo"
        run = [sys.executable, "-m", "evenhand"]
        if not place.exists():
            subprocess.run([*run, "demo", str(place), "--seed", SEED], check=True, capture_output=True)
        server = subprocess.Popen(
            [*run, "-w", str(place / "workspace"), "serve", "--port", "0", "--as-of", NOW],
            stdout=subprocess.PIPE,
            text=True,
            env=os.environ,
        )
        assert server.stdout is not None
        try:
            let_in = next(filter(None, (re.search(r"http://\S+/enter/\S+", line) for line in server.stdout)))[0]
            opened = playwright.chromium.launch(executable_path=shutil.which("chromium"))
            page = opened.new_page()
            page.set_default_timeout(WAIT_MS)
            page.clock.set_fixed_time(TAPPED)
            page.goto(let_in)
            yield page, let_in.partition("/enter")[0]
            opened.close()
        finally:
            server.terminate()


if __name__ == "__main__":
    main()
