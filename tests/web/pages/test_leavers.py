"""Leavers: who must be gone from where, one person's whole way, holds, rounds, erasing; and the schedule."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime
from pathlib import Path

import httpx
import pytest

from evenhand.jobs.correct import CorrectionRequest, correct
from evenhand.jobs.leavers import HandHeld, Leaver
from evenhand.jobs.reckoning import reckon_period
from evenhand.jobs.take import take_files
from evenhand.jobs.workspace import Workspace, create_workspace, open_workspace
from evenhand.web.pages.leavers.view import HandsByDay, hands_by_day
from tests.jobs.test_erasure import LATER, LISTED, PEOPLE, READERS, THEN, WEEK, csv, log
from tests.untranslated import MADE_HERE, untranslated
from tests.web.conftest import serving

NOW = datetime(2026, 11, 27, 15, tzinfo=UTC)


@dataclass
class Pages:
    """A browser let in at a workplace whose files lie in a folder."""

    client: httpx.Client
    folder: Path
    workspace: Workspace

    def get(self, page: str) -> str:
        return self.client.get(page, follow_redirects=True).text


@pytest.fixture
def pages(tmp_path: Path) -> Iterator[Pages]:
    workspace = create_workspace(tmp_path / "mill")
    with workspace.settings_file.open("a") as settings:
        settings.write('\n[retention]\nplace = "US-IL"\n')
    files = {"readers.csv": READERS, "people.csv": PEOPLE, "listed.csv": LISTED, "log.csv": csv(log())}
    for name, text in files.items():
        (tmp_path / name).write_text(text)
        take_files(workspace, [tmp_path / name])
    with serving(workspace, NOW) as served, served.enter() as client:
        yield Pages(client, tmp_path, workspace)


def take_later(pages: Pages) -> None:
    place = pages.folder / "later.csv"
    place.write_text(LATER)
    take_files(pages.workspace, [place])


def send(pages: Pages, page: str, to: str, **said: str) -> str:
    """Send a form of a page with what stands in it, and return the page that it leads to."""
    html = pages.get(page)
    form = re.search(rf'<form[^>]*action="{re.escape(to)}".*?</form>', html, re.DOTALL)
    assert form, html
    fields = re.findall(r'name="([^"]+)"(?: [^>]*?)?(?: value="([^"]*)")', form[0])
    return pages.client.post(to, data={**dict(fields), **said}, follow_redirects=True).text


def test_a_leaver_goes_from_the_round_to_the_proof_and_is_erased(pages: Pages) -> None:
    listed = pages.get("/leavers")
    assert "Hands to be removed" in listed
    assert "1 hand is overdue" in listed
    assert re.search(r"overdue since Mon.1.Mar.2021", listed)
    way = pages.get("/leavers/P1002")
    assert "740 ILCS 14/15(a), in force since" in way
    assert 'Mon\u00a01\u00a0Mar\u00a02021 <span class="lacking">overdue</span>' in way
    made = send(pages, "/leavers", "/leavers/round", author="Ada")
    assert "What proves it is a list of each reader" in made
    assert "The hand is on a round to be taken off GATE." in pages.get("/leavers")
    held = pages.get("/leavers/P1002/erase?what=all")
    assert "GATE still lists the hand under 420002" in held
    assert "Erase for good" not in held
    take_later(pages)
    assert "They may go from Wed 11 Feb 2026 on at the earliest" in way  # five years after the last use
    proved = pages.get("/leavers/P1002")
    assert "<strong>Proved gone</strong>" in proved and "later.csv" in proved
    # Five years after the day of the list that proves it, in which somebody may sue (735 ILCS 5/13-205, from memory).
    assert "735 ILCS 5/13-205" in proved
    assert "Time records stay until" in proved and "at the earliest" not in proved
    look = pages.get("/leavers/P1002/erase")
    assert "Erase what came of the hand of Ben Rook?" in look
    done = send(pages, "/leavers/P1002/erase", "/leavers/P1002/erase", author="Ada", reason="due")
    assert "Erasure 1 is done." in done
    assert "Nothing is left of it." in pages.get("/leavers/P1002/erase?what=hand")


def test_the_look_at_an_erasure_is_in_spanish_as_in_english(pages: Pages) -> None:
    def left(what: str) -> set[str]:
        english, spanish = (pages.get(f"/leavers/P1002/erase?what={what}&speak={one}") for one in ("en", "es"))
        assert "¿Borrar " in spanish
        return untranslated(english, spanish, ["Ben Rook", "GATE", "evenhand", "Workplace", *MADE_HERE])

    assert left("all") == left("hand") == set()  # while the hand is listed
    take_later(pages)
    assert left("all") == left("hand") == set()
    send(pages, "/leavers/P1002", "/leavers/P1002/hold", author="Ada", reason="417")
    assert left("all") == left("hand") == set()
    place = "/leavers/P1002/erase"
    assert "no se borró nada" in send(pages, place, place, author="Ada", reason="417", would="something else")
    done = send(pages, place, place, author="Ada", reason="417", hold="seen")
    assert "El borrado 1 está hecho. Los espacios libres del disco" in done


def test_a_hold_is_placed_and_lifted_and_says_that_it_keeps_no_hand(pages: Pages) -> None:
    placed = send(pages, "/leavers/P1002", "/leavers/P1002/hold", author="Ada", reason="charge 7")
    assert "Hold 1 is placed by Ada." in placed
    assert "It does not by itself allow keeping a hand" in placed
    again = send(pages, "/leavers/P1002", "/leavers/P1002/hold", hold="", author="Ada", reason="audit 8")
    assert "Legal holds stop their disposal: charge 7; audit 8." in again
    assert "charge 7; audit 8" in pages.get("/leavers")
    for number in ("1", "2"):
        said = {"hold": number, "author": "Ada", "reason": "over"}
        assert f"Hold {number} is lifted by Ada." in send(pages, "/leavers/P1002", "/leavers/P1002/hold", **said)
    assert "Lift hold" not in pages.get("/leavers/P1002")


def test_what_was_not_shown_is_not_erased(pages: Pages) -> None:
    take_later(pages)
    refused = send(
        pages, "/leavers/P1002/erase", "/leavers/P1002/erase", author="Ada", reason="due", would="something else"
    )
    assert "no longer what was shown" in refused


def test_pages_as_of_a_time_that_has_not_come_show_an_erasure_and_do_none(pages: Pages) -> None:
    take_later(pages)
    later = datetime(2032, 1, 7, 15, tzinfo=UTC)  # five years after the proof, and so records may go
    place = "/leavers/P1002/erase"
    with serving(open_workspace(pages.workspace.directory), later, NOW) as served, served.enter() as client:
        then = Pages(client, pages.folder, pages.workspace)
        assert "Erase everything about Ben Rook?" in then.get(place)
        refused = send(then, place, place, author="Ada", reason="due")
    assert "hese pages show a time later than now, and an erasure cannot be undone" in refused
    assert "Ben Rook" in pages.get("/leavers")


def test_scores_under_a_hold_go_only_with_the_mark_that_counsel_was_asked(pages: Pages) -> None:
    take_later(pages)
    send(pages, "/leavers/P1002", "/leavers/P1002/hold", author="Ada", reason="charge 7")
    place = "/leavers/P1002/erase"
    assert "A legal hold stands (charge 7), and counsel says that the scores may go" in pages.get(place)
    refused = send(pages, place, place, author="Ada", reason="due", hold="")
    assert "is under a legal hold (charge 7), and whether scores may go is for counsel to say" in refused
    assert "Erasure 1 is done." in send(pages, place, place, author="Ada", reason="due")


def test_whoever_is_employed_is_no_leaver(pages: Pages) -> None:
    assert "is employed and has not withdrawn consent" in pages.get("/leavers/P1001")


def test_the_schedule_names_the_laws_of_the_workplace_and_no_others(pages: Pages) -> None:
    page = pages.get("/retention")
    for law in ("740 ILCS 14/15(a)", "29 CFR 516.5(a)", "820 ILCS 105/8"):
        assert law in page
    assert "US-IL binds Mill" in page
    assert "Tex. Bus." not in page
    assert "GDPR" not in page


def test_where_no_law_is_on_file_common_practice_is_in_force_since_no_day(pages: Pages) -> None:
    settings = pages.workspace.settings_file
    settings.write_text(settings.read_text().replace('place = "US-IL"', 'place = "US-WY"'))
    for page in ("/leavers/P1002", "/retention"):
        shown = pages.get(page)
        assert "common practice, no source<br>" in shown
        assert "1970" not in shown


def test_readers_of_one_day_stand_together_and_what_is_proved_behind_them() -> None:
    hand = HandHeld(
        reader="GATE", number="1", since=None, last_interaction=None, state="held", destroy_by=date(2026, 9, 14),
        is_overdue=True, law="", rule="", started_on=date(2026, 9, 14), version=date(2026, 9, 14), reading="",
        checked="seen", chosen_from="", round="", said_at=None, said_by="", proof=None, proof_file="", proved_on=None,
    )  # fmt: skip
    later = replace(hand, reader="ATTIC", destroy_by=date(2026, 9, 15), is_overdue=False)
    hands = (replace(hand, reader="SILO"), later, replace(hand, reader="YARD", state="proved"), hand)
    one = Leaver(
        person="P1", name="Ada", purpose_ended=date(2026, 9, 14), why="", last_day=None, places=(), state="to_remove",
        says="", hands=hands, keep_through=None, keep_law="", keep_rule="", keep_reading="", keep_chosen_from="",
        erase_from=None, hold="",
    )  # fmt: skip
    assert hands_by_day(one) == [
        HandsByDay(("GATE", "SILO"), date(2026, 9, 14), is_overdue=True),
        HandsByDay(("ATTIC",), date(2026, 9, 15), is_overdue=False),
        HandsByDay(("YARD",), None, is_overdue=False),
    ]


def test_texts_that_may_name_them_are_marked_read_and_rewritten(pages: Pages) -> None:
    settings = pages.workspace.settings_file
    settings.write_text(settings.read_text().replace('place = "US-IL"', 'place = "US"'))
    take_later(pages)
    for minute, reason in ((1, "asked Rook about it"), (2, "a rook in the gate")):
        at = datetime(2021, 2, 10, 19, minute, tzinfo=UTC)
        asked = CorrectionRequest("add", "P1001", author="Ada", reason=reason, at=at, direction="in")
        correct(pages.workspace, reckon_period(pages.workspace, THEN, WEEK), asked, as_of=THEN)
    place = "/leavers/P1002/erase"
    look = pages.get(place)
    assert re.findall(r'name="reword" value="([^"]+)"( checked)?', look) == [
        ("corrections/1:reason", " checked"),
        ("corrections/2:reason", ""),
    ]
    form = {"form_token": re.findall(r'name="form_token" value="([^"]+)"', look)[0], "author": "Ada", "reason": "due"}
    form |= {
        "what": "all",
        "would": re.findall(r'name="would" value="([^"]+)"', look)[0],
        "reword": "corrections/1:reason",
    }
    unread = pages.client.post(place, data=form)
    assert (unread.status_code, "2 texts about others may name Ben Rook" in unread.text) == (409, True)
    done = pages.client.post(place, data=form | {"texts": "seen"}, follow_redirects=True).text
    assert "Left as they are, as you said: corrections/2." in done
