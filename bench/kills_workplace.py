"""A small workplace in which everything that writes has something to write, and the commands that then write it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import polars as pl

from evenhand.jobs import disputes, enrolling
from evenhand.jobs.consent_policies import PolicyAsked, add_policy, consents_now, example_policy
from evenhand.jobs.consent_versions import policy_versions, sheet_secrets
from evenhand.jobs.correct import CorrectionRequest, correct
from evenhand.jobs.enrolment_day import AskedDay
from evenhand.jobs.handoff import hand_off
from evenhand.jobs.reckoning import reckon_period
from evenhand.jobs.statement_codes import issue_code
from evenhand.jobs.take import take_file, take_files
from evenhand.jobs.today import find_today
from evenhand.jobs.workspace import Workspace, create_workspace
from evenhand.records.consent import code_of
from evenhand.store import frames

__all__ = ["NOW", "WRITERS", "Said", "make_workplace", "words_of"]

NOW = datetime(2026, 11, 9, 14, tzinfo=UTC)
LONG_AGO = datetime(2021, 2, 16, 14, tzinfo=UTC)
MONDAY = date(2026, 11, 2)

READERS = "reader,site,place,zone,max_digits\nGATE,Mill,Main gate,America/Chicago,4\nDOCK,Mill,Dock,America/Chicago,4\n"
PEOPLE = """person,name,number,site,department,is_supervisor,hired_on,left_on,hourly_rate
P1,Ida Marlow,4821,Mill,Milling,yes,2020-01-01,,18.25
P2,Rui Okoro,7315,Mill,Milling,yes,2020-01-01,,21.00
P3,Lena Fisk,2290,Mill,Packing,no,2020-01-01,,17.00
P4,Omar Vale,6107,Mill,Packing,no,2026-11-01,,17.00
P5,Ben Rook,3568,Mill,Packing,no,2020-01-01,2021-03-01,16.00
P6,Cy Doe,9043,Mill,Packing,no,2020-01-01,2026-11-03,16.00
P7,Noor Abel,5472,Mill,Packing,no,2026-11-01,,17.00
P8,Tam Wells,1936,Mill,Packing,no,2026-11-01,,17.00
"""
# Ida's hand stands at the gate under 4281, two digits of 4821 swapped.
LISTED = "reader,number,name,is_supervisor,enrolled_on\n" + "".join(
    f"{reader},{number},{name},{supervises},2020-01-02\n"
    for reader, number, name, supervises in (
        ("GATE", "4281", "", "no"),
        ("GATE", "7315", "Rui Okoro", "yes"),
        ("GATE", "2290", "Lena Fisk", "no"),
        ("GATE", "3568", "Ben Rook", "no"),
        ("GATE", "9043", "Cy Doe", "no"),
        ("DOCK", "4821", "Ida Marlow", "yes"),
        ("DOCK", "7315", "Rui Okoro", "yes"),
    )
)
RELEASED = "person,given_on,form\n" + "".join(f"P{at},2020-01-01,H-1\n" for at in (1, 2, 3, 6, 8))
SCHEDULED = "person,starts_at,ends_at\n" + "".join(
    f"{person},2026-11-{day:02d} 08:00,2026-11-{day:02d} 17:00\n"
    for person in ("P1", "P2", "P3")
    for day in range(2, 7)
)


def _log(numbers: Sequence[str], days: Sequence[date], acts: Sequence[tuple[str, str]]) -> str:
    lines = [
        f"GATE,{number},{day} {at}:00,{way},20.5\n"
        for day in days
        for at, way in acts
        for number in numbers
        if not (number == "2290" and day == date(2026, 11, 4) and way == "out")  # who forgot to punch out
    ]
    return "reader,number,at,direction,score\n" + "".join(lines)


WEEK = [MONDAY + timedelta(days=day) for day in range(5)]
YEARS_AGO = [date(2021, 2, 7) + timedelta(days=day) for day in range(8)]
WHOLE_DAY = (("07:56", "in"), ("12:00", "out"), ("12:30", "in"), ("17:01", "out"))
FILES = {
    "readers": READERS,
    "people": PEOPLE,
    "listed": LISTED,
    "released": RELEASED,
    "scheduled": SCHEDULED,
    "old": _log(("3568", "7315"), YEARS_AGO, WHOLE_DAY),
    "log": _log(("4281", "7315", "2290"), WEEK, WHOLE_DAY),
    "listed-later": LISTED.replace("GATE,3568,Ben Rook,no,2020-01-02\n", ""),
}
EXTRA = _log(("2290", "0000"), [date(2026, 11, 8)], WHOLE_DAY).replace("GATE,0000", "LOFT,0000")
NEXT = _log(("7315", "2290", "1111"), [date(2026, 11, 8), date(2026, 11, 9)], WHOLE_DAY).replace(
    "GATE,1111", "LOFT,1111"
)
POLICY = example_policy().replace("forms = []", 'forms = ["H-1"]', 1)
NEXT_POLICY = example_policy().replace("no longer than your employment", "no longer than a year", 1)

WRITERS = {
    "take": "take {folder}/next.csv --yes",
    "take back": "takes back {back} --reason mistake --yes",
    "again": "takes again {again} --zeros 5 --reason mistake --yes",
    "correct add": "correct add P3 --at 2026-11-04T17:01 --direction out --reason forgot --yes",
    "correct withdraw": "correct withdraw {correction} --reason mistake --yes",
    "premium": "premium owe P2 --day 2026-11-03 --kind meal --hours 1 --reason agreed --yes",
    "strays confirm": "strays confirm GATE/4281 P1 --reason seen --yes",
    "settle": "settle {finding} --reason known",
    "enrol plan": "enrol plan 2026-11-10 --search-seconds 0.2",
    "outcome": "outcome {round} {item}",
    "consent record": "consent record {sheet-code} --yes",
    "consent say": "consent say withdraw P3 --yes",
    "policy add": "consent policy add {folder}/policy.toml --from 2026-11-20 --renew-by 2026-12-20 --yes",
    "signoff confirm": "signoff confirm {hours-code}",
    "signoff approve": "signoff approve P3 --supervisor P1 --yes",
    "dispute open": "dispute open P1 --kind day --day 2026-11-03 --says nine",
    "dispute answer": "dispute answer 1 --accept --reason mended",
    "hand-off": "handoff --despite-findings",
    "erase": "erase P5 --reason due --yes",
    "rebuild": "rebuild",
    "leavers round": "leavers round --day 2026-11-10",
    "hold": "hold place P2 --reason suit",
}
"""The command of each writer, in which `Said` stands in braces; `outcome` is what a phone at a reader sends."""

Said = Mapping[str, str]
"""What the commands have to name: codes, numbers and keys of the workplace that was made."""


def make_workplace(folder: Path, store: str = "") -> Said:
    """Make the workspace `folder`/mill, its store at the address `store` or in itself, and return what to name."""
    workspace = create_workspace(folder / "mill", "Mill", store=store)
    try:
        _take(workspace, folder)
        return _decide(workspace)
    finally:
        workspace.close()


def _take(workspace: Workspace, folder: Path) -> None:
    for name, text in FILES.items():
        (folder / f"{name}.csv").write_text(text, encoding="utf-8")
        take_files(workspace, [folder / f"{name}.csv"])
    for name, text in (("extra.csv", EXTRA), ("next.csv", NEXT), ("policy.toml", NEXT_POLICY)):
        (folder / name).write_text(text, encoding="utf-8")
    take_file(workspace, folder / "extra.csv")
    reckoning = reckon_period(workspace, LONG_AGO, date(2021, 2, 8))
    hand_off(workspace, reckoning, as_of=LONG_AGO, period_day=date(2021, 2, 8), author="Ben Rook", despite=True)


def _decide(workspace: Workspace) -> Said:
    add_policy(workspace, PolicyAsked(POLICY, "hands.toml", date(2020, 1, 1), "Ida", go_on=True), as_of=NOW)
    instant = datetime(2026, 11, 3, 23, 30, tzinfo=UTC)
    late = CorrectionRequest("add", "P2", "Ada", "came back", at=instant, direction="in")
    made = correct(workspace, reckon_period(workspace, NOW), late, as_of=NOW)
    reckoning = reckon_period(workspace, NOW)
    disputes.open_dispute(
        workspace, reckoning, "P3", kind="other", says="my name", way="paper", author="Ada", as_of=NOW
    )
    planned = enrolling.plan_round(
        workspace, AskedDay(NOW.date(), people=("P8",)), author="Ada", as_of=NOW, seconds=0.5
    )
    items = planned.items.filter(pl.col("person") == "P8")
    reckoning = reckon_period(workspace, NOW)
    code = issue_code(workspace, reckoning, "P2", as_of=NOW)
    finding = find_today(reckoning).findings[-1].key
    snapshot = consents_now(workspace, NOW)
    [version] = policy_versions(snapshot)
    with workspace.store.reading() as conn:
        takes = dict(frames.takes(conn).select("file", "take").iter_rows())
    return {
        "back": str(takes["extra.csv"]),
        "again": str(takes["log.csv"]),
        "correction": str(made.number),
        "finding": finding,
        "round": planned.name,
        "item": items["item"][0],
        "hours-code": code,
        "sheet-code": code_of(version.digest, "P7", sheet_secrets(snapshot)[version.policy]),
    }


def words_of(writer: str, said: Said, folder: Path) -> list[str]:
    """Return the words of a writer's command in the workplace that was made in a folder."""
    return [word.format_map({**said, "folder": str(folder)}) for word in WRITERS[writer].split()]
