"""Settings: what holds and by which source, changed by forms with a preview, and taken back."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from html import unescape
from pathlib import Path

import httpx
import pytest

from evenhand.jobs.workspace import open_workspace
from tests.web.conftest import MILL_AS_OF, serving

CHANGE = "/settings/change?table=site&site=Mill&look=yes"


@pytest.fixture
def client(mill_directory: Path, tmp_path: Path) -> Iterator[httpx.Client]:
    shutil.copytree(mill_directory, tmp_path / "workspace")
    with serving(open_workspace(tmp_path / "workspace"), MILL_AS_OF) as served, served.enter() as client:
        yield client


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "workspace" / "evenhand.toml"


def send(client: httpx.Client, page: str, to: str, **said: str) -> httpx.Response:
    """Send the form of a page that goes to an address, with what stands in it, and follow where it leads."""
    html = client.get(page).text
    form = re.search(rf'<form[^>]*method="post" action="{re.escape(to)}".*?</form>', html, re.DOTALL)
    assert form, html
    fields = re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)"', form[0])
    signed = {"author": "R. Hale", "reason": "agreed with the council"}
    data = {name: unescape(value) for name, value in fields} | signed | said
    return client.post(to, data=data, follow_redirects=True)


def test_the_page_shows_each_setting_with_its_source_and_each_site(client: httpx.Client) -> None:
    page = client.get("/settings").text
    assert "A punched gap this long or longer is an unpaid meal" in page
    assert "29 CFR 785.18, 785.19" in page
    assert '<a href="/settings/site/Mill">Mill</a>' in page
    assert "60 seconds" in page


def test_a_site_shows_the_rules_in_force_on_a_day_with_number_source_and_date(client: httpx.Client) -> None:
    page = client.get("/settings/site/Mill?on=2026-03-01").text.replace("\u00a0", " ")
    assert "What lies past the limit of the workweek is overtime." in page
    assert re.search(r"<strong>40 h</strong>.*?29 USC 207\(a\)\(1\)", page, re.DOTALL)
    assert re.search(r"<strong>7\.25 an hour</strong>.*?since Fri 24 Jul 2009", page, re.DOTALL)
    assert client.get("/settings/site/Nowhere").status_code == 404


def test_a_change_is_shown_before_it_is_made(client: httpx.Client, file: Path) -> None:
    before = file.read_bytes()
    page = client.get(f"{CHANGE}&rounding_minutes=0&zone=America/New_York").text
    assert "Nothing has been changed yet" in page
    assert "rounding_minutes = 15" in page
    # Tess Marrow's day of the mill: 7 h 43 min as punched, 7 h 45 min by the quarter hour
    assert "Marrow" in page
    assert file.read_bytes() == before


def test_a_change_is_made_told_and_taken_back(client: httpx.Client, file: Path) -> None:
    before = file.read_text()
    page = send(client, f"{CHANGE}&rounding_minutes=0", "/settings/change").text
    assert "evenhand.toml was changed by R. Hale" in page
    assert file.read_text() == before.replace("rounding_minutes = 15", "rounding_minutes = 0")
    listed = client.get("/settings").text
    back = re.findall(r'href="(/settings/changes/\d+/back)"', listed)[0]
    assert "“agreed with the council”" in listed
    assert "agreed with the council" in client.get(back).text
    page = send(client, back, back).text
    assert "was taken back by R. Hale" in page
    assert file.read_text() == before


def test_a_change_from_a_day_on_is_shown_with_the_site(client: httpx.Client) -> None:
    page = send(client, f"{CHANGE}&rounding_minutes=0&from=2026-03-11", "/settings/change").text.replace("\u00a0", " ")
    assert "Wed 11 Mar 2026 (from the workweek that begins on Sun 15 Mar 2026): Rounding: 0 minutes" in page


def test_what_was_changed_meanwhile_is_shown_again_first(client: httpx.Client, file: Path) -> None:
    page = f"{CHANGE}&rounding_minutes=0"
    html = client.get(page).text
    seen = re.findall(r'name="seen" value="([^"]+)"', html)[0]
    file.write_text(file.read_text() + "# by hand\n")
    answer = send(client, page, "/settings/change", seen=seen)
    assert "has changed since this was shown; nothing was written" in answer.text
    assert "rounding_minutes = 15" in file.read_text()


def test_a_change_that_cannot_be_says_why_and_offers_no_button(client: httpx.Client) -> None:
    page = client.get("/settings/change?table=policy&look=yes&meal_minutes=20").text
    assert "It cannot be written so" in page
    assert "would leave rest breaks of up to 20 minutes unpaid" in page
    assert "Change it</button>" not in page
    assert "is no number" in client.get("/settings/change?table=policy&look=yes&meal_minutes=x").text
    assert client.get("/settings/change?table=unheard&look=yes").status_code == 404


def test_the_whole_text_is_changed_with_a_preview_too(client: httpx.Client, file: Path) -> None:
    html = client.get("/settings/text").text
    token = re.findall(r'name="form_token" value="([^"]+)"', html)[0]
    text = file.read_text() + '\n[authors]\n"R. Hale" = "P1"\n'
    said = {"form_token": token, "file": "evenhand.toml", "text": text.replace("\n", "\r\n")}
    page = client.post("/settings/text", data={**said, "do": "look"}).text
    assert "Nothing has been changed yet" in page
    assert "[authors]" not in file.read_text()
    seen = re.findall(r'name="seen" value="([^"]+)"', page)[0]
    signed = {"author": "R. Hale", "reason": "so", "seen": seen, "do": "write"}
    page = client.post("/settings/text", data={**said, **signed}, follow_redirects=True).text
    assert "evenhand.toml was changed by R. Hale" in page
    assert file.read_text() == text


def test_settings_that_are_not_understood_can_be_put_right_on_the_page(client: httpx.Client, file: Path) -> None:
    text = file.read_text()
    file.write_text(text.replace("rounding_minutes = 15", "rounding_minutes = 7"))
    assert client.get("/hours").status_code == 409
    page = client.get("/settings")
    assert page.status_code == 200
    assert "rounding_minutes: found" in unescape(page.text)
    html = client.get("/settings/text").text
    token = re.findall(r'name="form_token" value="([^"]+)"', html)[0]
    said = {"form_token": token, "file": "evenhand.toml", "text": text}
    shown = client.post("/settings/text", data={**said, "do": "look"}).text
    seen = re.findall(r'name="seen" value="([^"]+)"', shown)[0]
    signed = {"author": "R. Hale", "reason": "a slip", "seen": seen, "do": "write"}
    client.post("/settings/text", data={**said, **signed})
    assert client.get("/hours").status_code == 200


def test_a_number_of_ones_own_is_put_in_the_place_of_the_laws(client: httpx.Client) -> None:
    page = "/settings/number?file=rules/us_federal/minimum_wage.toml&name=minimum_wage"
    assert "29 USC 206(a)(1)(C)" in client.get(page).text
    to = f"{page}&look=yes&from=2026-03-01&value=1700&cites=city+ordinance+12"
    send(client, to, "/settings/number")
    site = client.get("/settings/site/Mill?on=2026-03-02").text
    assert re.search(r"<strong>17\.00 an hour</strong>.*?city ordinance 12.*?your own", site, re.DOTALL)
    assert client.get("/settings/number?file=rules/us_federal/x.toml&name=minimum_wage").status_code == 404


COLUMNS = """
[handoff.columns]  # agreed with payroll
"Pers. no" = "person"
"Week" = "workweek"  # its first day
"Normal" = "ordinary_hours"
"Over" = "overtime_hours"
"Double" = "double_hours"
"Meal" = "meal_premium_hours"
"Rest" = "rest_premium_hours"
"""


def rows_of(html: str) -> list[tuple[str, str]]:
    listed = re.search(r'<form method="get" action="/settings/columns".*?</form>', html, re.DOTALL)
    assert listed, html
    return list(
        zip(
            *(re.findall(rf'name="{name}"[^>]*value="([^"]*)"', listed[0]) for name in ("header", "field")), strict=True
        )
    )


def press(client: httpx.Client, html: str, do: str, **said: str) -> str:
    """Press a button of the form of rows, with what stands in it but for a field of the last row."""
    listed = re.search(r'<form method="get" action="/settings/columns".*?</form>', html, re.DOTALL)
    assert listed, html
    assert f'value="{do}"' in listed[0]
    fields = [
        (name, unescape(value))
        for name, value in re.findall(r'<input[^>]*name="([a-z]+)"[^>]*value="([^"]*)"', listed[0])
    ]
    for name, value in said.items():
        last = max(at for at, one in enumerate(fields) if one[0] == name)
        fields[last] = (name, value)
    return client.get("/settings/columns", params=[*fields, ("do", do)]).text


def test_payrolls_columns_are_put_in_order_row_by_row_without_a_script(client: httpx.Client, file: Path) -> None:
    file.write_text(file.read_text() + COLUMNS)
    page = client.get("/settings/columns").text
    assert '<a href="/settings/columns">' in client.get("/settings").text
    assert [header for header, _ in rows_of(page)] == ["Pers. no", "Week", "Normal", "Over", "Double", "Meal", "Rest"]
    page = press(client, page, "up-2")
    page = press(client, page, "down-0")
    page = press(client, page, "add")
    assert rows_of(page)[:3] == [("Normal", "ordinary_hours"), ("Pers. no", "person"), ("Week", "workweek")]
    lacking = press(client, page, "look", header="Name")
    assert "nothing is said to stand in this column" in lacking
    assert rows_of(lacking)[-1] == ("Name", "")  # what was typed stays
    unknown = press(client, page, "look", header="Name", field="nickname")
    assert rows_of(unknown)[-1] == ("Name", "nickname")
    assert "How the file would begin" in unknown
    assert "nickname" in unknown.split('id="begins"')[1]
    looked = press(client, page, "look", header="Name", field="name")
    assert "Normal,Pers. no,Week,Over,Double,Meal,Rest,Name" in looked
    assert "Tess Marrow" in looked.split('id="begins"')[1]
    form = re.search(r'<form class="sign".*?</form>', looked, re.DOTALL)
    assert form
    sent: dict[str, list[str]] = {}
    for name, value in re.findall(r'<input type="hidden" name="([a-z_]+)" value="([^"]*)"', form[0]):
        sent.setdefault(name, []).append(unescape(value))
    done = client.post("/settings/columns", data=sent | {"author": "R. Hale", "reason": "as payroll asked"})
    assert (done.status_code, done.headers["location"]) == (303, "/settings")
    assert file.read_text().endswith(
        '[handoff.columns]  # agreed with payroll\n"Normal" = "ordinary_hours"\n"Pers. no" = "person"\n'
        '"Week" = "workweek"  # its first day\n"Over" = "overtime_hours"\n"Double" = "double_hours"\n'
        '"Meal" = "meal_premium_hours"\n"Rest" = "rest_premium_hours"\nName = "name"\n'
    )
    out = press(client, client.get("/settings/columns").text, "out-7")
    assert [header for header, _ in rows_of(out)][-1] == "Rest"
    assert client.get("/settings/columns?payroll=nobody").status_code == 404
    assert client.get("/settings/columns?do=look&header=A").status_code == 400
