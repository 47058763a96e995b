"""Where a file may hold either of two tables, the table is asked for; a title, a name or times of day decide."""

from __future__ import annotations

import pytest

from evenhand.layouts import KnownCells, Proposal, SourceFile, propose

NAMES = ("Ida Marlow", "Rui Okoro", "Lena Fisk", "Tomas Brandt", "Ana Weir", "Jo Lindqvist", "Mia Castell", "Otto Renn")
KNOWN = KnownCells(readers=["GATE", "RD-05"])


def proposed(name: str, header: str, row: str, above: str = "") -> Proposal:
    """Return what is proposed of a file of sixteen rows, each as `row` says."""
    rows = [
        row.format(
            person=f"P{2031 + 7 * at}",
            number=f"{4412 + 907 * (at % 8)}",
            name=NAMES[at % 8],
            day=f"{13 + at}.06.2026",
            rate=f"{14 + at}.50",
            time=f"{6 + at % 12:02}:0{at % 10}",
        )
        for at in range(16 if "{time}" in row or "{rate}" in row else 8)
    ]
    return propose(SourceFile(name, "\n".join([*([above] if above else []), header, *rows, ""]).encode()), known=KNOWN)


def tables_asked(proposal: Proposal) -> set[str]:
    return {choice.answer for one in proposal.questions if one.about == "table" for choice in one.choices}


def test_numbers_and_names_may_be_a_roster_or_a_readers_own_list() -> None:
    assert tables_asked(proposed("list.csv", "Badge;Name", "{number};{name}")) >= {"people", "enrolments"}


def test_the_files_name_decides_between_a_roster_and_a_readers_list() -> None:
    proposal = proposed("roster.csv", "Badge;Name", "{number};{name}")
    assert (proposal.layout.table, proposal.questions) == ("people", ())


def test_a_title_that_names_a_reader_speaks_for_its_list() -> None:
    proposal = proposed("list.csv", "Badge;Name", "{number};{name}", above="Zegar: RD-05;")
    assert proposal.layout.table == "enrolments" or "enrolments" in tables_asked(proposal)
    assert proposal.layout.table != "people" or proposal.questions


@pytest.mark.parametrize("word", ["Starting", "Xqu", "Rige"])
def test_rates_without_a_plain_word_for_their_day_are_no_roster(word: str) -> None:
    proposal = proposed(
        "wages.xyz.csv".replace("wages", "list"), f"Staff Number;Name;{word};Wage", "{person};{name};{day};{rate}"
    )
    assert tables_asked(proposal) >= {"people", "rates"}


def test_a_signed_form_without_more_may_be_consent() -> None:
    proposal = proposed("list.csv", "Payroll No.;Worker;Form Signed", "{person};{name};{day}")
    assert proposal.layout.table == "consent" or tables_asked(proposal) >= {"people", "consent"}


def test_times_of_day_speak_for_a_log_whatever_its_words() -> None:
    proposal = proposed("export.csv", "Badge;Registration Date;Registration Time", "{number};{day};{time}")
    assert proposal.layout.table == "punches" or "punches" in tables_asked(proposal)


def test_a_log_with_a_department_and_personnel_numbers_is_no_roster() -> None:
    header, row = "Employee Number;Badge;Date;Time;Department", "{person};{number};{day};{time};Press"
    assert tables_asked(proposed("export.csv", header, row)) == set()


def test_breaks_on_a_day_are_no_consent() -> None:
    proposal = proposed("list.csv", "Person;Date;Break", "{person};{day};12:00-12:30")
    assert tables_asked(proposal) >= {"consent", "schedules"}
