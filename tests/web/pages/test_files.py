"""Files: put on, looked at, taken, taken back and read again, and how fresh the readers' punches are."""

from __future__ import annotations

import html
import re
from collections.abc import Callable, Iterator
from pathlib import Path

import httpx
import pytest

from evenhand.jobs import folder_state
from evenhand.jobs.folder_intake import Watcher
from evenhand.jobs.folder_state import FileStanding, Folder
from evenhand.jobs.ledger import entries
from evenhand.jobs.waiting import list_waiting
from evenhand.store import frames
from evenhand.terms.settings import Intake
from evenhand.web import guard
from tests.web.conftest import MILL_AS_OF, Served, copied, serving

Token = Callable[[httpx.Client], str]

# P4 works Tuesday from 8 to 12; one number is no number, and the last line names a reader that nobody knows
LOG = """reader;number;time;way;remark
MILL-1;4104;2026-03-03 08:00;in;x
MILL-1;4104;2026-03-03 12:00;out;
MILL-1;41-4;2026-03-03 12:30;in;
KILN;4104;2026-03-03 13:00;in;
"""
# the roster without P3 and P4, with a newcomer and a new name
ROSTER = """person,name,number,site,supervisor,shoe
P1,Tess Marrow-Lane,4101,Mill,yes,41
P2,Bram Ostler,4102,Mill,no,42
P5,Ada Quill,4105,Mill,no,43
"""
AMBIGUOUS = "reader;number;time;way\n" + "".join(
    f"MILL-1;4104;0{day}/02/2026 0{hour}:00;{way}\n" for day in (2, 3) for hour, way in ((7, "in"), (9, "out"))
)
# Nothing at all speaks for either order of its one date.
ONE_DAY = "\n".join(line for line in AMBIGUOUS.splitlines() if "02/02" not in line) + "\n"


def text_of(page: str) -> str:
    return re.sub(r"\s+", " ", html.unescape(re.sub(r"<[^>]+>", " ", page))).strip()


@pytest.fixture
def fresh(mill_directory: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """The mill as it was, for a test that takes files."""
    with serving(copied(mill_directory, tmp_path_factory), MILL_AS_OF) as served:
        yield served


@pytest.fixture
def at_fresh(fresh: Served) -> Iterator[httpx.Client]:
    with fresh.enter() as client:
        yield client


def put(client: httpx.Client, token: str, *files: tuple[str, str | bytes]) -> httpx.Response:
    """Put files on as a browser's form does."""
    sent = [("file", (name, content if isinstance(content, bytes) else content.encode())) for name, content in files]
    return client.post("/files", data={"form_token": token}, files=sent)


def put_one(client: httpx.Client, token: str, name: str, content: str | bytes) -> str:
    answer = put(client, token, (name, content))
    assert answer.status_code == 303
    return answer.headers["location"]


def hidden(page: str, name: str) -> str:
    return page.split(f'name="{name}" value="')[1].split('"', maxsplit=1)[0]


def shown_by(page: str) -> dict[str, str]:
    """What a page's form says about what it shows, of the file and of what deciding would do."""
    return {name: hidden(page, name) for name in ("seen", "would") if f'name="{name}"' in page}


def take(client: httpx.Client, token: str, place: str, **said: str) -> httpx.Response:
    """Take what the page at `place` shows."""
    seen = hidden(client.get(place, params=said).text, "seen")
    return client.post(place, data={"form_token": token, "seen": seen, "do": "take", **said})


def takes(served: Served) -> list[tuple[int, str, int]]:
    with served.workspace.store.reading() as conn:
        return frames.takes(conn).select("take", "file", "taken").rows()


def row_of(page: str, header: str) -> str:
    """The text of the table row whose first cell begins with `header`."""
    rows = [text_of(row) for row in re.findall(r"<tr>.*?</tr>", page, re.DOTALL)]
    return next(row for row in rows if row.startswith(header))


def test_who_takes_a_file_on_the_page_may_say_so_and_the_ledger_names_them(
    fresh: Served, at_fresh: httpx.Client, form_token: Token
) -> None:
    token = form_token(at_fresh)
    for name, text, author in (("march.csv", LOG, "R. Hale"), ("april.csv", LOG.replace("4104", "4102"), "")):
        place = put_one(at_fresh, token, name, text)
        asks = field_named(at_fresh.get(place).text, "author")
        assert 'value="' + ("" if author else "R. Hale") + '"' in asks
        assert "required" not in asks
        assert take(at_fresh, token, place, author=author).status_code == 303
        assert entries(fresh.workspace, kind="take", most=1)[0].who == ((author,) if author else ())
    place = put_one(at_fresh, token, "may.csv", LOG.replace("4104", "4101"))
    assert take(at_fresh, token, place, author="V\u202era").status_code == 400


def field_named(page: str, name: str) -> str:
    return re.findall(rf'<input[^>]*name="{name}"[^>]*>', page)[0]


def test_a_file_put_on_waits_and_nothing_of_it_is_taken(
    fresh: Served, at_fresh: httpx.Client, form_token: Token
) -> None:
    before = takes(fresh)
    place = put_one(at_fresh, form_token(at_fresh), "march.csv", LOG)
    page = at_fresh.get(place)
    assert page.status_code == 200
    assert "Nothing of it has been taken" in text_of(page.text)
    assert takes(fresh) == before
    assert "march.csv" in text_of(at_fresh.get("/files").text)
    assert [one.file for one in list_waiting(fresh.workspace)] == ["march.csv"]


def test_the_page_says_how_each_column_is_read_and_what_would_become_of_the_rows(
    at_fresh: httpx.Client, form_token: Token
) -> None:
    page = at_fresh.get(put_one(at_fresh, form_token(at_fresh), "march.csv", LOG)).text
    assert row_of(page, "number column 2").startswith("number column 2 number certain 4104")
    assert row_of(page, "time column 3").startswith("time column 3 time certain 2026-03-03 08:00")
    assert row_of(page, "remark column 5").startswith("remark column 5 not used x")
    first = row_of(page, "Line 2")
    assert first.startswith("Line 2 MILL-1 4104 2026-03-03 08:00 in x")
    assert "time Tue 3 Mar 2026, 08:00" in first
    assert "direction in" in first
    assert row_of(page, "Line 4").endswith("rejected: a number that people key holds digits only; correct it")
    assert "2 rows of 4" in text_of(page)
    assert "line 5, reader: KILN" in text_of(page)
    assert "Take 2 rows in" in text_of(page)


def test_the_page_names_whom_a_roster_brings_changes_and_drops(at_fresh: httpx.Client, form_token: Token) -> None:
    place = put_one(at_fresh, form_token(at_fresh), "people.csv", ROSTER)
    asked = at_fresh.get(place).text
    assert "it leaves out 2 of the 4 people listed before: <b>Ines</b> Quill (P3) and Joss Fenn (P4)" in text_of(asked)
    assert re.search('type="radio" id="[^"]+" name="roster" value="part"', asked)
    assert 'value="take"' not in asked  # nothing is taken before that is said
    part = text_of(at_fresh.get(f"{place}?roster=part").text)
    assert "It is taken as a part of the roster; 2 people not in it stay listed: " in part
    assert at_fresh.get(f"{place}?roster=half").status_code == 400
    page = text_of(at_fresh.get(f"{place}?roster=whole").text)
    assert "1 new person: Ada Quill (P5)." in page
    assert "Tess Marrow to Tess Marrow-Lane" in page
    assert re.search(r"2 people are no longer listed: <b>Ines</b> Quill \(P3\) and Joss Fenn \(P4\)", page)


def test_taking_gives_a_receipt_keeps_the_rejected_lines_and_hours_follow_at_once(
    fresh: Served, at_fresh: httpx.Client, form_token: Token
) -> None:
    token = form_token(at_fresh)
    assert "Paid 0 min" in text_of(at_fresh.get("/hours/P4", params={"week": "2026-03-01"}).text)
    place = put_one(at_fresh, token, "march.csv", LOG)
    answer = take(at_fresh, token, place)
    assert (answer.status_code, answer.headers["location"]) == (303, "/files/takes/5")
    page = at_fresh.get("/files/takes/5").text
    assert "march.csv: 4 rows read, 2 taken, 0 known already, 2 rejected." in text_of(page)
    assert row_of(page, "Line 4").startswith("Line 4 number 41-4 A number that people key holds digits only")
    assert '<code class="line">MILL-1;41-4;2026-03-03 12:30;in;</code>' in page
    assert "date_order" not in page
    assert "number = &#34;number&#34;" in page
    assert list_waiting(fresh.workspace) == []
    assert list(fresh.workspace.waiting.glob("*/*")) == []
    assert "Paid 4 h" in text_of(at_fresh.get("/hours/P4", params={"week": "2026-03-01"}).text)
    listed = row_of(at_fresh.get("/files").text, "march.csv")
    assert listed.startswith("march.csv take 5 punches")
    assert listed.endswith("4 2 0 2 as taken")


def test_only_what_was_shown_is_taken(fresh: Served, at_fresh: httpx.Client, form_token: Token) -> None:
    token, before = form_token(at_fresh), takes(fresh)
    place = put_one(at_fresh, token, "march.csv", LOG)
    seen = hidden(at_fresh.get(place).text, "seen")
    # the table was changed on the page, and Take pressed without looking again
    answer = at_fresh.post(place, data={"form_token": token, "seen": seen, "do": "take", "table": "enrolments"})
    assert answer.headers["location"] == f"{place}?table=enrolments"
    assert "look at it as it is now. Nothing was taken." in text_of(at_fresh.get(answer.headers["location"]).text)
    assert takes(fresh) == before
    # meanwhile somebody else has taken the same punches
    other = put_one(at_fresh, token, "copy.csv", LOG + "\n")
    assert take(at_fresh, token, other).headers["location"] == "/files/takes/5"
    answer = at_fresh.post(place, data={"form_token": token, "seen": seen, "do": "take"})
    assert answer.headers["location"] == place
    assert [one.file for one in list_waiting(fresh.workspace)] == ["march.csv"]


def test_what_a_file_does_not_decide_is_asked_with_examples_and_answered(
    fresh: Served, at_fresh: httpx.Client, form_token: Token
) -> None:
    token = form_token(at_fresh)
    place = put_one(at_fresh, token, "february.csv", AMBIGUOUS)
    page = at_fresh.get(place).text
    assert "Before it can be taken" in page
    assert 'name="do" value="take"' not in page
    choices = re.findall(r'<input type="radio" id="(\S+)" name="dates" value="(\w+)"', page)
    assert {value for _, value in choices} >= {"dmy", "mdy"}
    examples = " ".join(re.findall(r'<label for="answer-1-\d">([^<]+)</label>', page))
    assert "2026" in examples
    answer = at_fresh.post(place, data={"form_token": token, "do": "look", "dates": "mdy"})
    assert answer.headers["location"] == f"{place}?dates=mdy"
    again = at_fresh.get(answer.headers["location"]).text
    assert "time Mon 2 Feb 2026, 07:00" in row_of(again, "Line 2")
    assert "time Mon 2 Mar 2026, 07:00" in row_of(again, "Line 4")  # 03/02 by month and day
    assert take(at_fresh, token, place, dates="mdy").headers["location"] == "/files/takes/5"
    with fresh.workspace.store.reading() as conn:
        assert frames.takes(conn)["taken"].to_list()[-1] == 4


def test_what_was_answered_stays_answered_while_more_is(at_fresh: httpx.Client, form_token: Token) -> None:
    rows = [
        f"MILL-1;410{1 + at % 4};2026-02-{1 + at // 4:02d} {7 + 8 * (at % 2):02d}:15:00;{('tuhle', 'tamhle')[at % 2]};x"
        for at in range(80)
    ]
    strange = "\n".join(["reader;number;time;direction;remark", *rows, ""])
    place = put_one(at_fresh, form_token(at_fresh), "march.csv", strange)
    page = at_fresh.get(place).text
    assert 'name="word-tuhle"' in page
    said = {"word-tuhle": "in", "word-tamhle": "out", "use-5": "none", "zeros": "5", "zone": "America/Chicago"}
    form = {"form_token": form_token(at_fresh), "do": "look", **said}
    address = at_fresh.post(place, data=form).headers["location"]
    page = at_fresh.get(address).text
    selects = re.findall(r'<select[^>]* name="([^"]+)"(.*?)</select>', page, re.DOTALL)
    chosen = {name: found[1] for name, rest in selects if (found := re.search(r'value="([^"]*)" selected', rest))}
    assert {name: chosen[name] for name in ("word-tuhle", "word-tamhle", "use-5")} == {
        "word-tuhle": "in",
        "word-tamhle": "out",
        "use-5": "none",
    }
    assert re.search(r'name="zeros"[^>]* value="5"', page)
    assert re.search(r'name="zone"[^>]* value="America/Chicago"', page)
    assert "number 04101" in row_of(page, "Line 2")
    assert "direction in" in row_of(page, "Line 2")


def test_several_are_put_on_at_once_and_one_that_cannot_be_kept_is_named(
    fresh: Served, at_fresh: httpx.Client, form_token: Token
) -> None:
    token = form_token(at_fresh)
    answer = put(at_fresh, token, ("march.csv", LOG), ("empty.csv", ""), ("people.csv", ROSTER))
    assert answer.headers["location"] == "/files/waiting"
    page = text_of(at_fresh.get("/files/waiting").text)
    assert "2 files to be looked at" in page
    assert "empty.csv is empty; export it again." in page
    assert sorted(one.file for one in list_waiting(fresh.workspace)) == ["march.csv", "people.csv"]
    refused = put(at_fresh, token, ("empty.csv", ""))
    assert refused.status_code == 400
    assert "is empty" in text_of(refused.text)
    assert put(at_fresh, token).status_code == 400


def test_a_name_leads_nowhere_and_is_shown_as_text(fresh: Served, at_fresh: httpx.Client, form_token: Token) -> None:
    token = form_token(at_fresh)
    for name in ("../../../evil.csv", "..\\..\\evil.csv", "<script>alert(1)</script>.csv"):
        page = at_fresh.get(put_one(at_fresh, token, name, LOG)).text
        assert "<script>alert" not in page
    kept = {path.relative_to(fresh.workspace.waiting).parts[1] for path in fresh.workspace.waiting.glob("*/*")}
    assert kept == {"evil.csv", "script_.csv"}
    assert not list(fresh.workspace.directory.parent.glob("**/evil.csv.part"))


def test_a_file_of_which_no_table_can_be_made_says_so_and_can_be_given_up(
    fresh: Served, at_fresh: httpx.Client, form_token: Token
) -> None:
    token = form_token(at_fresh)
    place = put_one(at_fresh, token, "photo.png", b"\x89PNG\r\n\x1a\n" + bytes(99))
    page = at_fresh.get(place)
    assert page.status_code == 200
    assert "this is a picture, not a table" in text_of(page.text)
    assert 'value="take"' not in page.text
    assert at_fresh.post(f"{place}/give-up", data={"form_token": token}).headers["location"] == "/files"
    assert "photo.png was given up" in text_of(at_fresh.get("/files").text)
    assert list_waiting(fresh.workspace) == []
    gone = at_fresh.get(place)
    assert gone.status_code == 404
    assert "does not wait any longer" in text_of(gone.text)


def test_no_file_is_kept_from_a_form_that_is_not_ours(fresh: Served, at_fresh: httpx.Client, form_token: Token) -> None:
    token = form_token(at_fresh)
    assert put(at_fresh, "guessed", ("march.csv", LOG)).status_code == 400
    elsewhere = at_fresh.post(
        "/files",
        data={"form_token": token},
        files={"file": ("march.csv", LOG.encode())},
        headers={"origin": "https://elsewhere.example"},
    )
    assert elsewhere.status_code == 403
    with httpx.Client(base_url=fresh.base, headers={"origin": fresh.base}) as stranger:
        assert put(stranger, token, ("march.csv", LOG)).status_code == 403
    assert list_waiting(fresh.workspace) == []


def test_more_than_may_be_put_on_is_refused_unread(
    fresh: Served, at_fresh: httpx.Client, form_token: Token, monkeypatch: pytest.MonkeyPatch
) -> None:
    token = form_token(at_fresh)
    # beyond what any other form may be, and still a file
    assert put(at_fresh, token, ("long.csv", LOG + "x" * 200_000)).status_code == 303
    monkeypatch.setattr(guard, "LARGEST_DROP", 100_000)
    refused = put(at_fresh, token, ("long.csv", LOG + "x" * 200_000))
    assert refused.status_code == 413
    assert "larger than 256 MiB together" in text_of(refused.text)
    place = f"/files/waiting/{list_waiting(fresh.workspace)[0].key}"
    assert at_fresh.post(place, data={"form_token": token, "zone": "x" * 70_000}).status_code == 413


def test_scripts_of_files_run_on_the_page_that_files_are_put_on_and_on_no_other_of_them(
    at_fresh: httpx.Client, form_token: Token
) -> None:
    def policy(place: str) -> str:
        return at_fresh.get(place).headers["content-security-policy"]

    assert "script-src 'self'; connect-src 'self'" in policy("/files")
    for place in (put_one(at_fresh, form_token(at_fresh), "march.csv", LOG), "/files/takes/4", "/files/takes/4/back"):
        only = re.findall(r"script-src ([^;]*)", policy(place))
        assert only == [f"{str(at_fresh.base_url).rstrip('/')}/static/find.js"]  # by its whole path, so no other file
        assert "connect-src" not in policy(place)
        assert "default-src 'none'" in policy(place)


def test_what_cannot_be_taken_back_says_why_on_its_page(at_fresh: httpx.Client, form_token: Token) -> None:
    day = "/hours/P2/2026-03-02/correct"
    asked = {"action": "add", "on": "2026-03-02", "at": "15:00", "direction": "out"}
    signed = {"form_token": form_token(at_fresh), "author": "R. Hale", "reason": "the supervisor says so"}
    assert at_fresh.post(day, data=asked | signed | {"last_seen": "0"}).status_code == 303
    shown = at_fresh.get("/files/takes/1/back")  # the list of readers: without it no zone is known for the punch
    assert shown.status_code == 200
    assert "It cannot be taken back as things stand: correction 1 adds a punch for P2" in text_of(shown.text)
    assert "<button>Take it back" not in shown.text


def test_taking_back_is_foreseen_signed_and_undone_by_reading_again(
    fresh: Served, at_fresh: httpx.Client, form_token: Token
) -> None:
    token, week = form_token(at_fresh), {"week": "2026-03-01"}
    before = text_of(at_fresh.get("/hours/P1", params=week).text)
    place = "/files/takes/4"
    shown = at_fresh.get(f"{place}/back").text
    preview = text_of(shown)
    assert "Nothing has been changed yet" in preview
    assert "Punches gone 9" in preview
    # Tess Marrow: 07:53 to 12:00 and 12:32 to 16:08, by the mill's quarter hours 8:00 to 12:00 and 12:30 to 16:15
    assert re.search(r"Tess Marrow P1 Sun 1 Mar 2026 7 h 45 .* 0 h 00 .* − 7 h 45 min not known Your name", preview)
    assert text_of(at_fresh.get("/hours/P1", params=week).text) == before
    unsigned = {"form_token": token, "author": "", "reason": "wrong week"}
    assert at_fresh.post(f"{place}/back", data=unsigned).status_code == 400
    signed = {"form_token": token, "author": "R. Hale", "reason": "wrong week", "would": hidden(shown, "would")}
    assert "Remove the layout punches-1.toml too" in preview
    assert at_fresh.post(f"{place}/back", data={**signed, "forget": "yes"}).headers["location"] == place
    page = text_of(at_fresh.get(place).text)
    assert "was taken back by R. Hale" in page
    assert "Its layout punches-1.toml was removed." in page
    assert not (fresh.workspace.layouts / "punches-1.toml").exists()
    assert re.search(r"Taken back by R\. Hale, Mon 9 Mar 2026, 09:00: wrong week", page)
    assert "Paid 0 min" in text_of(at_fresh.get("/hours/P1", params=week).text)
    assert row_of(at_fresh.get("/files").text, "punches.csv").endswith("taken back by R. Hale")

    again = at_fresh.get(f"{place}/again").text
    assert "Punches new 9" in text_of(again)
    form = {**signed, **shown_by(again), "do": "again"}
    assert at_fresh.post(f"{place}/again", data=form).headers["location"] == place
    assert row_of(at_fresh.get("/files").text, "punches.csv").endswith("read again by R. Hale")
    assert text_of(at_fresh.get("/hours/P1", params=week).text) == before


def test_what_is_decided_by_a_page_that_is_out_of_date_is_shown_anew(at_fresh: httpx.Client, form_token: Token) -> None:
    token, place = form_token(at_fresh), "/files/takes/4/back"
    signed = {"form_token": token, "author": "R. Hale", "reason": "wrong week"}
    before, stood = at_fresh.get(place).text, row_of(at_fresh.get("/files").text, "punches.csv")
    assert "Handed off already" not in before
    assert at_fresh.post("/hand-off", data={**signed, "despite": "yes"}).status_code == 303
    assert at_fresh.post(place, data={**signed, **shown_by(before)}).headers["location"] == place
    page = at_fresh.get(place).text
    assert "is no longer what was shown; look at it as it is now. Nothing was changed." in text_of(page)
    assert "Handed off already" in page
    assert row_of(at_fresh.get("/files").text, "punches.csv") == stood
    # what is shown now is done
    assert at_fresh.post(place, data={**signed, **shown_by(page)}).headers["location"] == "/files/takes/4"
    assert row_of(at_fresh.get("/files").text, "punches.csv") != stood

    # the same holds for reading it again, which brings it back: by the page before, nothing is done
    again = "/files/takes/4/again"
    stood, form = row_of(at_fresh.get("/files").text, "punches.csv"), shown_by(at_fresh.get(again).text)
    stale = {**signed, **form, "would": shown_by(page)["would"], "do": "again"}
    assert at_fresh.post(again, data=stale).headers["location"] == again
    assert row_of(at_fresh.get("/files").text, "punches.csv") == stood
    assert at_fresh.post(again, data={**stale, **form}).headers["location"] == "/files/takes/4"


def test_what_was_read_again_by_taking_it_again_names_nobody(at_fresh: httpx.Client, form_token: Token) -> None:
    token = form_token(at_fresh)
    assert take(at_fresh, token, put_one(at_fresh, token, "february.csv", AMBIGUOUS), dates="mdy").status_code == 303
    assert take(at_fresh, token, put_one(at_fresh, token, "february.csv", AMBIGUOUS), dates="dmy").status_code == 303
    page = text_of(at_fresh.get("/files/takes/5").text)
    assert re.search(r"Read again, \w{3} \d+ \w{3} \d{4}, \d\d:\d\d: taken again by another layout", page)
    assert row_of(at_fresh.get("/files").text, "february.csv").endswith("read again")


def test_a_zone_that_the_layout_holds_is_shown_and_can_be_taken_away(at_fresh: httpx.Client, form_token: Token) -> None:
    token = form_token(at_fresh)
    place = put_one(at_fresh, token, "march.csv", LOG)
    assert take(at_fresh, token, place, zone="Asia/Tokyo", zeros="5").status_code == 303
    place = put_one(at_fresh, token, "later.csv", LOG.replace("2026-03-03", "2026-03-04"))
    page = at_fresh.get(place).text
    assert "time Tue 3 Mar 2026, 18:00" in row_of(page, "Line 2")  # 08:00 in Tokyo, on New York's clock
    zone = re.search(r'<input id="said-zone"[^>]*value="([^"]*)"', page)
    zeros = re.search(r'<input id="said-zeros"[^>]*value="([^"]*)"', page)
    assert zone and zeros
    assert (zone[1], zeros[1]) == ("Asia/Tokyo", "5")
    boxes = {"zone-held": hidden(page, "zone-held"), "zeros-held": hidden(page, "zeros-held"), "do": "look"}
    # left as they are, they say nothing; emptied, they say that the reader's clock and the numbers as written hold
    same = at_fresh.post(place, data={"form_token": token, **boxes, "zone": zone[1], "zeros": zeros[1]})
    assert same.headers["location"] == place
    emptied = at_fresh.post(place, data={"form_token": token, **boxes, "zone": "", "zeros": ""})
    page = at_fresh.get(emptied.headers["location"]).text
    assert "time Wed 4 Mar 2026, 08:00" in row_of(page, "Line 2")
    assert "number 4104" in row_of(page, "Line 2")
    boxes = {"zone-held": hidden(page, "zone-held"), "zeros-held": hidden(page, "zeros-held"), "do": "look"}
    again = at_fresh.post(place, data={"form_token": token, **boxes, "zone": "", "zeros": ""})
    assert again.headers["location"] == emptied.headers["location"]


def test_what_is_signed_shows_whole_and_names_stay_as_they_are(at_fresh: httpx.Client, form_token: Token) -> None:
    token = form_token(at_fresh)
    would = hidden(at_fresh.get("/files/takes/4/back").text, "would")
    for author, reason in (("V\u202era", "wrong week"), ("R. Hale", "wrong\u200bweek")):
        signed = {"form_token": token, "author": author, "reason": reason, "would": would}
        answer = at_fresh.post("/files/takes/4/back", data=signed)
        assert answer.status_code == 400
        assert "holds characters that do not show" in text_of(answer.text)
        assert "\u202e" not in answer.text
    refused = put(at_fresh, token, ("big.csv", ""))
    assert "big.csv is empty; export it again." in text_of(refused.text)
    put(at_fresh, token, ("march.csv", LOG), ("empty.csv", ""), ("again.csv", LOG))
    assert "empty.csv is empty; export it again." in text_of(at_fresh.get("/files").text)


def test_a_file_of_which_no_row_can_be_read_is_not_offered_to_be_taken(
    at_fresh: httpx.Client, form_token: Token
) -> None:
    known = LOG.splitlines()
    bad = "\n".join([known[0], *known[3:5]]) + "\n"  # a number that is none, and a reader that nobody knows
    token = form_token(at_fresh)
    assert take(at_fresh, token, put_one(at_fresh, token, "march.csv", LOG)).status_code == 303
    page = at_fresh.get(put_one(at_fresh, token, "rest.csv", bad), params={"layout": "punches-2.toml"}).text
    assert "What would be rejected 2 rows of 2" in text_of(page)
    assert 'value="take"' not in page


def test_a_reader_named_for_a_file_whose_rows_name_theirs_is_said_to_be_unused(
    at_fresh: httpx.Client, form_token: Token
) -> None:
    place = put_one(at_fresh, form_token(at_fresh), "march.csv", LOG)
    assert "is not used; say first" not in at_fresh.get(place).text
    page = text_of(at_fresh.get(place, params={"reader": "MILL-1"}).text)
    assert "Each row names its own reader, in column reader, so MILL-1 is not used" in page


def test_reading_again_by_another_answer_is_foreseen_and_only_then_done(
    fresh: Served, at_fresh: httpx.Client, form_token: Token
) -> None:
    token = form_token(at_fresh)
    assert take(at_fresh, token, put_one(at_fresh, token, "february.csv", ONE_DAY), dates="mdy").status_code == 303
    place = "/files/takes/5/again"
    now = at_fresh.get(place).text
    assert "This is how it is read now." in text_of(now)
    assert 'value="again"' not in now
    answer = at_fresh.post(place, data={"form_token": token, "do": "look", "dates": "dmy"})
    assert answer.headers["location"] == f"{place}?dates=dmy"
    page = at_fresh.get(answer.headers["location"]).text
    assert "time Tue 3 Feb 2026, 07:00" in row_of(page, "Line 2")
    assert "Punches that say something else 2" in text_of(page)
    form = {"form_token": token, "author": "R. Hale", "reason": "day first", "do": "again", "dates": "dmy"}
    stale = at_fresh.post(place, data={**form, "seen": hidden(now, "seen")})
    assert stale.headers["location"] == f"{place}?dates=dmy"
    assert at_fresh.post(place, data={**form, **shown_by(page)}).headers["location"] == "/files/takes/5"
    with fresh.workspace.store.reading() as conn:
        held = frames.recorded(conn)
    latest = max(at for punch, at in held.select("punch", "at").iter_rows() if punch >> 32 == 5)
    assert latest == 1_770_127_200  # 3 February 2026, 09:00 in New York


def test_what_was_read_wrongly_is_not_read_so_again_unless_that_is_wanted(
    fresh: Served, at_fresh: httpx.Client, form_token: Token
) -> None:
    token, kept = form_token(at_fresh), fresh.workspace.layouts / "punches-2.toml"
    more = AMBIGUOUS.replace("/02/2026", "/03/2026")
    for name, text in (("february.csv", AMBIGUOUS), ("march.csv", more)):
        assert take(at_fresh, token, put_one(at_fresh, token, name, text), dates="mdy").status_code == 303
    assert 'date_order = "mdy"' in kept.read_text()
    for number, mend, order in ((5, {}, "mdy"), (6, {"mend": "yes"}, "dmy")):
        place = f"/files/takes/{number}/again"
        page = at_fresh.get(place, params={"dates": "dmy"}).text
        assert "Look whether they were read wrongly as well" in text_of(page)
        assert f'href="/files/takes/{11 - number}"' in page
        form = {"form_token": token, "author": "R. Hale", "reason": "day first", "do": "again", "dates": "dmy"}
        answer = at_fresh.post(place, data={**form, **mend, **shown_by(page)})
        assert answer.headers["location"] == f"/files/takes/{number}"
        assert f'date_order = "{order}"' in kept.read_text()
    assert "Files of its kind are read so from now on, by punches-2.toml." in text_of(at_fresh.get("/files").text)
    later = AMBIGUOUS.replace("02/02/2026", "04/02/2026").replace("03/02/2026", "05/02/2026")
    shown = at_fresh.get(put_one(at_fresh, token, "later.csv", later)).text
    assert "time Wed 4 Feb 2026, 07:00" in row_of(shown, "Line 2")


def test_a_kept_layout_that_somebody_has_edited_is_not_mended(
    fresh: Served, at_fresh: httpx.Client, form_token: Token
) -> None:
    token, kept = form_token(at_fresh), fresh.workspace.layouts / "punches-2.toml"
    assert take(at_fresh, token, put_one(at_fresh, token, "february.csv", AMBIGUOUS), dates="mdy").status_code == 303
    edited = kept.read_text().replace('delimiter = ";"', 'delimiter = "|"')
    kept.write_text(edited)
    page = at_fresh.get("/files/takes/5/again", params={"dates": "dmy"}).text
    form = {"form_token": token, "author": "R. Hale", "reason": "day first", "do": "again", "dates": "dmy", "mend": "y"}
    assert at_fresh.post("/files/takes/5/again", data={**form, **shown_by(page)}).status_code == 303
    assert kept.read_text() == edited


def test_how_fresh_each_readers_punches_are(at_mill: httpx.Client) -> None:
    line = row_of(at_mill.get("/files").text, "MILL-1")
    # the last punch of the mill's log is Bram's at 15:00 on 3 March; it is 9 March, 09:00
    assert line.startswith("MILL-1 Mill Tue 3 Mar 2026, 15:00 5 days ago")
    assert "Presentations a day from Tue 10 Feb to Mon 9 Mar: 0 to 7, 0 on the last" in line
    assert "punches.csv" in line


def test_a_file_of_the_watched_folder_waits_on_files_and_on_today_and_is_put_away_when_taken(
    fresh: Served, at_fresh: httpx.Client, form_token: Token, tmp_path: Path
) -> None:
    (tmp_path / "march.csv").write_text(LOG)
    found = (tmp_path / "march.csv").lstat()
    standing = FileStanding(found.st_size, found.st_mtime_ns, 1_773_000_000, "it has to be asked about.")
    with folder_state.noting(fresh.workspace) as held:
        held[0] = Folder(str(tmp_path), files={"march.csv": standing})
    files, today = at_fresh.get("/files").text, at_fresh.get("/").text
    place = re.search(r'href="(/files/waiting/[0-9a-f]{16})">march\.csv', files)
    assert place is not None
    assert row_of(files, "march.csv").startswith("march.csv it has to be asked about.")
    assert str(tmp_path) in text_of(files)
    assert "march.csv waits in the watched folder and has not been taken." in text_of(today)
    assert re.search(rf'href="{place[1]}\?back=[^"]+">Look at the file', today)
    page = at_fresh.get(place[1]).text
    assert "Take it out of the folder" in text_of(page)
    token = form_token(at_fresh)
    assert at_fresh.post(f"{place[1]}/give-up", data={"form_token": token}).status_code == 409
    assert take(at_fresh, token, place[1]).headers["location"] == "/files/takes/5"
    assert [path.name for path in tmp_path.iterdir()] == ["taken"]
    assert "waits in the watched folder" not in text_of(at_fresh.get("/").text)


def test_a_folder_out_of_reach_is_said_on_files_and_on_today(fresh: Served, at_fresh: httpx.Client) -> None:
    with folder_state.noting(fresh.workspace) as held:
        held[0] = Folder("/srv/exports", problem="The watched folder /srv/exports is not there.")
    for place in ("/files", "/"):
        assert "The watched folder /srv/exports is not there." in text_of(at_fresh.get(place).text)


def test_the_takes_can_be_searched_and_sorted(at_mill: httpx.Client) -> None:
    def names(**asked: str) -> list[str]:
        return re.findall(
            r'href="/files/takes/\d+">([^<]+)</a> <span class="quiet">take', at_mill.get("/files", params=asked).text
        )

    assert names() == ["punches.csv", "enrolled.csv", "people.csv", "readers.csv"]
    assert names(sort="file") == ["enrolled.csv", "people.csv", "punches.csv", "readers.csv"]
    assert names(q="enrolments") == ["enrolled.csv"]
    assert "No file matches" in at_mill.get("/files", params={"q": "nothing like it"}).text


@pytest.mark.parametrize(
    ("place", "status"),
    [
        ("/files/takes/99", 404),
        ("/files/takes/99/back", 404),
        ("/files/takes/x", 400),
        ("/files/waiting/0123456789abcdef", 404),
        ("/files/waiting/..%2f..%2fevenhand.toml", 404),
        ("/files?page=x", 400),
        ("/files/takes/4/again?zeros=many", 400),
    ],
)
def test_what_is_not_there_is_said_in_one_sentence(at_mill: httpx.Client, place: str, status: int) -> None:
    answer = at_mill.get(place)
    assert answer.status_code == status
    assert answer.text.count('<div class="trouble">') == 1


def test_what_cannot_be_followed_is_a_sentence_and_takes_nothing(at_fresh: httpx.Client, form_token: Token) -> None:
    place = put_one(at_fresh, form_token(at_fresh), "march.csv", LOG)
    for said in ({"table": "cats"}, {"reader": "NOWHERE"}, {"zone": "Mars/Olympus"}, {"use-99": "number"}):
        page = at_fresh.get(place, params=said)
        assert page.status_code in (200, 400), said
        assert "Traceback" not in page.text
        assert html.escape("Something went wrong") not in page.text


MORE_READERS = "reader,site,zone,max_digits\nDOCK,Mill,America/Chicago,6\n"
AT_THE_DOCK = "reader,number,time,way\n" + "".join(
    f"DOCK,4101,2026-03-0{day} {hour}:07:11,{way}\n" for day in (2, 3, 4) for hour, way in (("08", "in"), ("15", "out"))
)


def marked(page: str) -> dict[str, str]:
    return dict(re.findall(r'name="(take-[0-9a-f]{16})" value="([0-9a-f]{32})" checked', page))


def test_of_several_files_those_that_are_ready_are_said_and_taken_in_one_go(
    fresh: Served, at_fresh: httpx.Client, form_token: Token
) -> None:
    token, before = form_token(at_fresh), takes(fresh)
    files = ("dock.csv", AT_THE_DOCK), ("readers.csv", MORE_READERS), ("people.csv", ROSTER), ("feb.csv", ONE_DAY)
    answer = put(at_fresh, token, *files, ("march.csv", LOG), ("letter.csv", "Dear Ada"))
    assert answer.headers["location"] == "/files/waiting"
    page = at_fresh.get("/files/waiting").text
    assert "2 of 6 ready as they stand" in text_of(page)
    # The log's reader is only on the list that is put on beside it.
    assert "ready" in row_of(page, "readers.csv")
    first = row_of(page, "dock.csv")
    assert "punches 6" in first
    assert "time Mon 2 Mar 2026, 08:07:11 direction in on clocks in America/Chicago ready, after readers.csv" in first
    # on its own page it is read without that list, and says so with where it is
    keys = {one.file: one.key for one in list_waiting(fresh.workspace)}
    alone = at_fresh.get(f"/files/waiting/{keys['dock.csv']}").text
    assert "no reader is called 'DOCK'" in text_of(alone)
    assert "It names readers or people of files that wait too." in text_of(alone)
    assert f'<a href="/files/waiting/{keys["readers.csv"]}">readers.csv</a>.' in alone
    for other in ("march.csv", "readers.csv"):
        assert "of files that wait too" not in text_of(at_fresh.get(f"/files/waiting/{keys[other]}").text)
    assert "It leaves out 2 of the 4 people listed before: " in row_of(page, "people.csv")
    assert "can be day-month-year or month-day-year" in row_of(page, "feb.csv")
    assert "2 of its 4 rows would be rejected" in row_of(page, "march.csv")
    assert len(marked(page)) == 2
    answer = at_fresh.post("/files/waiting", data={"form_token": token, **marked(page)})
    assert answer.headers["location"] == "/files"
    assert "2 files taken. readers.csv: 1 taken" in text_of(at_fresh.get("/files").text)
    assert [(file, taken) for _, file, taken in takes(fresh)[len(before) :]] == [("readers.csv", 1), ("dock.csv", 6)]
    assert {one.file for one in list_waiting(fresh.workspace)} == {"people.csv", "feb.csv", "march.csv", "letter.csv"}
    assert "0 of 4 ready" in text_of(at_fresh.get("/files/waiting").text)


def test_a_file_is_not_ready_while_the_list_of_its_readers_is_not(
    fresh: Served, at_fresh: httpx.Client, form_token: Token
) -> None:
    lost = MORE_READERS + ",Mill,America/Chicago,6\n"  # a row without its reader
    put(at_fresh, form_token(at_fresh), ("dock.csv", AT_THE_DOCK), ("readers.csv", lost))
    page = at_fresh.get("/files/waiting").text
    assert "0 of 2 ready" in text_of(page)
    assert "It names readers or people of readers.csv, to be taken before it." in row_of(page, "dock.csv")


def test_what_is_marked_is_taken_only_as_it_was_shown_and_while_it_is_ready(
    fresh: Served, at_fresh: httpx.Client, form_token: Token
) -> None:
    token, before = form_token(at_fresh), takes(fresh)
    put(at_fresh, token, ("readers.csv", MORE_READERS), ("march.csv", LOG))
    [(name, digest)] = marked(at_fresh.get("/files/waiting").text).items()
    waiting = {one.file: one.key for one in list_waiting(fresh.workspace)}
    others = {f"take-{waiting['march.csv']}": digest, name: digest[::-1], "take-" + "0" * 16: digest}
    answer = at_fresh.post("/files/waiting", data={"form_token": token, **others})
    said = text_of(at_fresh.get(answer.headers["location"]).text)
    assert "0 files taken." in said
    assert "march.csv was not taken: it is no longer what was shown" in said
    assert "readers.csv was not taken: it is no longer what was shown" in said
    assert "that file does not wait any longer" in said
    assert takes(fresh) == before
    answer = at_fresh.post("/files/waiting", data={"form_token": token})
    assert answer.status_code == 400
    assert "no file was marked; nothing was taken" in text_of(answer.text).lower()


def test_a_page_says_once_why_a_file_waits_and_no_longer_once_it_is_answered(
    fresh: Served, at_fresh: httpx.Client, tmp_path: Path
) -> None:
    folder = tmp_path / "incoming"
    folder.mkdir()
    (folder / "feb.csv").write_text(ONE_DAY)
    (folder / "letter.csv").write_text("Ada\n")
    (folder / "link.csv").symlink_to(folder / "feb.csv")
    watcher = Watcher(fresh.workspace, lambda said: None)
    intake = Intake(str(folder), quiet_s=0)
    watcher.look(intake)
    waiting = {one.file: f"/files/waiting/{one.key}" for one in list_waiting(fresh.workspace)}
    asks = "can be day-month-year or month-day-year"
    assert text_of(at_fresh.get(waiting["feb.csv"]).text).count(asks) == 1
    answered = text_of(at_fresh.get(waiting["feb.csv"], params={"dates": "dmy"}).text)
    assert "It has to be asked about" not in answered
    assert "Take 2 rows in" in answered
    assert text_of(at_fresh.get(waiting["letter.csv"]).text).count("no table of rows is recognised") == 1
    link = at_fresh.get(waiting["link.csv"])
    assert link.status_code == 200
    assert text_of(link.text).count("link.csv is a link, which is not followed") == 1
    assert "rows in</button>" not in link.text


def test_a_long_cell_and_a_name_that_was_changed_are_said_to_be(at_fresh: httpx.Client, form_token: Token) -> None:
    token = form_token(at_fresh)
    long = LOG.replace("in;x", f"in;{'y' * 3000}")
    put(at_fresh, token, ("a" * 300 + ".csv", long))
    place = at_fresh.get("/files").text.split('href="/files/waiting/')[1].split('"', 1)[0]
    page = text_of(at_fresh.get(f"/files/waiting/{place}").text)
    assert "y" * 121 not in page
    assert f"{'y' * 120}… (3,000 characters)" in page
    put(at_fresh, token, ("b" * 300 + ".csv", LOG))
    page = text_of(at_fresh.get("/files").text)
    assert f"{'b' * 60}… (304 characters) is kept as {'b' * 146}.csv." in page


def test_what_is_asked_of_a_file_and_why_rows_are_rejected_is_told_in_spanish(
    at_fresh: httpx.Client, form_token: Token
) -> None:
    asked = put_one(at_fresh, form_token(at_fresh), "days.csv", ONE_DAY)
    looked = put_one(at_fresh, form_token(at_fresh), "log.csv", LOG)
    assert "puede ser día-mes-año o mes-día-año, y nada en el archivo lo decide" in text_of(
        at_fresh.get(f"{asked}?speak=es").text
    )
    page = at_fresh.get(looked).text
    assert "Un número que se teclea solo tiene cifras; corríjalo" in text_of(page)
    said = {"form_token": form_token(at_fresh), "do": "take", **shown_by(page)}
    taken = at_fresh.post(looked, data=said)
    told = text_of(at_fresh.get(taken.headers["location"]).text)
    assert "log.csv: 4 filas leídas, 2 incorporadas, 0 ya conocidas, 2 rechazadas." in told
    # the reasons are kept in English, and told again
    assert "Ningún lector se llama 'KILN'; incorpore antes la lista de lectores, o corrija el nombre" in told
    refused = at_fresh.post("/files/waiting", data={"form_token": form_token(at_fresh)})
    assert (refused.status_code, "No se seleccionó ningún archivo" in refused.text) == (400, True)
