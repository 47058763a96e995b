"""Print statements to files: one person's, or everybody's of a period, each with the code that signs it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime
from decimal import Decimal
from pathlib import Path

from evenhand.jobs.json_records import StatementWritten
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.signed_period import period_signed
from evenhand.jobs.statement import statement, statement_pdf
from evenhand.jobs.statement_codes import issue_code
from evenhand.jobs.workspace import Workspace
from evenhand.store.owner_only import make_folder, write_file
from evenhand.terms.disk_faults import not_written, why_of
from evenhand.terms.languages import told
from evenhand.terms.records import Refusal

__all__ = ["print_statement", "print_statements"]


def print_statements(
    workspace: Workspace,
    reckoning: Reckoning,
    folder: Path,
    people: Sequence[str] = (),
    *,
    day: date | None = None,
    as_of: datetime,
    paper: str = "",
) -> list[StatementWritten]:
    """Write the statements of some people, or of everybody with hours in the period that holds `day`, into a folder.

    Files are numbered by name and department, and bear no name: who may see the folder sees no more than numbers.
    """
    asked = [str(reckoning.snapshot.find_person(one)["person"]) for one in people]
    everybody = [one.person for one in period_signed(reckoning, day).people if one.has_hours]
    try:
        make_folder(folder)
    except OSError as fault:
        raise Refusal(
            told("{folder} cannot be made ({strerror}); name a folder of yours.", folder=folder, strerror=why_of(fault))
        ) from fault
    return [
        print_statement(
            workspace, reckoning, folder / f"statement-{at:04d}.pdf", person, day=day, as_of=as_of, paper=paper
        )
        for at, person in enumerate(asked or everybody, start=1)
    ]


def print_statement(
    workspace: Workspace,
    reckoning: Reckoning,
    file: Path,
    person: str,
    *,
    day: date | None = None,
    as_of: datetime,
    paper: str = "",
) -> StatementWritten:
    """Write a person's statement, for the owner alone, with its code where the period has ended."""
    code = issue_code(workspace, reckoning, person, day, as_of=as_of)
    made = statement(reckoning, person, period_day=day, code=code, paper=paper)
    try:
        write_file(file, statement_pdf(made))
    except OSError as fault:
        raise not_written(file, fault) from fault
    total = made.content["total"] and Decimal(made.content["total"])
    return StatementWritten(
        file=file,
        person=made.person,
        name=made.content["name"],
        first=made.first,
        last=made.last,
        total=total,
        code=code,
    )
