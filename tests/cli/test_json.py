"""Every command that prints JSON, run on the demonstration's workplace and held to its published schema."""

from __future__ import annotations

import json
import re
import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from click.testing import CliRunner, Result
from tests.cli.test_doors import PARTS

from evenhand.cli import evenhand
from evenhand.jobs.json_forms import FORMS

AS_OF = ("--as-of", "2026-11-16T13:00Z")
BY = ("--author", "Ada Quill", "--reason", "told so")
ROSTER = "person,name,number,site\nZ1,Uma Holt,9941,Brindlemoor\nZ2,Odd One,99411,\nZ3,,9942,Brindlemoor\n"


def called(*words: str) -> Result:
    return CliRunner().invoke(evenhand, list(words))


class Demo:
    """The demonstration's folder, with what the commands need to be told."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.workspace = folder / "demo/workspace"
        self.people = self.told("people", *AS_OF)
        self.findings = self.told("today", *AS_OF)
        self.strays = self.told("strays", *AS_OF)["proposals"]

    def told(self, *words: str) -> Any:
        done = called("-w", str(self.workspace), *words, "--json")
        assert done.exit_code in (0, 3), done.output
        return json.loads(done.stdout)


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Demo, Any]]:
    folder = tmp_path_factory.mktemp("told")
    done = called("demo", str(folder / "demo"), "--json")
    assert done.exit_code == 0, done.output
    yield Demo(folder), json.loads(done.stdout)


def valid(command: str, value: Any) -> None:
    schema = json.loads(called("schema", "--json", command).stdout)
    jsonschema.Draft202012Validator.check_schema(schema)
    found = jsonschema.Draft202012Validator(schema, format_checker=jsonschema.FormatChecker()).iter_errors(value)
    assert [f"{'/'.join(map(str, one.absolute_path))}: {one.message[:200]}" for one in found] == []


def test_every_command_that_prints_json_has_a_schema_and_no_other() -> None:
    printing = {part for part, command in PARTS.items() for one in command.params if "--json" in one.opts}
    assert set(FORMS) == printing - {"schema"}


CORRECTION = "the last one made"
PRACTICE = "1218-FZZG-02DC"  # of 10 November 2026: all went well but one part


def consents(demo: Demo, folder: Path) -> dict[str, list[tuple[str, ...]]]:
    """The commands on consent: the demonstration has asked people to agree to its second version."""
    waiting = [row for row in demo.told("consent", "campaign", *AS_OF) if row["answer"] == "to ask"]
    policy = folder / "hands.toml"
    policy.write_text(called("consent", "policy", "example").stdout, encoding="utf-8")
    by, yes = BY[:2], ("--yes", *AS_OF)
    return {
        "consent list": [("consent", "list", *AS_OF), ("consent", "list", "--kind", "other-way", *AS_OF)],
        "consent show": [("consent", "show", waiting[0]["person"], *AS_OF)],
        "consent policies": [("consent", "policies", *AS_OF)],
        "consent campaign": [("consent", "campaign", *AS_OF), ("consent", "campaign", "--policy", "1", *AS_OF)],
        "consent sheets": [("consent", "sheets", "--site", "Tallowby", "--out", str(folder / "sheets.pdf"), *AS_OF)],
        "consent record": [("consent", "record", waiting[0]["code"], waiting[1]["code"], *by, *yes)],
        "consent say": [("consent", "say", "other-way", waiting[2]["person"], *by, *yes)],
        "consent take-back": [("consent", "take-back", waiting[2]["person"], SAID, *BY, *yes)],
        "consent policy add": [
            ("consent", "policy", "add", str(policy), "--from", "2027-01-01", "--earlier-go-on", *by, *yes)
        ],
    }


def asked_of_supervisors(demo: Demo, folder: Path) -> dict[str, list[tuple[str, ...]]]:
    first, *_, last = [one for one in demo.told("missing", "list", *AS_OF) if one["supervisors"]]
    listed = folder / "missing.csv"
    filled = folder / "filled.csv"
    filled.write_text(
        "person,day,answer_day,answer_time,answer_way,answer_words\n"
        f"{last['person']},{last['day']},,,,they say they were ill\n"
    )
    whose = last["supervisors"][0]
    suggested = (first["person"], "--day", first["day"], "--at", f"{first['day']}T12:34", "--out")
    return {
        "missing list": [("missing", "list", "--csv", str(listed), *AS_OF), ("missing", "list", *AS_OF)],
        "missing answers": [("missing", "answers", str(filled), "--supervisor", whose, *BY[:2], *AS_OF)],
        "missing suggest": [("missing", "suggest", *suggested, *BY[:2], *AS_OF)],
        "missing suggestions": [("missing", "suggestions", *AS_OF)],
        "missing decide": [
            ("missing", "decide", "1", "--decline", *BY, *AS_OF),
            ("missing", "decide", "2", "--accept", *BY, *AS_OF),
        ],
    }


SAID = "the last row said"


def words_of(demo: Demo, folder: Path) -> dict[str, list[tuple[str, ...]]]:
    """Every command as it is called, in an order in which each finds what it needs."""
    reader = demo.people[0]["readers"][0]
    paid = max(demo.people, key=lambda one: one["ordinary_s"])["person"]
    stray, other = demo.strays[0], demo.strays[1]
    supervisor = demo.told("signoff", "list", *AS_OF)["people"][0]["supervisors"][0]
    code = demo.told("signoff", "print", paid, "--out", str(folder / "first"), *AS_OF)[0]["code"]
    standing = demo.told("supervisors", *AS_OF)[0]["person"]
    scores = folder / "scores.csv"
    scores.write_text(
        "comparison,score\n" + "".join(f"{way},{at}\n" for way in ("mated", "non_mated") for at in range(20, 90))
    )
    (folder / "roster.csv").write_text(ROSTER)
    (folder / "sample.csv").write_text("Who,Ordinary\r\nZ1,40:00\r\n")
    with (demo.workspace / "evenhand.toml").open("a") as settings:
        settings.write("[payroll.main]\n")
        for name in ("person", "ordinary_hours", "overtime_hours", "double_hours"):
            settings.write(f'[[payroll.main.column]]\nheader = "{name}"\nfield = "{name}"\n')
    roster = str(folder / "roster.csv")
    days = [demo.told("hours", "why", paid, f"2026-11-{day:02}") for day in range(8, 15)]
    left = demo.told("leavers", *AS_OF)[0]["person"]
    punch = str(next(day for day in days if day["punches"])["punches"][0]["punch"])
    return {
        "take": [
            ("take", "--try", roster, str(folder / "missing.csv"), str(scores)),
            ("take", "--yes", roster, str(folder / "missing.csv")),
        ],
        "layouts": [("layouts",)],
        "layouts show": [("layouts", "show", "people-1")],
        "layouts fit": [("layouts", "fit", roster)],
        "takes": [("takes",)],
        "takes back": [("takes", "back", "2", "--yes", *BY)],
        "takes again": [("takes", "again", "2", "--yes", *BY)],
        "rebuild": [("rebuild", "--try")],
        "ledger": [("ledger", "--kind", "take", "--most", "3")],
        "ledger decisions": [("ledger", "decisions"), ("ledger", "decisions", "--kind", "hand-off", "--most", "2")],
        "ledger show": [("ledger", "show", "0")],
        "ledger head": [("ledger", "head")],
        "ledger verify": [("ledger", "verify")],
        "ledger proof": [("ledger", "proof", "3", "--out", str(folder / "proof.json"))],
        "ledger consistency": [("ledger", "consistency", "2", "--out", str(folder / "since.json"))],
        "today": [("today", *AS_OF), ("today", *AS_OF, "--cases")],
        "find": [("find", "gasland", *AS_OF), ("find", "4", "nov", *AS_OF)],
        "people": [("people", *AS_OF)],
        "supervisors": [("supervisors", *AS_OF), ("supervisors", "--reader", reader, *AS_OF)],
        "supervisors succession": [("supervisors", "succession", standing, *AS_OF)],
        "teaching": [("teaching", *AS_OF)],
        "teaching cover": [("teaching", "cover", *AS_OF)],
        "teaching record": [("teaching", "record", standing, PRACTICE, *BY[:2], *AS_OF)],
        "teaching take-back": [("teaching", "take-back", "1", *BY[:2], *AS_OF)],
        "readers": [("readers", *AS_OF), ("readers", reader, *AS_OF)],
        "hands": [("hands", *AS_OF)],
        "hands findings": [("hands", *AS_OF, "findings")],
        "hands person": [("hands", *AS_OF, "person", paid)],
        "hands rates": [("hands", *AS_OF, "rates")],
        "hands threshold": [
            ("hands", *AS_OF, "threshold", str(scores), "--non-mated-from", "test", "--presentations-a-week", "700")
        ],
        "hands export": [("hands", *AS_OF, "export", str(folder / "exported"))],
        "hours": [("hours", *AS_OF), ("hours", "--week", "2026-11-01")],
        "hours why": [("hours", "why", paid, "2026-11-10")],
        "pay": [("pay", paid, "2026-11-10")],
        "statement": [("statement", paid, "--out", str(folder / "statement.pdf"), *AS_OF)],
        "signoff list": [("signoff", "list", *AS_OF)],
        "signoff print": [("signoff", "print", paid, "--out", str(folder / "papers"), *AS_OF)],
        "signoff confirm": [("signoff", "confirm", code, *BY[:2], *AS_OF)],
        "signoff withdraw": [("signoff", "withdraw", "1", *BY, *AS_OF)],
        "signoff approve": [("signoff", "approve", "--supervisor", supervisor, *BY[:2], "--yes", *AS_OF)],
        "access": [("access", paid, "--out", str(folder / "held.json"), *AS_OF)],
        "dispute open": [("dispute", "open", paid, "--kind", "pay", "--says", "the rate is old", *BY[:2], *AS_OF)],
        "dispute answer": [("dispute", "answer", "1", "--reject", *BY, *AS_OF)],
        "dispute list": [("dispute", "list", "--all", *AS_OF)],
        **asked_of_supervisors(demo, folder),
        "strays": [("strays", *AS_OF)],
        "strays list": [("strays", *AS_OF, "list")],
        "strays show": [("strays", *AS_OF, "show", stray["stray"])],
        "strays reject": [
            ("strays", *AS_OF, "reject", other["stray"], other["candidates"][0]["person"], *BY),
        ],
        "strays confirm": [
            ("strays", *AS_OF, "confirm", stray["stray"], stray["candidates"][0]["person"], "--yes", *BY),
            ("strays", *AS_OF, "confirm", "--least-probability", "0.999", "--yes", *BY),
        ],
        "strays undo": [("strays", *AS_OF, "undo", stray["stray"], *BY)],
        "numbers": [("numbers", *AS_OF)],
        "numbers confusable": [("numbers", *AS_OF, "confusable")],
        "numbers allocate": [("numbers", *AS_OF, "allocate", "3", "--seed", "1")],
        "numbers plan": [("numbers", *AS_OF, "plan", "--seed", "1")],
        **consents(demo, folder),
        # The last word leaves the record as it was: payroll's file has no column for a rest period's hour.
        "premium": [
            ("premium", *said, paid, "--day", "2026-11-10", "--kind", "rest", "--yes", *BY)
            for said in (("owe", "--hours", "1"), ("presume",))
        ],
        "correct leave-out": [
            ("correct", "leave-out", paid, "--punch", punch, "--rule", "interrupted-meal", "--yes", *BY)
        ],
        "correct direct": [("correct", "direct", paid, "--punch", punch, "--direction", "out", "--yes", *BY)],
        "correct add": [("correct", "add", paid, "--at", "2026-11-10T23:10", "--direction", "in", "--yes", *BY)],
        "correct change": [("correct", "change", CORRECTION, "--at", "2026-11-10T23:20", "--yes", *BY)],
        "correct withdraw": [("correct", "withdraw", CORRECTION, "--yes", *BY)],
        "settle": [
            ("settle", demo.findings[-1]["key"], *BY, *AS_OF),
            ("settle", demo.findings[-1]["key"], "--take-back", *BY, *AS_OF),
        ],
        "settled": [("settled",)],
        "rounding": [("rounding", "--weeks", "4", *AS_OF)],
        "handoff check": [("handoff", "check", str(folder / "sample.csv"), "--definition", "main")],
        "handoff": [
            ("handoff", "--author", "Ada Quill", "--despite-findings", "--period", "2026-10-26", *AS_OF),
        ],
        "handoff changes": [("handoff", "changes", *AS_OF)],
        "handoff settle": [
            ("handoff", "settle", "--period", "2026-10-26", "--way", "replace", "--despite-findings", *BY, *AS_OF),
        ],
        "leavers": [("leavers", *AS_OF)],
        "leavers show": [("leavers", "show", left, *AS_OF)],
        "leavers round": [("leavers", "round", "--author", "Ada Quill", "--dry-run", *AS_OF)],
        "hold place": [("hold", "place", left, *BY, *AS_OF)],
        "hold list": [("hold", "list")],
        "hold lift": [("hold", "lift", left, *BY, *AS_OF)],
        "retention schedule": [("retention", "schedule", *AS_OF)],
        "erase": [("erase", left, "--preview", *AS_OF)],
        "enrol plan": [("enrol", "plan", "2026-11-18", "--author", "Ada Quill")],
        "enrol list": [("enrol", "list")],
        "enrol coverage": [("enrol", "coverage", *AS_OF)],
        "enrol queue": [("enrol", "queue", reader, "--first", "2026-10-19", "--last", "2026-11-14")],
        "twin": [("twin", str(folder / "twin"), "--weeks", "2", "--people", "100", "--readers", "8")],
        "layouts remove": [("layouts", "remove", "people-1", "--yes")],
    }


DEEDS = {
    *("consent policy add", "consent record", "consent say", "dispute open", "enrol plan", "handoff", "hold lift"),
    *("hold place", "leavers round", "missing answers", "missing suggest", "settle", "signoff approve"),
    *(
        "signoff confirm",
        "signoff withdraw",
        "strays confirm",
        "strays reject",
        "teaching record",
        "teaching take-back",
    ),
}
"""What writes on the demonstration as it stands; what takes back what was never done writes nothing anyway."""


def files_in(workspace: Path) -> set[Path]:
    return {path for path in workspace.rglob("*") if not path.name.endswith(("-wal", "-shm"))}


def test_what_is_asked_as_of_another_time_only_looks(made: tuple[Demo, Any], tmp_path: Path) -> None:
    demo = Demo(Path(shutil.copytree(made[0].folder, tmp_path / "copy")))
    calls = words_of(demo, tmp_path)
    calls["enrol plan"] = [("enrol", "plan", "2026-11-18", *BY[:2], *AS_OF)]
    calls["leavers round"] = [("leavers", "round", *BY[:2], *AS_OF)]
    for part in ("change", "show"):
        calls[f"enrol {part}"] = [("enrol", part, "2026-11-18-1", *AS_OF, *(BY[:2] if part == "change" else ()))]
    calls["consent policy show"] = [("consent", "policy", "show", "1", *AS_OF)]
    settings = demo.workspace / "evenhand.toml"
    settings.write_text(re.sub("(?m)^invented = true.*\n", "", settings.read_text(encoding="utf-8")), encoding="utf-8")
    at = ("-w", str(demo.workspace))
    head, files = called(*at, "ledger", "head").stdout, files_in(demo.workspace)
    looked, held_back = [], set()
    for command, several in calls.items():
        for words in (one for one in several if "--as-of" in one):
            done = called(*at, *words)
            assert called(*at, "ledger", "head").stdout == head, words
            if "--as-of only looks" in str(done.exception):
                held_back.add(command)
            else:
                looked.append(command)
    assert held_back == DEEDS
    assert files_in(demo.workspace) == files
    asking = {part for part, command in PARTS.items() for one in command.params if "--as-of" in one.opts}
    assert asking - {*looked, *held_back} == {"serve"}
    assert {"today", "leavers show", "statement", "signoff print", "erase", "consent show"} <= {*looked}


def test_a_stray_alone_says_why_its_probabilities_are_rough_as_the_text_does(
    made: tuple[Demo, Any], tmp_path: Path
) -> None:
    demo = Demo(Path(shutil.copytree(made[0].folder, tmp_path / "copy")))
    of_stray = ("-w", str(demo.workspace), "strays", *AS_OF, "show", demo.strays[0]["stray"])
    with closing(sqlite3.connect(demo.workspace / "evenhand.sqlite")) as store:
        store.execute("DELETE FROM schedules")
        store.commit()
    shown = json.loads(called(*of_stray, "--json").stdout)
    assert shown["why_rough"] in called(*of_stray).stdout
    assert "have no schedule" in shown["why_rough"]


def test_what_each_command_prints_is_what_its_schema_says(made: tuple[Demo, Any], tmp_path: Path) -> None:
    demo, printed = made
    valid("demo", printed)
    calls = words_of(demo, tmp_path)
    faults, last = [], 0
    for command, several in calls.items():
        for named in several:
            words = tuple(str(last) if word in (CORRECTION, SAID) else word for word in named)
            try:
                told = demo.told(*words)
                last = told["correction"] if command.startswith("correct") else last
                last = told[0]["decision"] if command == "consent say" else last
                valid(command, told)
            except AssertionError as fault:
                faults.append(f"{' '.join(words)}: {str(fault)[:1500]}")
    assert not faults, "\n\n".join(faults)
    (round_made,) = demo.told("enrol", "list")
    for command, by in (("enrol show", ()), ("enrol prove", ()), ("enrol change", BY[:2])):
        valid(command, demo.told(*command.split(), round_made["round"], *by))
    assert set(FORMS) == {*calls, "demo", "enrol show", "enrol prove", "enrol change"}
    shutil.rmtree(tmp_path)
