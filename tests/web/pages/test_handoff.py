"""The hand-off waits for what blocks it, and gives away the files it wrote and no others."""

from __future__ import annotations

import csv
import io
import re
import shutil
from collections.abc import Callable, Iterator
from datetime import UTC, date, datetime
from decimal import Decimal
from pathlib import Path

import httpx
import pytest

from evenhand.jobs.handoff import hand_off, settle_closed
from evenhand.jobs.reckoning import reckon_period
from evenhand.jobs.workspace import Workspace, open_workspace
from tests.web.conftest import MILL_AS_OF, copied, serving, taken
from tests.web.pages.test_hours import text_of


def test_the_files_are_written_despite_findings_only_where_it_is_said(
    at_mill: httpx.Client, form_token: Callable[[httpx.Client], str]
) -> None:
    form = {"author": "R. Hale", "form_token": form_token(at_mill)}
    blocked = at_mill.post("/hand-off", data=form)
    assert blocked.status_code == 409
    assert "from payroll" in blocked.text
    assert at_mill.get("/hand-off/1/.csv").status_code == 404

    written = at_mill.post("/hand-off", data=form | {"despite": "yes"})
    assert (written.status_code, written.headers["location"]) == (303, "/hand-off")
    answer = at_mill.get("/hand-off/1/.csv")
    assert answer.headers["content-type"].startswith("text/csv")
    rows = list(csv.DictReader(io.StringIO(answer.content.decode("utf-8-sig"))))
    # Tess Marrow's only day is the 7 h 45 min reckoned for the day's page: 7.75 hours.
    assert [row["Ordinary hours"] for row in rows if row["Name"] == "Tess Marrow"] == ["7.75"]
    assert at_mill.get("/hand-off/1/-note.txt").text.startswith("Mill & Sons")
    assert at_mill.get("/hand-off/1/.xlsx").content[:2] == b"PK"


def test_no_other_file_is_given_away(at_mill: httpx.Client) -> None:
    for form in ("../evenhand.toml", "..%2Fevenhand.toml", ".sqlite", ""):
        assert at_mill.get(f"/hand-off/1/{form}").status_code == 404


@pytest.fixture
def own_mill(
    mill_directory: Path, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[tuple[httpx.Client, Workspace]]:
    """A browser let in at a mill of the test's own, whose settings it changes."""
    workspace = copied(mill_directory, tmp_path_factory)
    with serving(workspace, MILL_AS_OF) as served, served.enter() as client:
        yield client, workspace


def settings_of(workspace: Workspace, text: str) -> None:
    with workspace.settings_file.open("a", encoding="utf-8") as file:
        file.write(text)


def test_the_page_shows_control_totals_that_the_written_file_adds_up_to(
    own_mill: tuple[httpx.Client, Workspace], form_token: Callable[[httpx.Client], str]
) -> None:
    client, _ = own_mill
    page = client.get("/hand-off").text
    client.post("/hand-off", data={"author": "R. Hale", "despite": "yes", "form_token": form_token(client)})
    content = client.get("/hand-off/1/.csv").content.decode("utf-8-sig")
    rows = list(csv.DictReader(io.StringIO(content)))
    for column in ("Ordinary hours", "Overtime hours", "Double-time hours"):
        total = sum(Decimal(row[column]) for row in rows)
        shown = re.search(rf'<th scope="row">{column}</th>.*?As printed" class="amount">([\d.]+)</td>', page)
        assert shown is not None, column
        assert Decimal(shown[1]) == total
    together = re.search(r'Worked time, together</th><td class="amount">([\d.]+)</td>', page)
    assert together is not None
    columns = ("Ordinary hours", "Overtime hours", "Double-time hours")
    assert Decimal(together[1]) == sum(Decimal(row[column]) for row in rows for column in columns)


def test_what_the_columns_leave_out_is_said_before_anything_is_written(
    own_mill: tuple[httpx.Client, Workspace], form_token: Callable[[httpx.Client], str]
) -> None:
    client, workspace = own_mill
    settings_of(workspace, '\n[handoff.columns]\n"Who" = "person"\n"Over" = "overtime_hours"\n')
    page = client.get("/hand-off").text
    assert "No file can be written yet" in page
    assert "ordinary time" in page
    assert "add &#34;ordinary_hours&#34;" in page
    assert "Write the files for payroll</button>" not in page
    form = {"author": "R. Hale", "despite": "yes", "form_token": form_token(client)}
    assert client.post("/hand-off", data=form).status_code == 409
    assert list(workspace.handoff.iterdir()) == []


DEFINITION = """
[payroll.mill]
delimiter = ";"

[payroll.mill.codes]
ordinary_hours = "100"
overtime_hours = "120"
double_hours = "130"

[[payroll.mill.column]]
header = "Who"
field = "person"

[[payroll.mill.column]]
header = "Code"
field = "code"

[[payroll.mill.column]]
header = "Time"
field = "hours"
"""


def test_a_sample_is_held_against_the_definition_and_the_files_are_named_by_it(
    own_mill: tuple[httpx.Client, Workspace], form_token: Callable[[httpx.Client], str]
) -> None:
    client, workspace = own_mill
    settings_of(workspace, DEFINITION)
    assert "100 <span" in client.get("/hand-off").text
    form = {"form_token": form_token(client)}
    sample = {"file": ("<b>old.csv", b"Who;Code;Time\r\nA;177;8:00\r\n")}
    page = client.post("/hand-off/check", data=form, files=sample)
    assert page.status_code == 200
    assert "&lt;b&gt;old.csv" in page.text
    assert "unknown codes &#34;177&#34;" in page.text
    assert "hours:minutes: &#34;8:00&#34;" in page.text
    assert client.post("/hand-off/check", data=form).status_code == 400
    written = form | {"author": "R. Hale", "despite": "yes"}
    assert client.post("/hand-off", data=written).status_code == 303
    names = {path.name for path in workspace.handoff.iterdir()}
    [text] = [name for name in names if name.endswith("-mill.csv")]
    for name in names:
        assert f'href="/hand-off/1/{name}"' in client.get("/hand-off").text
        assert client.get(f"/hand-off/1/{name}").status_code == 200
    again = {"file": (text, client.get(f"/hand-off/1/{text}").content)}
    assert "Nothing differs" in client.post("/hand-off/check", data=form, files=again).text


HEADER = "reader,number,time,direction\n"
LATE = "MILL-1,4101,2026-03-04 08:00:00,in\nMILL-1,4101,2026-03-04 10:00:20,out\n"
# Three days whose hundredths, rounded one by one, are not the hundredths of their sum.
NEXT = "".join(
    f"MILL-1,{number},2026-03-{day} 08:00:00,in\nMILL-1,{number},2026-03-{day} 16:00:{seconds:02},out\n"
    for number, seconds in ((4101, 19), (4102, 19), (4103, 20))
    for day in ("09", "10", "11", "12", "13", "14")
)


def test_tiles_and_printed_figures_add_up_to_the_file_with_what_it_carries_of_earlier_periods(
    mill_directory: Path, tmp_path_factory: pytest.TempPathFactory, form_token: Callable[[httpx.Client], str]
) -> None:
    workspace, folder = copied(mill_directory, tmp_path_factory), tmp_path_factory.mktemp("later")
    unrounded = workspace.settings_file.read_text(encoding="utf-8").replace(
        "rounding_minutes = 15", "rounding_minutes = 0"
    )
    workspace.settings_file.write_text(unrounded, encoding="utf-8")
    hand_off(workspace, reckon_period(workspace, MILL_AS_OF), as_of=MILL_AS_OF, despite=True, author="R. Hale")
    for name, text in (("late.csv", LATE), ("next.csv", NEXT)):
        (folder / name).write_text(HEADER + text)
        taken(workspace, [folder / name])
    later = datetime(2026, 3, 16, 13, tzinfo=UTC)
    said = {"way": "adjust", "author": "R. Hale", "reason": "found in a drawer"}
    settle_closed(workspace, reckon_period(workspace, later), date(2026, 3, 2), **said, as_of=later)
    with serving(workspace, later) as served, served.enter() as client:
        page = client.get("/hand-off").text
        form = {"author": "R. Hale", "despite": "yes", "form_token": form_token(client)}
        assert client.post("/hand-off", data=form).status_code == 303
        content = client.get("/hand-off/2/.csv").content.decode("utf-8-sig")
    rows = list(csv.DictReader(io.StringIO(content)))
    carried = [row for row in rows if row["Week of"] < "2026-03-08"]
    assert [row["Name"] for row in carried] == ["Tess Marrow"]
    for column in ("Ordinary hours", "Overtime hours"):
        total, adjusting = (sum(Decimal(row[column]) for row in some) for some in (rows, carried))
        shown = re.search(rf'<th scope="row">{column}</th>(.*?)</tr>', page)
        assert shown is not None, column
        _, of_period, of_earlier, printed = re.findall(r'class="amount">([^<]+)</td>', shown[1])
        assert [Decimal(one) for one in (of_period, of_earlier, printed)] == [total - adjusting, adjusting, total]
    # The tile of the period's time and what the file adjusts are the exact time behind the file, to the second.
    for name, tile in (("Ordinary", "Ordinary, of the period"), ("Overtime", "Overtime, of the period")):
        said_by_tile = re.search(rf"<dt>{tile}</dt><dd>([^<]+)</dd>", page)
        line = re.search(rf'<tr><th scope="row">{name}</th>(.*?)</tr>', page)
        exact = re.search(
            rf'<th scope="row">{name} hours</th><td data-label="Exactly" class="amount">([^<]+)</td>', page
        )
        assert said_by_tile is not None
        assert line is not None
        assert exact is not None
        of_period, elsewhere, adjusting_s, in_file = re.findall(r'class="amount">(?:<strong>)?([^<]+)', line[1])
        assert seconds_of(of_period) == spelled_seconds(said_by_tile[1])
        assert seconds_of(of_period) + seconds_of(elsewhere) + seconds_of(adjusting_s) == seconds_of(in_file)
        assert in_file == exact[1]
    said_of = text_of(page)
    assert "What it carries of earlier periods Sun 1 to Sat 7 Mar 2026: ordinary time +2:00:20 h" in said_of
    assert "“found in a drawer”, R. Hale Tess Marrow : Wed 4 Mar: ordinary time +2:00:20 h" in said_of
    assert "A later period's file carries" not in said_of


def seconds_of(figures: str) -> int:
    """Return seconds of hours as figures write them, such as 8:05 or +2:00:20; none for "none"."""
    if figures == "none":
        return 0
    parts = [int(one) for one in figures.lstrip("+−").split(":")]
    seconds = sum(one * unit for one, unit in zip(parts, (3600, 60, 1), strict=False))
    return -seconds if figures.startswith("−") else seconds


def spelled_seconds(text: str) -> int:
    """Return seconds of a duration as tiles spell it: 1,024 h 05 min 12 s."""
    units = {"h": 3600, "min": 60, "s": 1}
    found = re.findall(r"([\d,]+)\s(h|min|s)\b", text.replace("\u00a0", " "))
    return sum(int(number.replace(",", "")) * units[unit] for number, unit in found)


def test_a_period_that_payroll_no_longer_waits_for_is_handed_off_from_its_own_page(
    mill_directory: Path, tmp_path: Path
) -> None:
    shutil.copytree(mill_directory, tmp_path / "workspace")
    later = datetime(2026, 3, 17, 13, tzinfo=UTC)
    with serving(open_workspace(tmp_path / "workspace"), later) as served, served.enter() as client:
        now = client.get("/hand-off").text
        assert "Sun 8 to Sat 14 Mar 2026" in now
        assert 'rel="prev" href="/hand-off?period=2026-03-01"' in now
        page = client.get("/hand-off?period=2026-03-04").text
        assert "Sun 1 to Sat 7 Mar 2026" in page
        assert "has ended and was not handed off" in page
        assert 'rel="next" href="/hand-off"' in page
        token = re.findall(r'name="form_token" value="([^"]+)"', page)[0]
        said = {"form_token": token, "author": "R. Hale", "despite": "yes", "period": "2026-03-01"}
        client.post("/hand-off", data=said)
        assert (tmp_path / "workspace" / "handoff" / "hours-2026-03-01-to-2026-03-07.csv").is_file()
        assert "This period was handed off" in client.get("/hand-off?period=2026-03-01").text
        assert "has not begun yet" in client.get("/hand-off?period=2027-03-01").text
