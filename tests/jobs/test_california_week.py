"""A Californian week from punches to pay: a seventh day, a missed meal period, two rates and a flat bonus.

Rules: Labor Code 510(a) (over 8 hours a day, over 12, past 40 straight hours, the seventh day), 512(a) and 226.7(c)
(meal periods), 4 Cal.5th 542 (flat bonuses). The arithmetic is by hand; the days are those of the week in tests/pay.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, date, datetime
from decimal import Decimal

import pytest

from evenhand.jobs.statement import statement_pdf
from evenhand.jobs.take import Receipt, take_files
from evenhand.jobs.workspace import Workspace, create_workspace
from evenhand.store.settings import write_settings
from evenhand.terms.settings import PayPeriod, SiteRules
from tests.jobs.asked import make_statement, person_pay

D = Decimal
SUNDAY = date(2026, 3, 15)
NOW = datetime(2026, 3, 23, 17, 0, tzinfo=UTC)
FILES = {
    "readers.csv": "reader,site,zone\nHALL,Cannery,America/Los_Angeles\nDYE,Cannery,America/Los_Angeles\n",
    "people.csv": "person,name,number,site\nP1,Zoë Łąkowska-Núñez,4101,Cannery\n",
    "rates.csv": "person,valid from,pay rate,at reader\nP1,2026-01-01,20.00,\nP1,2026-01-01,26.00,DYE\n",
    "earnings.csv": (
        "person,earned from,earned to,kind,amount,label\nP1,2026-03-15,2026-03-21,flat bonus,30.00,full week\n"
    ),
}
# Sun 8 h | Mon 8 | Tue 9 | Wed 13 in the dye house | Thu 8 without a meal period | Fri 4 | Sat 9 in the dye house
DAYS = [
    ("HALL", "15", "08:00 12:00 12:30 16:30"),
    ("HALL", "16", "08:00 12:00 12:30 16:30"),
    ("HALL", "17", "08:00 12:00 12:30 17:30"),
    ("DYE", "18", "06:00 10:00 10:30 15:00 15:30 20:00"),
    ("HALL", "19", "08:00 16:00"),
    ("HALL", "20", "08:00 12:00"),
    ("DYE", "21", "08:00 12:00 12:30 17:30"),
]


@pytest.fixture(scope="module")
def cannery(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Workspace]:
    directory = tmp_path_factory.mktemp("cannery")
    punches = ["reader,number,time,direction"]
    for reader, day, times in DAYS:
        for place, at in enumerate(times.split()):
            punches.append(f"{reader},4101,2026-03-{day} {at}:00,{'out' if place % 2 else 'in'}")
    for name, text in {**FILES, "punches.csv": "\n".join(punches) + "\n"}.items():
        (directory / name).write_text(text)
    made = create_workspace(directory / "workspace", "Cannery", period=PayPeriod(SUNDAY))
    for receipt in take_files(made, [directory / name for name in (*FILES, "punches.csv")]):
        assert isinstance(receipt, Receipt), receipt
        assert receipt.rejected == 0, receipt
    rules = SiteRules("Cannery", "America/Los_Angeles", "california")
    yield bound_by(made, rules)
    made.close()


def bound_by(workspace: Workspace, rules: SiteRules) -> Workspace:
    write_settings(workspace.settings_file, replace(workspace.settings, sites={"Cannery": rules}))
    return workspace


def test_the_hours_are_classed_as_the_labor_code_says(cannery: Workspace) -> None:
    # 59 h: 40 straight; overtime Tue 1, Wed 4, Fri 4, Sat 8 = 17; double time Wed 1, Sat 1 = 2.
    totals = person_pay(cannery, "P1", SUNDAY).week.totals
    assert [totals[f"{name}_s"] // 3600 for name in ("recorded", "ordinary", "overtime", "double")] == [59, 40, 17, 2]


def test_the_missed_meal_period_owes_one_hour_and_nothing_else_does(cannery: Workspace) -> None:
    owed = person_pay(cannery, "P1", SUNDAY).week.hours.premiums
    assert owed.select("workday", "kind", "hours").rows() == [(date(2026, 3, 19), "meal", D(1))]


def test_the_week_pays_what_hand_arithmetic_says(cannery: Workspace) -> None:
    # 37 h x 20 + 22 h x 26 = 1,312; / 59 h = 22.237288; 17 h x half = 189.016949; 2 h x the whole = 44.474576.
    # Bonus 30 / 40 straight hours = 0.75: 17 x 1.5 x 0.75 + 2 x 2 x 0.75 = 22.125. Meal: 22.237288 + 0.75 = 22.987288.
    seen = person_pay(cannery, "P1", SUNDAY)
    assert seen.pay.lines["amount"].to_list() == [
        D("740.00"), D("572.00"), D("30.00"), D("189.02"), D("44.47"), D("22.13"), D("22.99"),
    ]  # fmt: skip
    assert seen.totals["total_pay"] == D("1620.61")
    assert seen.pay.faults.is_empty()
    # Labor Code 510(a) makes all of this week's overtime and double time: past the day, the 40 hours, the seventh day.
    cites = dict(seen.pay.lines.filter(seen.pay.lines["part"] == "overtime").select("label", "cites").iter_rows())
    by_statute = "Cal. Labor Code 510(a); 29 CFR 778.110-778.115"
    assert cites["overtime, the half beyond straight pay"] == by_statute
    assert cites["double time, the whole beyond straight pay"] == by_statute


def test_the_statement_says_the_same(cannery: Workspace) -> None:
    made = make_statement(cannery, "P1", as_of=NOW)
    assert made.content["total"] == "1620.61"
    (week,) = made.content["weeks"]
    saturday = [(row["what"], row["time"]) for row in week["days"][6]["rows"] if row["kind"] == "paid"]
    assert saturday == [("Overtime", "8:00"), ("Double time", "1:00")]
    thursday = [row for row in week["days"][4]["rows"] if row["rule"].startswith("meal premium")]
    assert len(thursday) == 1
    assert "226.7(c)" in thursday[0]["rule"]
    assert all(not row["rule"].startswith("meal") for day in (0, 1, 2, 3, 5, 6) for row in week["days"][day]["rows"])
    assert statement_pdf(made)[:5] == b"%PDF-"


def test_rules_of_ones_own_that_rest_on_californias_pay_as_they_do(cannery: Workspace) -> None:
    folder = cannery.directory / "rules" / "bargained"
    folder.mkdir(parents=True)
    (folder / "jurisdiction.toml").write_text('based_on = "california"\n')
    rules = SiteRules("Cannery", "America/Los_Angeles", "bargained")
    own = bound_by(cannery, rules)
    assert person_pay(own, "P1", SUNDAY).totals["total_pay"] == D("1620.61")
