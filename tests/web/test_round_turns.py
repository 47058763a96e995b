"""Turns on a phone in a real browser: stopped, passed over, put aside and put back, also with the wire cut."""

from __future__ import annotations

import random
import re
from collections.abc import Collection, Iterator, Mapping
from datetime import date
from functools import partial

import polars as pl
import pytest
from playwright.sync_api import Browser, BrowserContext, expect

from evenhand.enrolment.own_steps import OwnSteps, Quick
from evenhand.enrolment.places import held_after, without_place
from evenhand.enrolment.rounds import done_in_order, round_states, waiting
from evenhand.enrolment.waiting_on import displaced, missed_by
from evenhand.jobs.at_reader import items_at
from evenhand.jobs.own_steps import add_own_steps
from evenhand.jobs.taking_off import TakingOff
from evenhand.store import frames
from evenhand.store.rounds import add_round
from evenhand.store.written import add_row
from evenhand.terms.rounds import RESULTS, ROUND_ITEMS
from tests.enrolment.rounds import items, outcomes
from tests.web.chromium import chromium
from tests.web.conftest import MILL_AS_OF, Served
from tests.web.rounds import READER, SIGNED
from tests.web.wire import Wire

PHONE = {"width": 390, "height": 844}
AGAIN = "2026-03-11-1"
PLACE = f"/rounds/{AGAIN}/{READER}"


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium() as opened:
        yield opened


@pytest.fixture
def phone(browser: Browser) -> Iterator[BrowserContext]:
    context = browser.new_context(viewport=PHONE, has_touch=True)
    yield context
    context.close()


@pytest.fixture
def wire(mill: Served) -> Iterator[Wire]:
    opened = Wire(mill.base)
    yield opened
    opened.close()


@pytest.fixture(scope="module", autouse=True)
def three(mill: Served) -> None:
    """A round of three: two to be enrolled, and Bram's wrong number to come off after his right one."""
    rows = [("enrol", "4104", "P4", "Joss Fenn"), ("enrol_again", "4102", "P2", "Bram Ostler")]
    rows += [("remove", "4109", "P2", "Bram Ostler")]
    header = {
        "round": AGAIN,
        "title": "Again",
        "day": date(2026, 3, 11),
        "asked": "{}",
        "author": "Ida",
        "made_at": 1,
    }
    three = ROUND_ITEMS.rows(
        {
            "item": f"{AGAIN}-{n}",
            "round": AGAIN,
            "reader": READER,
            "position": n,
            "action": action,
            "number": number,
            "person": person,
            "name": name,
            "language": "en",
        }
        for n, (action, number, person, name) in enumerate(rows, start=1)
    )
    with mill.workspace.store.writing() as conn:
        add_round(conn, header, three)
        for person in ("P2", "P4"):
            add_row(conn, "consent_decisions", SIGNED | {"person": person})
    steps = OwnSteps(
        "With a lid",
        (READER,),
        {"en": {"enrol": ("Key the number", "Press the bell")}, "es": {"enrol": ("Teclee el número", "Toque")}},
        {"enrol": Quick(2, 2)},
    )
    add_own_steps(mill.workspace, steps, file="steps", author="Ida", reason="measured", as_of=MILL_AS_OF)


def test_a_failed_enrolment_holds_the_other_number_back_without_a_connection(
    mill: Served, phone: BrowserContext, wire: Wire
) -> None:
    page = phone.new_page()
    page.goto(f"{wire.base}/enter/{mill.keeper.invite()}")
    page.goto(wire.base + PLACE)
    page.get_by_label("Supervisor at the reader").fill("Sol Vane")
    expect(page.locator("#name")).to_have_text("Joss Fenn")
    expect(page.locator("#stays")).to_be_hidden()
    expect(page.locator("#line")).to_have_text("Everything is sent.")
    wire.cut()
    page.get_by_role("button", name="Pass over for now").tap()
    expect(page.locator("#what")).to_have_text("Enrol again")
    page.get_by_role("button", name="Five, and they do not agree: stop").tap()
    expect(page.locator("#stop")).to_contain_text("Bram Ostler: stop here.")
    # the wrong number, which would be next, is the one that still works
    expect(page.locator("#stays li")).to_have_text(
        re.compile("4109 Bram Ostler: Not yet: Bram Ostler has not been seen")
    )
    expect(page.locator("#name")).to_have_text("Joss Fenn")
    page.get_by_text("Not done", exact=True).tap()
    page.get_by_label("Why it is not done").select_option("The person could not stay")
    page.get_by_role("button", name="Put aside undone").tap()
    expect(page.locator("#once")).to_be_visible()
    page.get_by_role("button", name="Five, and they do not agree: stop").tap()
    expect(page.locator("#resting")).to_be_visible()
    expect(page.locator("#released")).to_be_hidden()
    page.get_by_text("What was tapped here").tap()
    page.get_by_role("button", name="Put back Joss Fenn").tap()
    expect(page.locator("#name")).to_have_text("Joss Fenn")
    wire.mend()
    expect(page.locator("#line")).to_have_text("Everything is sent.", timeout=20_000)
    with mill.workspace.store.reading() as conn:
        said = frames.outcomes(conn, AGAIN).sort("made_at")["result"].to_list()
    assert said == ["passed_over", "stopped", "not_done", "stopped", "undone"]
    expect(page.locator("#stays li")).to_have_count(1)


def test_the_quick_step_is_counted_down_and_says_when_time_is_up(mill: Served, phone: BrowserContext) -> None:
    page = phone.new_page()
    page.goto(f"{mill.base}/enter/{mill.keeper.invite()}")
    page.goto(mill.base + PLACE)
    expect(page.locator("#steps li.quick, #steps li:has(.within)")).to_contain_text("Press the bell")
    page.get_by_role("button", name="Start 2 s").tap()
    expect(page.locator("#steps .left")).to_have_text(re.compile("^[12]$"))
    expect(page.locator("#steps .left")).to_have_text("Time is up: start this person again.", timeout=10_000)
    page.locator("[data-speak=es]").tap()
    expect(page.locator("#steps li").first).to_have_text("Teclee el número")
    expect(page.locator("#told")).to_contain_text("Lay your hand flat")  # read out to the person, not to the supervisor
    page.locator("[data-tell=es]").tap()
    expect(page.locator("#told")).to_contain_text("Apoye la mano plana")


def test_the_phone_calls_people_in_the_order_of_the_round(mill: Served, phone: BrowserContext) -> None:
    page = phone.new_page()
    page.goto(f"{mill.base}/enter/{mill.keeper.invite()}")
    page.goto(mill.base + PLACE)
    draw = random.Random(7)
    rounds, expected = [], []
    for _ in range(200):
        actions = ["enrol", "enrol", "enrol_again", "remove"]
        of = items(*((f"r-{n}", "GATE", n, action, f"P{n}", f"10{n}") for n, action in enumerate(actions, start=1)))
        taps = [
            {
                "outcome": f"o{n:02d}",
                "item": (item := draw.randint(1, 4)) and f"r-{item}",
                "result": draw.choice([one for one in RESULTS if one != ("removed" if item < 4 else "enrolled")]),
                "made_at": draw.randint(1, 9),
            }
            for n in range(draw.randint(0, 8))
        ]
        latest = draw.randint(0, 9)  # what the server has been told of came before what it has not
        states = round_states(of, _outcomes([tap for tap in taps if tap["made_at"] <= latest]))
        whole = round_states(of, _outcomes(taps))
        ring = draw.choice([(), ("r-1", "r-3"), ("r-1", "r-2", "r-3")])  # each takes the hand of the next one off
        takes = dict(zip(ring, (ring[1:] + ring[:1]), strict=True))
        capacity = draw.choice([None, 2, 3])  # the reader holds the last two numbers
        off = TakingOff(
            together=dict.fromkeys(ring, ring),
            takes={item: (other,) for item, other in takes.items()},
            names={item: item for item in of["item"]},
            numbers={"GATE": ("103", "104")},
            capacity={} if capacity is None else {"GATE": capacity},
        )
        rounds.append({"items": items_at(states, "GATE", "UTC", (), off), "tapped": taps, "room": off.room("GATE")})
        expected.append(_next(whole, off.takes, capacity))
    assert len(set(expected)) == 5
    called = page.evaluate(
        "rounds => rounds.map(one => (turnOf(standing(one.items, one.tapped, one.room)) || { item: null }).item)",
        rounds,
    )
    assert called == expected


def _next(states: pl.DataFrame, takes: Mapping[str, tuple[str, ...]], capacity: int | None) -> str | None:
    visit = [row for row in states.iter_rows(named=True) if row["item"] in takes]
    begun = displaced(visit, takes)
    apart = {item for item, _ in missed_by(visit, takes)}
    full: Collection[str] = apart
    if capacity is not None:
        held = held_after(["103", "104"], done_in_order(states, "GATE"))
        called = partial(_called, states, apart, begun)
        full = {*apart, *without_place(called, held, capacity)}
    left = waiting(states, "GATE", full, first=begun)
    return str(left["item"][0]) if left.height else None


def _called(
    states: pl.DataFrame, apart: Collection[str], begun: Collection[str], but: Collection[str]
) -> list[dict[str, object]]:
    return waiting(states, "GATE", {*apart, *but}, first=begun).to_dicts()


def _outcomes(taps: list[dict[str, object]]) -> pl.DataFrame:
    return outcomes(*((tap["outcome"], tap["item"], tap["result"], tap["made_at"]) for tap in taps))
