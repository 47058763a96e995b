"""Hours read as the mill's clerk reckons them, and corrections change what they say they change."""

from __future__ import annotations

import html
import re
import shutil
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import httpx
import pytest
from click.testing import CliRunner

from evenhand.cli import evenhand
from evenhand.jobs.workspace import SETTINGS_FILE, open_workspace
from evenhand.store import frames
from evenhand.store.settings import read_settings
from evenhand.store.settings_text import write_settings
from evenhand.terms.settings import SiteRules
from tests.web.conftest import MILL_AS_OF, Served, copied, serving, taken

DAY = "/hours/P1/2026-03-02"


def text_of(page: str) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", page)).replace("\u00a0", " ")


def test_a_day_adds_up_from_punch_to_pay(at_mill: httpx.Client) -> None:
    # 07:53 to 12:00 is 4 h 07; 12:32 to 16:08 is 3 h 36: 7 h 43 recorded. To the nearest quarter hour 07:53 becomes
    # 08:00 (7 min less), 12:32 becomes 12:30 (2 min more), 16:08 becomes 16:15 (7 min more): 7 h 45 paid.
    # Source of the rounding: 29 CFR 785.48(b).
    page = text_of(at_mill.get(DAY).text)
    assert "Recorded 7 h 43 min" in page
    assert re.search(r"29 CFR 785\.48\(b\) \u2212 7 min", page)
    assert re.search(r"29 CFR 785\.48\(b\) \+ 2 min", page)
    assert re.search(r"29 CFR 785\.48\(b\) \+ 7 min", page)
    assert "Paid: 7 h 43 min recorded + 2 min by rules 7 h 45 min" in page
    assert "07:53 in, MILL-1" in page
    assert "32 min unpaid" not in page  # the gap is drawn between paid spans, from 12:00 to 12:30
    assert "30 min unpaid" in page


def test_the_days_of_a_week_add_up_to_the_week(at_mill: httpx.Client) -> None:
    page = text_of(at_mill.get("/hours/P1?week=2026-03-02").text)
    assert "Recorded 7 h 43 min" in page
    assert "By rules + 2 min" in page
    assert "Paid 7 h 45 min" in page
    assert page.count("no punches") == 6


def test_everybodys_week_lists_who_has_no_hours_too(at_mill: httpx.Client) -> None:
    page = text_of(at_mill.get("/hours?week=2026-03-04").text)
    assert "Week of Sun 1 to Sat 7 Mar 2026" in page
    assert "Joss Fenn P4" in page
    found = text_of(at_mill.get("/hours?week=2026-03-04&q=marrow").text)
    assert "Tess Marrow" in found
    assert "Bram Ostler" not in found


def test_the_week_that_payroll_waits_for_comes_first(at_mill: httpx.Client) -> None:
    assert "Week of Sun 1 to Sat 7 Mar 2026" in text_of(at_mill.get("/hours").text)


def test_every_page_that_states_hours_says_that_it_is_no_legal_advice(at_mill: httpx.Client) -> None:
    for place in ("/", "/people", "/people/P1", "/hours", "/hours/P1", DAY, "/hand-off"):
        page = text_of(at_mill.get(place).text)
        assert "not legal advice: local codes, agreements and licensed counsel decide" in page, place


def test_a_correction_is_seen_before_it_is_made_and_made_only_when_signed(
    mill: Served, at_mill: httpx.Client, form_token: Callable[[httpx.Client], str]
) -> None:
    assert "The punch at 07:00 begins something that nothing ended" in text_of(at_mill.get("/hours/P2/2026-03-02").text)
    asked = {"action": "add", "on": "2026-03-02", "at": "15:00", "direction": "out"}
    preview = text_of(at_mill.get("/hours/P2/2026-03-02/correct", params=asked).text)
    # Tuesday's eight hours are paid already; Monday's 07:00 to 15:00 are eight more.
    assert "Nothing has been changed yet" in preview
    assert re.search(r"Paid 8 h .*16 h .*\+ 8 h", preview)
    with mill.workspace.store.reading() as conn:
        assert frames.corrections(conn).height == 0

    unsigned = at_mill.post("/hours/P2/2026-03-02/correct", data=asked | {"form_token": form_token(at_mill)})
    assert unsigned.status_code == 400
    assert "Say who makes the correction; nothing was changed." in unsigned.text

    signed = asked | {"form_token": form_token(at_mill), "author": "R. Hale", "reason": "seen leaving by the foreman"}
    made = at_mill.post("/hours/P2/2026-03-02/correct", data=signed)
    assert (made.status_code, made.headers["location"]) == (303, "/hours/P2/2026-03-02")
    page = text_of(at_mill.get("/hours/P2/2026-03-02").text)
    assert "Correction 1 made by R. Hale: paid time + 8 h." in page
    assert "15:00 punch added, out: “seen leaving by the foreman” correction 1, R. Hale" in page
    assert "Open questions" not in page
    assert "Correction 1 made" not in text_of(at_mill.get("/hours/P2/2026-03-02").text)


@pytest.mark.parametrize(
    ("answers", "status", "sentence"),
    [
        ({}, 400, "Say what is to be corrected"),
        ({"action": "erase"}, 400, "is no correction"),
        ({"action": "add", "on": "2026-03-02", "at": "late"}, 400, "is no time; write it as"),
        ({"action": "add", "on": "2026-03-08", "at": "02:30"}, 400, "skipped 02:30 on Sun 8 Mar"),
        ({"action": "add", "on": "2026-11-01", "at": "01:30"}, 400, "showed 01:30 twice on Sun 1 Nov"),
        ({"action": "add", "on": "2026-03-02", "at": "15:00", "direction": "up"}, 400, "goes in or out"),
        ({"action": "add", "on": "2026-04-02", "at": "15:00", "direction": "out"}, 409, "lies in the future"),
        ({"action": "leave_out", "punch": "some"}, 400, "is no punch"),
        ({"action": "leave_out", "punch": "--5"}, 400, "is no punch"),
        ({"action": "leave_out", "punch": "\u00b2"}, 400, "is no punch"),
        ({"action": "leave_out", "punch": "9" * 20}, 400, "is no punch"),
        ({"action": "leave_out", "punch": "999"}, 409, "999"),
        ({"action": "direct", "punch": "1"}, 400, "Say which way the punch went"),
    ],
)
def test_a_correction_that_cannot_be_made_says_why(
    at_mill: httpx.Client, answers: dict[str, str], status: int, sentence: str
) -> None:
    # On 8 March 2026 clocks in New York went from 02:00 to 03:00, on 1 November 2026 from 02:00 back to 01:00.
    # Source: IANA time zone database, 15 USC 260a.
    answer = at_mill.get("/hours/P2/2026-03-02/correct", params=answers)
    assert answer.status_code == status
    assert sentence in text_of(answer.text)


def test_a_punch_can_be_left_out_and_its_day_says_so(
    mill: Served, at_mill: httpx.Client, form_token: Callable[[httpx.Client], str]
) -> None:
    day = at_mill.get("/hours/P3/2026-03-02").text
    punch = re.search(r'<option value="(\d+)">17:00 out', day)
    assert punch
    signed = {"action": "leave_out", "punch": punch[1], "author": "R. Hale", "reason": "another hand"}
    made = at_mill.post("/hours/P3/2026-03-02/correct", data=signed | {"form_token": form_token(at_mill)})
    assert made.status_code == 303
    page = text_of(at_mill.get("/hours/P3/2026-03-02").text)
    assert "paid time \u2212 8 h" in page
    told = re.search(r"17:00 punch left out: “another hand” correction (\d+), R\. Hale", page)
    assert told
    first = int(told[1])
    # what was left out is put back from the same page, and that is taken back too
    for number, button, moved in ((first, "Put the punch back", "+ 8 h"), (first + 1, "Put it back", "\u2212 8 h")):
        assert f"{button} : correction {number}" in page
        asked = {"action": "withdraw", "correction": str(number)}
        seen = text_of(at_mill.get("/hours/P3/2026-03-02/correct", params=asked).text)
        assert f"Take back correction {number} (" in seen
        signed = asked | {"form_token": form_token(at_mill), "author": "R. Hale", "reason": "it was hers"}
        assert at_mill.post("/hours/P3/2026-03-02/correct", data=signed).status_code == 303
        page = text_of(at_mill.get("/hours/P3/2026-03-02").text)
        assert f"paid time {moved}" in page
    assert f"taken back by correction {first + 2}" in page
    assert f"taken back by correction {first + 1}" not in page  # since that is taken back itself
    again = at_mill.get("/hours/P3/2026-03-02/correct", params={"action": "withdraw", "correction": f"{first + 1}"})
    assert (again.status_code, "is taken back already" in text_of(again.text)) == (409, True)


def test_double_time_is_counted_and_drawn_beside_the_other_classes(
    mill_directory: Path, tmp_path_factory: pytest.TempPathFactory
) -> None:
    # Thirteen hours in one workday: 8 ordinary, 4 at one and a half, 1 at twice the regular rate.
    # Source: California Labor Code section 510(a).
    directory = Path(shutil.copytree(mill_directory, tmp_path_factory.mktemp("west") / "workspace"))
    settings = read_settings(directory / SETTINGS_FILE)
    rules = SiteRules("Mill", "America/New_York", jurisdiction="california")
    write_settings(directory / SETTINGS_FILE, replace(settings, sites={"Mill": rules}))
    log = directory.parent / "long.csv"
    log.write_text(
        "reader,number,time,direction\nMILL-1,4104,2026-03-05 06:00:00,in\nMILL-1,4104,2026-03-05 19:00:00,out\n"
    )
    workspace = open_workspace(directory)
    taken(workspace, [log])
    with serving(workspace, MILL_AS_OF) as served, served.enter() as client:
        day = client.get("/hours/P4/2026-03-05").text
        for kind, paid in (("ordinary", "8 h"), ("overtime", "4 h"), ("double time", "1 h")):
            assert f"of which {kind} {paid}" in text_of(day)
        assert 'fill="url(#crossed)"' in day
        for place in ("/hours/P4", "/hours", "/people/P4", "/hand-off"):
            assert "Double time" in client.get(place).text, place
        assert "Paid 13 h" in text_of(client.get("/hours/P4").text)
        assert "13 h 00" in text_of(client.get("/people?q=fenn").text)


def test_an_hour_for_a_meal_on_a_day_that_lacks_a_punch_says_so_in_plain_words(
    mill_directory: Path, tmp_path_factory: pytest.TempPathFactory
) -> None:
    # Six hours to the first pause: an hour is presumed (Labor Code 512(a), 226.7(c)). Whether the shift ends after the
    # pause, or the pause was no meal, the missing punch tells.
    workspace = copied(mill_directory, tmp_path_factory)
    rules = SiteRules("Mill", "America/New_York", jurisdiction="california")
    write_settings(workspace.settings_file, replace(workspace.settings, sites={"Mill": rules}))
    log = tmp_path_factory.mktemp("open") / "open.csv"
    log.write_text(
        "reader,number,time,direction\nMILL-1,4104,2026-03-05 08:00:00,in\nMILL-1,4104,2026-03-05 14:00:00,out\n"
        "MILL-1,4104,2026-03-05 14:20:00,in\n"
    )
    taken(workspace, [log])
    meal = (
        "A punch of this day is missing, and it may be one of a meal. As the punches stand an hour for it is owed; add"
    )
    asked = "The punch at 14:20 begins something that nothing ended. When did it end?"
    with serving(workspace, MILL_AS_OF) as served, served.enter() as client:
        page = text_of(client.get("/hours/P4/2026-03-05").text)
        whole = text_of(client.get("/hours/P1/2026-03-02").text)
    assert meal in page
    assert asked in page
    assert meal not in whole
    told = CliRunner().invoke(evenhand, ["-w", str(workspace.directory), "hours", "why", "P4", "2026-03-05"])
    assert f"Open: {asked}" in told.output
    assert meal in told.output


def test_on_a_day_whose_offset_changes_every_time_says_by_which_it_is_told(
    mill_directory: Path, tmp_path_factory: pytest.TempPathFactory
) -> None:
    # Clocks went from 02:00 EST to 03:00 EDT on 8 March 2026 (15 USC 260a): from 01:37 to 03:30 are 53 minutes.
    workspace = copied(mill_directory, tmp_path_factory)
    night = workspace.directory.parent / "night.csv"
    night.write_text(
        "reader,number,time,direction\nMILL-1,4104,2026-03-08 01:37:00,in\nMILL-1,4104,2026-03-08 03:30:00,out\n"
    )
    taken(workspace, [night])
    with serving(workspace, MILL_AS_OF) as served, served.enter() as client:
        page = text_of(client.get("/hours/P4/2026-03-08").text)
        another_day = text_of(client.get(DAY).text)
    assert "Recorded from 01:37 EST to 03:30 EDT" in page
    assert "01:37 EST in, MILL-1" in page
    assert "start at 2026-03-08 01:37 EST counts as 2026-03-08 01:30 EST" in page  # to the quarter hour
    assert "Recorded 53 min" in page
    assert "EST" not in another_day


def hidden(page: str) -> dict[str, str]:
    """What the confirming page's form sends besides who and why."""
    return dict(re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)">', page))


def test_of_two_who_correct_a_persons_week_from_their_previews_the_second_is_told(
    mill_directory: Path, tmp_path_factory: pytest.TempPathFactory
) -> None:
    def previewed(client: httpx.Client, at: str, day: str = "/hours/P4/2026-03-04") -> httpx.Response:
        asked = {"action": "add", "on": day[-10:], "at": at, "direction": "in"}
        return client.get(f"{day}/correct", params=asked)

    def sent(
        client: httpx.Client, form: dict[str, str], author: str, day: str = "/hours/P4/2026-03-04"
    ) -> httpx.Response:
        return client.post(f"{day}/correct", data=form | {"author": author, "reason": "forgot"})

    with serving(copied(mill_directory, tmp_path_factory), MILL_AS_OF) as served, served.enter() as his:
        early, colleagues = hidden(previewed(his, "05:00").text), hidden(previewed(his, "07:00").text)
        others = hidden(previewed(his, "06:00", "/hours/P1/2026-03-04").text)
        week_before = hidden(previewed(his, "06:00", "/hours/P4/2026-02-25").text)
        assert early["last_seen"] == "0"
        assert sent(his, colleagues, "Zoe").status_code == 303

        told = sent(his, early, "R. Hale")
        assert told.status_code == 409
        assert (
            "Zoe has corrected P4's 4 March meanwhile; nothing was changed, look at the day again."
        ) in html.unescape(text_of(told.text))
        with served.workspace.store.reading() as conn:
            assert frames.corrections(conn)["author"].to_list() == ["Zoe"]
        # another person and another week are as their previews said
        assert sent(his, others, "R. Hale", "/hours/P1/2026-03-04").status_code == 303
        assert sent(his, week_before, "R. Hale", "/hours/P4/2026-02-25").status_code == 303

        misread = sent(his, early | {"last_seen": "-1"}, "R. Hale")
        assert misread.status_code == 400
        assert "is no correction's number; nothing was changed." in html.unescape(text_of(misread.text))
        # a form of an older page, and one that has looked again
        older = {name: value for name, value in early.items() if name != "last_seen"}
        assert sent(his, older, "R. Hale").status_code == 303
        again = hidden(previewed(his, "04:00").text)
        assert again["last_seen"] == "4"
        assert sent(his, again, "R. Hale").status_code == 303

        # the same correction again has no preview, and the sentence that its form would get
        for refused in (previewed(his, "05:00"), sent(his, early, "R. Hale")):
            assert refused.status_code == 409
            assert "Correction 4 says this already; nothing was changed." in text_of(refused.text)
