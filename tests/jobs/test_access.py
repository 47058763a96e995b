"""Everything held on a person is in their report, with where it came from, and nothing of anybody else."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import polars as pl
import pytest

from evenhand.jobs import access, dispute_answers
from evenhand.jobs import disputes as disputing
from evenhand.jobs.access import COVERED, NOT_COVERED, AccessReport, access_report
from evenhand.jobs.access_printed import as_json, as_pdf, write_access
from evenhand.jobs.access_rows import Whose, told
from evenhand.jobs.access_words import column_said, value_said
from evenhand.jobs.approving import approve
from evenhand.jobs.correct import CorrectionRequest
from evenhand.jobs.demo import demonstrate
from evenhand.jobs.languages import say_in
from evenhand.jobs.reckoning import reckon_period
from evenhand.jobs.signing import confirm
from evenhand.jobs.statement_codes import find_code, issue_code
from evenhand.jobs.take import take_files
from evenhand.jobs.workspace import Workspace, open_workspace
from evenhand.records.access import BLANK, Blanks
from evenhand.store import held
from evenhand.terms.records import Refusal, Unknown
from evenhand.terms.signing import SIGNOFFS
from tests.jobs.asked import civil_instant, correct, hand_off, settle
from tests.jobs.workplaces import made
from tests.printed import texts
from tests.untranslated import ENGLISH, untranslated_lines

NOW = datetime(2026, 11, 9, 14, 0, tzinfo=UTC)
DEMO_NOW = datetime(2026, 11, 16, 13, 0, tzinfo=UTC)


@pytest.fixture
def workspace(tmp_path: Path) -> Iterator[Workspace]:
    opened = made(tmp_path)
    yield opened
    opened.close()


def report(workspace: Workspace, person: str = "P3") -> AccessReport:
    return access_report(workspace, person, as_of=NOW)


def part(of: AccessReport, name: str) -> tuple[dict[str, Any], ...]:
    (found,) = [one for one in of.parts if one.name == name]
    return found.rows


def test_seconds_that_happen_to_be_somebodys_number_stay_in_the_hours_signed() -> None:
    whose = Whose("P3", frozenset({"P3"}), frozenset({"2290"}), "Lena Fisk", Blanks([], {"2290"}, [], {"7200"}), {})
    (column,) = [one for one in SIGNOFFS.columns if one.name == "hours"]
    signed = '[["2026-11-03","ordinary",7200]]'
    assert told(column, signed, whose, SIGNOFFS) == signed


def test_every_table_of_the_store_is_covered_or_left_out_for_a_reason(workspace: Workspace) -> None:
    with workspace.store.reading() as conn:
        tables = held.stored_tables(conn)
    decided = {*COVERED, *NOT_COVERED}
    assert set(tables) - decided == set(), "decide in jobs/access.py whether the report covers a new table, and how"
    assert decided - set(tables) == set()
    assert not set(COVERED) & set(NOT_COVERED)
    assert all(NOT_COVERED.values())
    assert set(COVERED.values()) <= {one.name for one in report(workspace).parts}


def test_the_roster_row_what_it_said_before_and_their_files_are_told(workspace: Workspace, tmp_path: Path) -> None:
    later = tmp_path / "roster.csv"
    later.write_text("person,name,number,site,department\nP3,Lena Fisk,2291,Mill,Milling\n")
    take_files(workspace, [later])
    of = report(workspace)
    (row,) = part(of, "people")
    assert (row["number"], row["department"], row["hourly_rate"]) == ("2291", "Milling", 17)
    assert row["origin"].startswith("roster.csv (take ")
    (before,) = part(of, "changes")
    assert "number 2290" in before["was"]
    assert "department Packing" in before["was"]
    # the earlier number is nobody else's now, so that what it was enrolled as is theirs too
    assert [one["number"] for one in part(of, "enrolments")] == ["2290"]


def test_every_presentation_is_told_with_whose_it_counts_as_and_its_file(workspace: Workspace) -> None:
    correct(workspace, leaving(workspace), as_of=NOW)
    rows = part(report(workspace), "punches")
    assert [row["counted"] for row in rows] == ["yours", "yours", "yours", "yours, added by a correction"]
    assert rows[0]["origin"].startswith("punches.csv (take ")
    assert rows[-1]["origin"] == ""


def leaving(workspace: Workspace, reason: str = "forgot to punch out") -> CorrectionRequest:
    at = civil_instant(workspace, "P3", "2026-11-04T16:00")
    return CorrectionRequest("add", "P3", "Vera Lund", reason, at=at, direction="out")


def test_hours_and_pay_are_told_with_their_reasons(workspace: Workspace) -> None:
    of = report(workspace, "P1")
    friday = next(row for row in part(of, "hours") if row["day"] == date(2026, 11, 6))
    # nine hours at work, within which the week's forty end; twenty minutes at ten are paid rest (29 CFR 785.18)
    assert friday["hours"] == "ordinary time 4:00, overtime 5:00"
    assert "29 CFR 785.18" in friday["why"]
    assert "+0:20" in friday["why"]
    assert [str(row["amount"]) for row in part(of, "pay")] == ["821.2500", "45.6300"]


def say_and_sign(workspace: Workspace) -> str:
    """Sign, approve, dispute, answer, settle and hand off the hours of P3; return the code of the statement."""
    now = reckon_period(workspace, NOW)
    code = issue_code(workspace, now, "P3", as_of=NOW)
    confirm(workspace, now, find_code(workspace, code, as_of=NOW), way="reader", as_of=NOW)
    approve(workspace, reckon_period(workspace, NOW), "P1", ["P3"], author="Vera Lund", as_of=NOW)
    disputing.open_dispute(
        workspace, now, "P3", kind="pay", says="the rate is old", way="paper", author="Vera", as_of=NOW
    )
    dispute_answers.answer_dispute(
        workspace,
        reckon_period(workspace, NOW),
        1,
        "rejected",
        reason="it is this year's",
        author="Vera Lund",
        as_of=NOW,
    )
    settle(workspace, "missing_punch/P3/2026-11-04", as_of=NOW, author="Vera Lund", reason="asked, left at four")
    hand_off(workspace, as_of=NOW, despite=True)
    return code


def test_what_payroll_was_told_and_what_was_decided_said_and_signed_is_told(workspace: Workspace) -> None:
    code = say_and_sign(workspace)
    of = report(workspace)
    assert [(row["action"], row["by"], row["supervisor"]) for row in part(of, "signoffs")] == [
        ("confirm", "you", None),
        ("approve", "whoever entered it", BLANK),
    ]
    assert part(of, "disputes")[0]["says"] == "the rate is old"
    assert part(of, "dispute_answers")[0]["reason"] == "it is this year's"
    assert part(of, "settled")[0]["reason"] == "asked, left at four"
    assert [(row["item"], row["seconds"]) for row in part(of, "handoffs") if row["seconds"]] == [("ordinary", 28800)]
    # a code is a key, and is not told twice
    assert "code" not in part(of, "statement_codes")[0]
    assert code not in as_json(of).decode()


def test_long_sentences_keep_to_their_lines_and_what_is_empty_is_told_in_one(workspace: Workspace) -> None:
    disputing.open_dispute(
        workspace,
        reckon_period(workspace, NOW),
        "P3",
        kind="pay",
        says="it is old",
        way="paper",
        author="Vera",
        as_of=NOW,
    )
    printed = "".join(texts(as_pdf(report(workspace)))).replace("\r", "")
    # in a column of a table it stood word under word, beyond the edge of the page
    assert "\nnext step Look at the day with the person; correct it and accept," in printed
    assert printed.count("Of these nothing is kept") == 1
    assert "Rounds you practised;" in printed
    assert "Sat 7 Nov 2026" in printed


def test_a_mate_named_in_a_reason_is_left_out_and_that_is_said(workspace: Workspace) -> None:
    correct(workspace, leaving(workspace, "Rui Okoro (7315) saw Lena leave, so did marlow; ask P1"), as_of=NOW)
    of = report(workspace)
    (row,) = part(of, "corrections")
    assert row["reason"] == f"{BLANK} ({BLANK}) saw Lena leave, so did {BLANK}; ask {BLANK}"
    assert row["by"] == "the desk"
    assert of.blanked >= 4
    assert f"{of.blanked} places name somebody else" in of.says
    printed = " ".join(" ".join(texts(as_pdf(of))).split())
    assert BLANK in printed
    for other in ("Okoro", "Rui", "Marlow", "7315", "P1", "Vera", "Lund"):
        assert other.casefold() not in printed.casefold().replace("p10", "")


def test_rows_that_were_refused_and_hold_their_number_are_told(workspace: Workspace, tmp_path: Path) -> None:
    log = tmp_path / "punches-more.csv"
    good = "".join(f"GATE,0042,2026-11-07 0{hour}:00:00,in\n" for hour in range(8))
    bad = "GATE,2290,2026-11-99 08:00:00,in\nGATE,7315,2026-11-98 08:00:00,in\n"
    log.write_text(f"reader,number,at,direction\n{good}{bad}")
    take_files(workspace, [log])
    (row,) = part(report(workspace), "refused_rows")
    assert "2290" in row["text"]
    assert "7315" not in json.dumps(as_json(report(workspace)).decode())


def test_what_the_law_wants_said_stands_beside_the_data(workspace: Workspace) -> None:
    of = report(workspace)
    told = json.loads(as_json(of))
    # GDPR art. 15(1) (a) to (h), each with its letter
    cited = " ".join(right["cites"] for right in told["rights"])
    for letter in "abcdefgh":
        assert f"15(1)({letter})" in cited
    assert "C-579/21" in cited
    assert "GDPR art. 12(6)" in of.says
    assert all(column["meaning"] for one in told["parts"] for column in one["columns"])


def test_it_is_said_whole_in_spanish(workspace: Workspace, tmp_path: Path) -> None:
    later = tmp_path / "roster.csv"
    later.write_text("person,name,number,site,department\nP3,Lena Fisk,2291,Mill,Milling\n")
    take_files(workspace, [later])
    for clock, direction in (("10:00", "in"), ("12:00", "out")):
        at = civil_instant(workspace, "P3", f"2026-11-07T{clock}")
        asked = CorrectionRequest("add", "P3", "Vera Lund", "worked on Saturday", at=at, direction=direction)
        correct(workspace, asked, as_of=NOW)
    say_and_sign(workspace)
    reports = [access_report(workspace, "P3", as_of=NOW, language=language) for language in ("en", "es")]
    english, spanish = (texts(as_pdf(one)) for one in reports)
    names = ("P3", "Lena Fisk", "Mill", "Packing", "America/New_York", "GATE", "CFR", "USC")
    assert untranslated_lines(english, spanish, names) == set()
    files = ("roster.csv", "people.csv", "punches.csv", "enrolments.csv", "hours-2026-11-01-to-2026-11-07.csv")
    written = (
        # what people wrote, the key of a finding, what a file calls its fields, and an office by its name
        *("worked on Saturday", "the rate is old", "it is this year's", "asked, left at four", "missing_punch"),
        *("ordinary_hours", "overtime_hours", "double_hours", "Wage and Hour Division", "Pankki S"),
    )
    said = " ".join(" ".join(spanish).split())
    for one in (*files, *written):
        said = said.replace(one, "")
    assert [said[max(0, at.start() - 60) : at.end() + 60] for at in ENGLISH.finditer(said)] == []
    for words in ("Qué se guarda sobre usted", "la oficina", "añadida por una corrección", "usted", "[otra persona]"):
        assert words in said, words
    # the same rows, in other words
    assert [len(part.rows) for part in reports[0].parts] == [len(part.rows) for part in reports[1].parts]


def test_every_column_and_fixed_value_has_a_name_in_spanish(workspace: Workspace) -> None:
    say = say_in("es")
    for part in report(workspace).parts:
        for column in part.columns:
            assert column_said(column.name, say)
            for value in column.allowed:
                assert value_said(part.name, column, value, say) != value or value in ("no", "plan"), (
                    column.name,
                    value,
                )
                assert value_said(part.name, column, value, say_in("en")) == value


def test_paper_is_in_the_language_its_person_read_the_policy_in_and_json_in_english(
    workspace: Workspace, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(access, "spoken_languages", lambda _: {"P3": "es"})
    told = {}
    for person in ("P1", "P3"):
        write_access(workspace, person, tmp_path / f"{person}.pdf", as_of=NOW)
        write_access(workspace, person, tmp_path / f"{person}.json", as_of=NOW)
        told[person] = texts((tmp_path / f"{person}.pdf").read_bytes())[0]
    assert told["P1"].startswith("What is held on you")
    assert told["P3"].startswith("Qué se guarda sobre usted")
    in_english = as_json(access_report(workspace, "P3", as_of=NOW, language="en"))
    assert (tmp_path / "P3.json").read_bytes() == in_english
    assert json.loads(in_english)["made"] == "Mon 9 Nov 2026, 09:00 (America/New_York)"


def test_the_file_is_for_its_owner_alone(workspace: Workspace, tmp_path: Path) -> None:
    for name in ("fisk.pdf", "fisk.json"):
        made_file = write_access(workspace, "Lena", tmp_path / name, as_of=NOW)
        assert made_file.file.stat().st_mode & 0o077 == 0
        assert made_file.person == "P3"
        assert made_file.rows > 5
    with pytest.raises(Refusal, match=r"ends in \.pdf or \.json"):
        write_access(workspace, "P3", tmp_path / "fisk.txt", as_of=NOW)
    with pytest.raises(Unknown):
        write_access(workspace, "Nobody Such", tmp_path / "none.pdf", as_of=NOW)


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Workspace]:
    folder = tmp_path_factory.mktemp("access") / "demo"
    opened = open_workspace(demonstrate(folder, 5).workspace)
    yield opened
    opened.close()


def strings(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for one in value.values():
            yield from strings(one)
    elif isinstance(value, list):
        for one in value:
            yield from strings(one)


FIGURES = re.compile(
    r"\d{4}-\d\d-\d\d(?:T[\d:]+(?:Z|[+-][\d:]+)?)?|\d{1,2}:\d\d(?::\d\d)?|\d+[.,]\d+|[A-Z][a-z]{2} 20\d\d"
)


def test_nobody_else_of_three_hundred_is_in_anybodys_report(demo: Workspace) -> None:
    people = reckon_period(demo, DEMO_NOW).snapshot.people
    corrected = reckon_period(demo, DEMO_NOW).snapshot.corrections["person"].unique().sort().to_list()
    supervisors = people.filter("is_supervisor")["person"].head(2).to_list()
    asked = list(dict.fromkeys([*corrected[:3], *supervisors, people["person"][7]]))
    for at, person in enumerate(asked):
        mate = people.filter(pl.col("person") != person, pl.col("number").is_not_null()).row(40 + at, named=True)
        reason = f"{mate['name']} saw it, who keys {mate['number']} and is {mate['person']}"
        instant = civil_instant(demo, person, "2026-11-14T05:00")
        correct(
            demo, CorrectionRequest("add", person, mate["name"], reason, at=instant, direction="in"), as_of=DEMO_NOW
        )
        disputing.open_dispute(
            demo,
            reckon_period(demo, DEMO_NOW),
            person,
            kind="other",
            says=f"ask {mate['name']}",
            way="paper",
            as_of=DEMO_NOW,
        )
    for at, person in enumerate(asked):
        of = access_report(demo, person, as_of=DEMO_NOW)
        assert of.blanked >= 4
        own = people.filter(pl.col("person") == person).row(0, named=True)
        pages = " ".join(" ".join(texts(as_pdf(of))).split())
        told = {"json": "\n".join(strings(json.loads(as_json(of)))), "pdf": pages}
        mine = "|".join(re.escape(own[name]) for name in ("phone", "address") if own[name])
        if at < 2:  # a sentence told anew in another language names nobody either
            spanish = access_report(demo, person, as_of=DEMO_NOW, language="es")
            told["Spanish"] = " ".join(" ".join(texts(as_pdf(spanish))).split())
            assert "[otra persona]" in told["Spanish"]
            assert BLANK not in told["Spanish"]
        for form, whole in told.items():
            text = re.sub(mine, "", whole) if mine else whole
            words = set(re.findall(r"\w+", FIGURES.sub(" ", text)))
            folded = text.casefold()
            for other in people.filter(pl.col("person") != person).iter_rows(named=True):
                assert other["name"].casefold() not in folded, (person, form, other["name"])
                assert not {other["person"], other["number"]} & words, (person, form, other)
