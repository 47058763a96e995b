"""Where a workplace goes by clocks of two zones every time names its own, on every page and in every command."""

from __future__ import annotations

import re
from collections import deque
from collections.abc import Iterator
from datetime import UTC, date, datetime
from html import unescape
from urllib.parse import urldefrag, urljoin

import httpx
import pytest
from click.testing import CliRunner

from evenhand.cli import evenhand
from evenhand.jobs.workspace import create_workspace
from evenhand.terms.settings import PayPeriod
from tests.web.conftest import Served, serving, taken
from tests.web.pages.test_every_link import kind_of

FIRST, AS_OF = date(2026, 2, 1), datetime(2026, 2, 16, 13, 41, tzinfo=UTC)
# A quarry and its quay, two hours apart (IANA time zone database); all that is punched is punched at 41 past.
QUARRY = {
    "readers.csv": (
        "reader,site,place,zone,max digits,capacity\n"
        "PIT-1,Pit,Gate,America/Denver,4,50\nPIT-2,Pit,Crusher,America/Denver,4,50\n"
        "QUAY-1,Quay,Crane,America/New_York,4,50\n"
    ),
    "people.csv": (
        "person,name,number,site,supervisor\n"
        "P1,Odo Wexley,4101,Pit,yes\nP2,Hale Tunnock,4102,Pit,no\nP3,Una Brise,4103,Quay,yes\n"
        "P4,Ruth Calder,4104,Quay,no\nP5,Mina Thorley,4105,Quay,no\n"
    ),
    "enrolled.csv": (
        "reader,number,name,supervisor,enrolled on,presentations\n"
        "PIT-1,4101,WEXLEY,yes,2026-01-05,3\nPIT-1,4102,TUNNOCK,no,2026-01-05,3\n"
        "QUAY-1,4103,BRISE,yes,2026-01-05,3\nQUAY-1,4104,CALDER,no,2026-01-05,3\n"
    ),
    "punches.csv": "reader,number,time,direction\n"
    + "".join(
        f"{reader},{number},2026-02-{day:02d} {at}:41:00,{way}\n"
        for day in range(2, 14)
        for reader, number in (("PIT-1", "4101"), ("PIT-1", "4102"), ("QUAY-1", "4103"), ("QUAY-1", "4140"))
        for at, way in (("07", "in"), ("15", "out"))
        if (number, day, way) not in {("4102", 4, "out"), ("4102", 11, "out")}
    ),
}
WHEN = ("--as-of", AS_OF.isoformat())
DECIDED = (
    ("correct", "add", "P2", "--at", "2026-02-04T15:41", "--direction", "out", "--reason", "seen there", "--yes"),
    ("settle", "rules_assumed/Pit", "--reason", "they bind", *WHEN),
    ("enrol", "plan", "2026-02-17", "--from", "08:41", "--search-seconds", "1", *WHEN),
)
SHOWN = (
    ("today", *WHEN),
    ("today", "--findings", *WHEN),
    ("hours", "why", "P2", "2026-02-04"),
    ("ledger",),
    ("ledger", "decisions"),
    ("people", *WHEN),
    ("readers", *WHEN),
    ("supervisors", *WHEN),
    ("strays", *WHEN),
    ("missing", "list", *WHEN),
    ("settled",),
    ("enrol", "show", "2026-02-17-1", *WHEN),
)
"""What commands tell of times, each in words of its own."""
PAGES = (
    *("/", "/hand-off", "/hours/P2/2026-02-04", "/ledger", "/ledger/decisions", "/missing", "/strays"),
    *("/people/P1", "/readers/PIT-1", "/numbers/4102", "/rounds/2026-02-17-1/PIT-2", "/settled", "/files"),
)
"""Pages of each sort on which times stand."""
TIME = re.compile(
    r"(?:\b\d\d:41|(?:\d{4}|\d [A-Za-z]{3,4}), \d\d:\d\d)(?::\d\d)?\b(?! (?:M[SD]T|E[SD]T|UTC|\([A-Z]))[^<\n]{0,40}"
)
"""A time without its zone: one at which something is punched or planned here, or one that stands behind a day."""


@pytest.fixture(scope="module")
def quarry(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    folder = tmp_path_factory.mktemp("quarry")
    workspace = create_workspace(
        folder / "w", "Hollow Quarry", "America/Denver", period=PayPeriod(FIRST), is_invented=True
    )
    for name, text in QUARRY.items():
        (folder / name).write_text(text)
    taken(workspace, [folder / name for name in QUARRY])
    with workspace.settings_file.open("a") as settings:
        settings.write("\n[consent]\nrequired = false\n")
    for words in DECIDED:
        done = CliRunner().invoke(evenhand, ["-w", str(folder / "w"), *words, "--author", "Odo Wexley"])
        assert done.exit_code == 0, done.output
    with serving(workspace, AS_OF) as served:
        yield served


def told_on(html: str) -> str:
    """Return what a page tells in words: what is put into fields, and marked on a picture's axis, is none of it."""
    body = html.partition("<main")[2].partition("</main>")[0]
    return unescape(re.sub(r"<(?:script|style).*?</(?:script|style)>|<input[^>]*>|<[^>]*>", "\n", body, flags=re.S))


def crawled(client: httpx.Client) -> Iterator[tuple[str, str]]:
    """Yield the pages that the pages' own links lead to, one of a kind, each with what it tells."""
    base = str(client.base_url).rstrip("/")
    waiting, kinds = deque(["/"]), set[tuple[str, ...]]()
    while waiting:
        address = waiting.popleft()
        if kind_of(address) in kinds or "speak=" in address:
            continue
        kinds.add(kind_of(address))
        answer = client.get(address)
        if "text/html" not in answer.headers.get("content-type", ""):
            continue
        yield address, told_on(answer.text)
        for link in map(unescape, re.findall(r'<a [^>]*href="([^"]+)"', answer.text)):
            to, _ = urldefrag(urljoin(base + address, link))
            if to.startswith(base + "/"):
                waiting.append(to.removeprefix(base))


@pytest.mark.parametrize("language", ["en", "es"])
def test_every_time_on_every_page_names_its_zone(quarry: Served, language: str) -> None:
    with quarry.enter() as client:
        client.get(f"/?speak={language}")
        # what a file says, which is to be read again, is shown as it stands there
        told = {address: text for address, text in crawled(client) if not address.endswith("/again")}
        told |= {address: told_on(client.get(address).text) for address in PAGES}
        listed = client.get("/missing/list.csv").text
    assert {address: bare for address, text in told.items() if (bare := TIME.findall(text))} == {}
    assert {address for address in PAGES if not re.search(r"\d\d:\d\d (?:MST|EST)", told[address])} == set()
    assert len(told) > 60
    assert ",America/Denver," in listed


@pytest.mark.parametrize("language", ["en", "es"])
def test_every_time_that_a_command_tells_names_its_zone(quarry: Served, language: str) -> None:
    wrong, silent = {}, []
    for words in SHOWN:
        answer = CliRunner().invoke(evenhand, ["-w", str(quarry.workspace.directory), "--speak", language, *words])
        assert answer.exit_code in (0, 1), (words, answer.output)
        if bare := TIME.findall(answer.output):
            wrong[words] = bare
        if not re.search(r"\d\d:\d\d (?:MST|EST|\(America)", answer.output):
            silent.append(words[0])
    assert wrong == {}
    assert silent == []


@pytest.mark.parametrize("language", ["en", "es"])
def test_where_all_clocks_are_of_one_zone_no_time_names_it(mill: Served, language: str) -> None:
    with mill.enter() as client:
        client.get(f"/?speak={language}")
        told = dict(crawled(client))
    assert len(told) > 60
    # clocks went forward on Sunday 8 March 2026 (15 USC 260a), whose times say by which they are told
    letters = re.compile(r"\d\d:\d\d E[SD]T\b")
    assert {address for address, text in told.items() if letters.search(text.replace("Sun 8 Mar", ""))} == set()
