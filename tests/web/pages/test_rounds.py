"""Round without script: plain forms, one person at a time, and what a phone sends."""

from __future__ import annotations

import json
import re
import secrets
from collections.abc import Callable, Iterator
from datetime import date

import httpx
import pytest

from evenhand.jobs.rounds import list_rounds, see_round
from evenhand.store import frames
from evenhand.store.rounds import add_round
from evenhand.terms.json_form import as_json_value
from evenhand.terms.rounds import JUDGED, ROUND_ITEMS
from evenhand.web.pages.rounds.view import judged
from tests.printed import texts
from tests.untranslated import language_of, untranslated
from tests.web.conftest import MILL_AS_OF, Served
from tests.web.rounds import NAME, PLACE, READER, add_mill_round

Token = Callable[[httpx.Client], str]


@pytest.fixture(scope="module", autouse=True)
def a_round(mill: Served) -> Iterator[None]:
    add_mill_round(mill)
    yield


def _results(mill: Served) -> dict[str, str | None]:
    return dict(see_round(mill.workspace, NAME).states.select("item", "result").iter_rows())


def _outcome(name: str, item: int, result: str = "enrolled", **more: object) -> dict[str, object]:
    made_at = int(MILL_AS_OF.timestamp()) + 10 * item
    return {"outcome": name, "item": f"{NAME}-{item}", "result": result, "author": "Sol", "made_at": made_at, **more}


def test_the_rounds_lead_to_their_readers_and_sheets(at_mill: httpx.Client) -> None:
    assert f'href="/rounds/{NAME}"' in at_mill.get("/rounds").text
    page = at_mill.get(f"/rounds/{NAME}").text
    assert f'href="{PLACE}"' in page
    assert "0 of 5" in page
    for sheet in ("round", "slips", "wall_card", "supervisor_card"):
        answer = at_mill.get(f"/rounds/{NAME}/print/{sheet}.pdf")
        assert answer.headers["content-type"] == "application/pdf"
        assert answer.content.startswith(b"%PDF")
    assert at_mill.get(f"/rounds/{NAME}/print/other.pdf").status_code == 404


def test_the_page_shows_one_person_and_speaks_two_languages(at_mill: httpx.Client) -> None:
    shown = at_mill.get(PLACE).text.partition("</head>")[2]
    assert "Tess Marrow" in shown
    assert "4101" in shown
    assert "Joss Fenn" not in shown
    spanish = at_mill.get(PLACE + "?speak=es").text.partition("</head>")[2]
    assert "Inscribir (supervisión)" in spanish
    assert '<html lang="es"' in at_mill.get(PLACE + "?speak=es").text
    assert '<html lang="es"' in at_mill.get(PLACE).text  # what was chosen stays
    assert '<html lang="en"' in at_mill.get(PLACE + "?speak=en").text


def test_a_tap_chooses_no_language(mill: Served, form_token: Token) -> None:
    with mill.enter() as desk:
        desk.headers["accept-language"] = "es"
        page = desk.get(PLACE).text
        assert language_of(page) == "es"
        form = re.search(r'<form method="post" id="form" action="([^"]*)"', page)
        assert form is not None
        said = {"form_token": form_token(desk), "author": "Sol", "outcome": "none", "item": "none", "choice": "passed"}
        assert language_of(desk.post(form[1], data=said).text) == "es"
        back = desk.get(f"{PLACE}?read={NAME}-2&speak=es").text.partition('class="back" href="')[2].partition('"')[0]
        refused = {
            "form_token": said["form_token"],
            "read": f"{NAME}-2",
            "said": "agree",
            "signature": "B",
            "policy": "0",
        }
        assert language_of(desk.post(f"{PLACE}?speak=es", data=refused).text) == "es"
        tells = re.findall(r'<a href="([^"]*tell=[^"]*)"', page)
        assert tells
        for one in (back, *tells):
            desk.get(PLACE + one.replace("&amp;", "&"))
        desk.headers["accept-language"] = "en"
        assert language_of(desk.get("/").text) == "en"


def test_a_tap_that_cannot_be_is_refused_in_spanish(mill: Served, form_token: Token) -> None:
    with mill.enter() as desk:
        desk.headers["accept-language"] = "es"
        taps = [
            _outcome("odd-1", 1, "foo"),
            _outcome("odd-2", 1, "removed"),
            _outcome("odd-3", 1) | {"item": "zzz"},
            _outcome("odd-4", 1) | {"author": ""},
        ]
        said = {"form_token": form_token(desk), "outcomes": json.dumps(taps)}
        rejected = dict(desk.post(PLACE, data=said).json()["rejected"])
    assert "«foo» no es un resultado; dé uno de estos" in rejected["odd-1"]
    assert rejected["odd-2"].startswith("«removed» no es un resultado de un paso que dice «enrol")
    assert "«zzz» no es nada que hacer aquí" in rejected["odd-3"]
    assert rejected["odd-4"] == "al resultado le falta «author»; dígalo."


def test_only_the_held_page_may_run_a_script_of_ours(at_mill: httpx.Client) -> None:
    assert "script-src 'self'" in at_mill.get(PLACE).headers["content-security-policy"]
    assert "script-src 'self'" not in at_mill.get("/").headers["content-security-policy"]
    assert at_mill.get("/rounds/worker.js").headers["content-type"].startswith("text/javascript")


def test_a_form_is_kept_once_and_calls_the_next_person(mill: Served, at_mill: httpx.Client, form_token: Token) -> None:
    form = {
        "form_token": form_token(at_mill),
        "outcome": "form-1",
        "item": f"{NAME}-1",
        "author": "Sol",
        "choice": "enrolled 4",
        "score-1": "4",
        "score-2": "6,5",
    }
    for _ in range(2):
        answer = at_mill.post(PLACE, data=form)
        assert (answer.status_code, answer.headers["location"]) == (303, PLACE)
    states = see_round(mill.workspace, NAME).states
    assert states.filter(states["item"] == f"{NAME}-1").select(
        "result", "presentations", "scores", "called"
    ).rows() == [("enrolled", 4, "4 6.5", 0)]
    assert "Bram Ostler" in at_mill.get(PLACE).text.partition("</head>")[2]


def test_a_form_that_is_not_whole_changes_nothing(mill: Served, at_mill: httpx.Client, form_token: Token) -> None:
    before = _results(mill)
    form = {"form_token": form_token(at_mill), "outcome": "x", "item": f"{NAME}-2", "author": "Sol"}
    for change, status in (
        ({"choice": "enrolled 3", "author": " "}, 400),
        ({"choice": "gone"}, 400),
        ({"choice": "cannot"}, 400),
        ({"choice": "enrolled 3", "item": "other-1"}, 400),
        ({"choice": "enrolled 3", "form_token": "other"}, 400),
    ):
        assert at_mill.post(PLACE, data=form | change).status_code == status
    assert _results(mill) == before


def test_what_a_phone_sends_twice_is_kept_once(mill: Served, at_mill: httpx.Client, form_token: Token) -> None:
    said = [_outcome("phone-1", 2, "try_again"), _outcome("phone-2", 4, "cannot"), _outcome("phone-3", 5, "removed")]
    form = {"form_token": form_token(at_mill), "outcomes": json.dumps(said)}
    answers = [at_mill.post(PLACE, data=form).json() for _ in range(2)]
    assert answers[0] == answers[1]
    assert answers[0]["kept"] == ["phone-1", "phone-3"]
    assert "give the reason" in answers[0]["rejected"]["phone-2"]
    told = {item["item"]: item["result"] for item in answers[0]["items"]}
    assert told[f"{NAME}-2"] == "try_again"
    assert told[f"{NAME}-5"] == "removed"
    assert _results(mill)[f"{NAME}-4"] is None


HOSTILE = {
    "made_at": (285_428_751 * 31_556_952, -(2**60), 10**30, 0, 1.5, True, None, "now"),  # the year 285,428,751
    "presentations": (-1, 0, 10**30, 2**53, 1.5, ""),
    "author": ("Sol\ud800", "\u202eSol", "So\u200bl", "", None, "x" * 501, ["Sol"]),
    "reason": ("\ud800", 7, {"a": 1}),
    "scores": ("nan", "1e400", "\x1b[2J"),
    "outcome": ("\ud800", "", None, "y" * 501),
    "item": ("\u2028", [], 3),
    "result": ("\x00", ["enrolled"]),
}


def test_no_tap_that_cannot_be_stops_the_others_or_the_page(
    mill: Served, at_mill: httpx.Client, form_token: Token
) -> None:
    good = {"item": f"{NAME}-2", "result": "try_again", "author": "Sol", "made_at": int(MILL_AS_OF.timestamp())}
    taps = [
        {**good, "outcome": f"hostile {column} {place}", column: value}
        for column, values in HOSTILE.items()
        for place, value in enumerate(values)
        if not (column == "presentations" and value == "")  # nothing said
    ]
    for tap in taps:
        form = {"form_token": form_token(at_mill), "outcomes": json.dumps([tap])}
        answer = at_mill.post(PLACE, data=form)
        assert answer.status_code == 200, tap
        assert answer.json()["kept"] == [], tap
        assert len(answer.json()["rejected"]) == 1, tap
    assert at_mill.get(PLACE).status_code == 200
    states = see_round(mill.workspace, NAME).states
    assert "hostile" not in json.dumps(as_json_value(states))


def test_a_line_break_in_a_tap_is_a_blank(mill: Served, at_mill: httpx.Client, form_token: Token) -> None:
    tap = {"outcome": "broken", "item": f"{NAME}-4", "result": "try_again", "author": "Sol\nAda"}
    tap["made_at"] = int(MILL_AS_OF.timestamp())
    at_mill.post(PLACE, data={"form_token": form_token(at_mill), "outcomes": json.dumps([tap])})
    with mill.workspace.store.reading() as conn:
        assert "Sol Ada" in frames.outcomes(conn, NAME)["author"].to_list()


@pytest.mark.parametrize("outcomes", ["", "{}", "[1]", "[" + ",".join(["{}"] * 101) + "]"])
def test_what_is_no_list_of_outcomes_is_refused(at_mill: httpx.Client, form_token: Token, outcomes: str) -> None:
    form = {"form_token": form_token(at_mill), "outcomes": outcomes}
    assert at_mill.post(PLACE, data=form).status_code == 400


def test_rounds_and_readers_that_are_not_there_say_so(at_mill: httpx.Client) -> None:
    for place in ("/rounds/other", f"/rounds/{NAME}/other", f"/rounds/other/{READER}"):
        assert at_mill.get(place).status_code == 404


def test_nobody_who_was_not_let_in_sees_a_round(mill: Served) -> None:
    for place in (PLACE, "/rounds", "/rounds/worker.js"):
        assert httpx.get(mill.base + place).status_code == 403


def test_the_line_at_shift_change_is_drawn_with_what_it_costs_at_least_and_at_most(twin: Served) -> None:
    with twin.enter() as client:
        readers = re.findall(r'href="(/rounds/queues/[^"]+)"', client.get("/rounds").text)
        assert readers
        pages = [client.get(place).text for place in readers]
    drawn = [page for page in pages if "Lost in a week, at most" in page and 'class="mark bar"' in page]
    assert drawn
    assert all("local codes and agreements decide" in page for page in drawn)


def test_a_reader_too_quiet_to_tell_asks_how_long_one_person_takes(at_mill: httpx.Client) -> None:
    asked = at_mill.get(f"/rounds/queues/{READER}")
    assert asked.status_code == 200
    assert "busy enough" in asked.text
    assert "--service" not in asked.text
    told = at_mill.get(f"/rounds/queues/{READER}", params={"takes": "9"})
    assert "<dt>One person takes</dt><dd>9 s</dd>" in told.text
    assert at_mill.get(f"/rounds/queues/{READER}", params={"takes": "0"}).status_code == 400
    assert at_mill.get("/rounds/queues/NOWHERE").status_code == 404


def test_what_the_noted_scores_say_is_told_in_words(mill: Served) -> None:
    seen = see_round(mill.workspace, NAME)
    quality = JUDGED.rows(
        [{"item": f"{NAME}-2", "presentations": 3, "advice": "one_more", "expected": 5.0, "says": "Once more."}]
    )
    assert judged(seen, quality) == [{"who": "Bram Ostler", "reader": READER, "says": "Once more."}]


# ---- turns passed over, put aside, put back; numbers that stay; strangers; what the desk sees

AGAIN = "2026-03-10-1"
HERE = f"/rounds/{AGAIN}/{READER}"


@pytest.fixture
def again(mill: Served) -> None:
    """A round of today: Joss is to be enrolled, and two numbers are to come off."""
    if AGAIN in list_rounds(mill.workspace)["round"]:
        return
    header = {"round": AGAIN, "title": "Again", "day": date(2026, 3, 10), "asked": "{}", "author": "Ida", "made_at": 1}
    rows = [("enrol", "4104", "P4", "Joss Fenn"), ("remove", "4102", None, None), ("remove", "8888", None, None)]
    with mill.workspace.store.writing() as conn:
        items = ROUND_ITEMS.rows(
            {
                "item": f"{AGAIN}-{n}",
                "round": AGAIN,
                "reader": READER,
                "position": n,
                "action": action,
                "number": number,
                "person": person,
                "name": name,
                "language": "es",
            }
            for n, (action, number, person, name) in enumerate(rows, start=1)
        )
        add_round(conn, header, items)


def _state(mill: Served, item: int) -> dict[str, object]:
    states = see_round(mill.workspace, AGAIN).states
    return states.filter(states["item"] == f"{AGAIN}-{item}").row(0, named=True)


def _turn(client: httpx.Client) -> str:
    return client.get(HERE).text.partition('id="turn"')[2]


def _tap(client: httpx.Client, token: Token, **said: str) -> httpx.Response:
    outcome = {"outcome": secrets.token_hex(8), "author": "Sol", "form_token": token(client)}
    return client.post(HERE, data=outcome | said)


def test_a_turn_is_passed_over_put_aside_with_why_and_put_back(
    again: None, mill: Served, at_mill: httpx.Client, form_token: Token
) -> None:
    assert 'id="name">Joss Fenn' in _turn(at_mill)
    _tap(at_mill, form_token, item=f"{AGAIN}-1", choice="passed_over")
    assert "8888" in _turn(at_mill).partition("</article>")[0]
    assert _tap(at_mill, form_token, item=f"{AGAIN}-3", choice="not_done").status_code == 400
    _tap(at_mill, form_token, item=f"{AGAIN}-3", choice="not_done", why="The reader does not work")
    assert (_state(mill, 3)["result"], _state(mill, 3)["reason"]) == ("not_done", "The reader does not work")
    assert "Joss Fenn" in _turn(at_mill).partition("</article>")[0]
    for item in (1, 3):
        assert _tap(at_mill, form_token, put_back=f"{AGAIN}-{item}").status_code == 303
        assert _state(mill, item)["result"] is None


def test_a_number_that_is_somebodys_own_is_never_a_turn_and_says_so(
    again: None, mill: Served, at_mill: httpx.Client, form_token: Token
) -> None:
    page = at_mill.get(HERE).text.partition("</head>")[2]
    assert "4102" not in page.partition('id="turn"')[2].partition("</article>")[0]
    assert "4102 is Bram Ostler" in page.replace("&#39;", "'")
    assert "own number" in page.partition('id="stays"')[2]
    assert "el número propio de Bram Ostler" in at_mill.get(HERE + "?speak=es").text.partition('id="stays"')[2]
    at_mill.get(HERE + "?speak=en")
    [paper] = texts(at_mill.get(f"/rounds/{AGAIN}/print/round.pdf").content)
    assert "Not this one: 4102 is Bram Ostler's own number." in " ".join(paper.split()).replace("\u2019", "'")
    assert paper.count("Taken off") == 1  # of the other number, which nobody works with
    desk = at_mill.get(f"/rounds/{AGAIN}").text.replace("&#39;", "'")
    assert "stays: it is Bram Ostler's own number" in desk
    # a page of before it was held back: what was done is kept, and the desk is told that none may work now
    _tap(at_mill, form_token, item=f"{AGAIN}-2", choice="removed")
    assert _state(mill, 2)["result"] == "removed"
    assert "none may work for them here" in at_mill.get(f"/rounds/{AGAIN}").text
    _tap(at_mill, form_token, put_back=f"{AGAIN}-2")


def test_after_five_presentations_it_stops_and_says_what_to_do(
    again: None, mill: Served, at_mill: httpx.Client, form_token: Token
) -> None:
    page = at_mill.get(HERE).text
    assert re.findall(r'value="enrolled (\d)"', page) == ["3", "4", "5"]
    _tap(at_mill, form_token, item=f"{AGAIN}-1", choice="stopped 5")
    page = at_mill.get(HERE).text
    assert "stop here. Let the hand rest" in page.partition('id="stop"')[2].partition("</section>")[0]
    assert 'id="stop" hidden' not in page
    _tap(at_mill, form_token, item=f"{AGAIN}-3", choice="not_done", why="Another reason")
    assert "Five presentations did not agree before" in _turn(at_mill).partition("</article>")[0]
    _tap(at_mill, form_token, item=f"{AGAIN}-1", choice="stopped 5")
    page = at_mill.get(HERE).text
    assert re.search(r'id="released" hidden', page)
    assert not re.search(r'id="resting" hidden', page)
    for item in (1, 1, 3):
        _tap(at_mill, form_token, put_back=f"{AGAIN}-{item}")


def test_scores_are_one_by_one_and_none_is_left_out(again: None, at_mill: httpx.Client, form_token: Token) -> None:
    said = {"item": f"{AGAIN}-1", "choice": "enrolled 3", "score-2": "7"}
    answer = _tap(at_mill, form_token, **said)
    assert answer.status_code == 400
    assert "from the first on, or none" in answer.text


def test_what_is_read_out_is_in_the_persons_language_or_the_one_chosen(again: None, at_mill: httpx.Client) -> None:
    told = at_mill.get(HERE).text.partition('id="told"')[2].partition("</ul>")[0]
    assert 'lang="es"' in told
    assert "Apoye la mano plana" in told
    chosen = at_mill.get(HERE + "?tell=en").text.partition('id="told"')[2].partition("</ul>")[0]
    assert "Lay your hand flat" in chosen


def test_whoever_stands_there_is_added_by_a_whole_name_and_signs_first(
    again: None, mill: Served, at_mill: httpx.Client, form_token: Token
) -> None:
    assert _tap(at_mill, form_token, stranger="Nobody At All").status_code == 404
    assert _tap(at_mill, form_token, stranger="ostler, BRAM").status_code == 303
    page = at_mill.get(HERE).text.partition("</head>")[2]
    assert 'id="name">Bram Ostler' in page
    assert "Enrol again" in _turn(at_mill).partition("</article>")[0]
    assert _tap(at_mill, form_token, stranger="4102").status_code == 409
    refused = _tap(at_mill, form_token, stranger="4102").text
    # told in the round itself, with what was keyed
    assert "has a turn here already" in refused.partition('role="alert"')[2].partition("</section>")[0]
    assert 'id="name">Bram Ostler' in refused
    assert re.search(r'id="stranger"[^>]* value="4102"', refused)
    assert see_round(mill.workspace, AGAIN).header["round"] == AGAIN


def test_the_desk_may_try_as_many_names_as_it_likes(again: None, at_mill: httpx.Client, form_token: Token) -> None:
    for n in range(8):
        answer = _tap(at_mill, form_token, stranger=f"Nobody {n}")
        assert "look at it once more" in answer.text


def test_without_a_release_nothing_is_said_of_the_hand_before_the_person_has_decided(
    again: None, at_mill: httpx.Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    told = "evenhand.web.pages.rounds.page.unreleased_items"
    monkeypatch.setattr(told, lambda workspace, states, as_of: states["item"].to_list())
    page = at_mill.get(HERE).text.partition("</head>")[2]
    assert "Enrol again" in page.partition("<article")[2].partition("</article>")[0]
    assert "No release in force" in page.partition("<article")[2].partition("</article>")[0]
    for part in ("again", "to-person", "steps", "released", "try-again"):
        assert re.search(rf'id="{part}"[^>]* hidden', page), part
    assert not re.search(r'id="unreleased" hidden', page)


def test_no_reason_is_kept_that_nobody_chose_and_none_of_anybodys_health_is_there_to_choose(
    again: None, mill: Served, at_mill: httpx.Client, form_token: Token
) -> None:
    page = at_mill.get(HERE).text
    for name in ("reason", "other_way", "why"):
        first = page.partition(f'<select id="{name}"')[2].partition("</option>")[0]
        assert 'value=""' in first
    reasons = page.partition('<select id="reason"')[2].partition("</select>")[0]
    assert not re.search("hurt|cast|ill", reasons)
    before = _state(mill, 1)
    for choice in ("cannot", "not_done"):
        assert _tap(at_mill, form_token, item=f"{AGAIN}-1", choice=choice).status_code == 400
    assert _tap(at_mill, form_token, item=f"{AGAIN}-1", choice="cannot", reason="Another reason").status_code == 400
    assert _state(mill, 1) == before


def test_the_desk_sees_each_turn_with_who_when_and_why(
    again: None, mill: Served, at_mill: httpx.Client, form_token: Token
) -> None:
    _tap(
        at_mill,
        form_token,
        item=f"{AGAIN}-1",
        choice="cannot",
        reason="The hand cannot be used",
        other_way="A card",
    )
    turns = at_mill.get(f"/rounds/{AGAIN}").text.partition("Each turn at")[2]
    row = turns.partition("Joss Fenn")[2].partition("</tr>")[0]
    for words in (
        "cannot be enrolled: The hand cannot be used",
        "instead: A card",
        "Mon 9 Mar 2026, 09:00",
        "Sol",
    ):
        assert words in row


# ---- the workplace's own steps

GREEN = "Turn the green card over"


def test_own_steps_are_written_on_a_page_and_shown_at_each_turn_and_on_the_card(
    again: None, mill: Served, at_mill: httpx.Client, form_token: Token
) -> None:
    assert "Without steps: MILL-1" in at_mill.get("/rounds/steps").text
    begun = at_mill.post("/rounds/steps", data={"form_token": form_token(at_mill), "kind": "With a lid"})
    place = begun.headers["location"]
    form = {
        "form_token": form_token(at_mill),
        "reader": READER,
        "get_in-en": "Lift the lid",
        "enrol-en": f"Key the number\r\n{GREEN}\r\n",
        "quick-enrol-step": "2",
        "quick-enrol-seconds": "8",
        "author": "Ida",
        "reason": "measured",
    }
    assert at_mill.post(place, data=form | {"quick-enrol-seconds": ""}).status_code == 400
    refused = at_mill.post(place, data=form | {"quick-enrol-step": "9"})
    assert "there is no step 9" in refused.text
    assert at_mill.post(place, data=form).status_code == 303
    page = at_mill.get(place).text
    assert "With a lid, version 1, is what turns at its readers show now." in page
    assert "Version 1, Ida" in page
    turn = at_mill.get(HERE).text.partition('id="steps-here"')[2].partition("</details>")[0]
    assert GREEN in turn
    assert "within 8 s" in turn
    assert GREEN in texts(at_mill.get(place + "/sheet.pdf").content)[0]
    card = texts(at_mill.get(f"/rounds/{AGAIN}/print/supervisor_card.pdf").content)
    assert GREEN in card[-1]
    assert at_mill.post(place, data=form | {"get_in-en": "Lift the lid up"}).status_code == 303
    assert "Version 1, Ida" in at_mill.get(place).text.partition("Earlier versions")[2]


WRITTEN = ("With a lid", "Lía <b>Quill</b>", "Again", "Ida", "New gate", "Spring", "Sol", "R. Hale")
"""Names, and what people wrote."""


def test_the_desk_reads_rounds_lines_and_own_steps_in_spanish(mill: Served, at_mill: httpx.Client) -> None:
    with mill.workspace.store.reading() as conn:
        names = [*frames.people(conn)["name"], *frames.readers(conn)["reader"], *frames.readers(conn)["place"]]
    every = (*filter(None, names), *WRITTEN, NAME, "Mill & Sons", "America/New_York", "English", "español", "evenhand")
    every += ("serve", "--host", "--certificate", "--key")
    for place in ("", f"/{NAME}", f"/queues/{READER}", "/steps", "/steps/With%20a%20lid"):
        pages = [at_mill.get(f"/rounds{place}?speak={one}").text for one in ("en", "es")]
        english, spanish = (re.sub("<pre>.*?</pre>", "", page, flags=re.DOTALL) for page in pages)  # a file as it was
        assert (language_of(english), language_of(spanish)) == ("en", "es")
        assert untranslated(english, spanish, every) == set(), place
    at_mill.get("/rounds?speak=en")
