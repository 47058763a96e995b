"""Hours have changed since the person confirmed them or a supervisor approved them.

Nobody's word stands for hours they have not seen. The worse mistake is a period defended with signatures under other
hours; asking once too often costs a minute.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call
from evenhand.terms.languages import DaySpan, Moment, told
from evenhand.terms.records import Finding, Stake

CHECK = Check(
    code="signature_undone",
    title=told("Hours changed since they were signed"),
    why=told(
        "A confirmation or an approval is of the very hours that were seen. A late log, a "
        "correction, a roster or a rule has changed them since, so that what was signed is not "
        "what is paid."
    ),
    next_step=told("Print the statement again, with its new code, or have the supervisor approve again on Sign-off."),
)
FEW = 5
"""As many sign-offs of a period as are told one by one."""


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per person and period, or one for the period where those of many were undone."""
    for (first, last), rows in facts.undone.sort("first_day").group_by("first_day", "last_day", maintain_order=True):
        people = rows.partition_by("person", maintain_order=True)
        if len(people) > FEW:
            yield _of_many(facts, str(first), told("{days}", days=DaySpan(first, last)), rows.rows(named=True))
        else:
            yield from (_of_person(facts, one.rows(named=True)) for one in people)


def _of_person(facts: Facts, rows: list[dict[str, Any]]) -> Finding:
    one = rows[0]
    whose, period = call(facts, one["person"]), told("{days}", days=DaySpan(one["first_day"], one["last_day"]))
    signed = told("{names:listed}", names=[_signed(facts, row) for row in rows])
    return Finding(
        code=CHECK.code,
        subject=one["person"],
        person=one["person"],
        day=one["first_day"],
        says=told(
            "The hours of {whose}, {period}, have changed since they were {signed}.",
            whose=whose,
            period=period,
            signed=signed,
        ),
        evidence=(
            *(told("{says:begun} {at:zoned}.", says=_signed(facts, row),
                   at=Moment(row["made_at"], facts.zone_of(row["person"]))) for row in rows),
            told("Since then: {differs:again}.", differs=one["differs"]),
        ),
        stake=Stake(minutes=max(row["seconds"] for row in rows) // 60, people=1),
        next_step=CHECK.next_step,
        details={"signoffs": [row["signoff"] for row in rows]},
    )  # fmt: skip


def _of_many(facts: Facts, first: str, period: str, rows: list[dict[str, Any]]) -> Finding:
    people = list(dict.fromkeys(row["person"] for row in rows))
    return Finding(
        code=CHECK.code,
        subject=f"period {first}",
        says=told(
            "The hours of {count:# person|# people}, {period}, have changed since they were signed.",
            count=len(people),
            period=period,
        ),
        evidence=(told("{names:listed 5}.", names=[call(facts, one) for one in people]),),
        stake=Stake(minutes=sum(row["seconds"] for row in rows) // 60, people=len(people)),
        next_step=CHECK.next_step,
        details={"signoffs": [row["signoff"] for row in rows]},
    )


def _signed(facts: Facts, row: dict[str, Any]) -> str:
    if row["action"] == "confirm":
        return told("confirmed by them")
    by = call(facts, row["supervisor"]) if row["supervisor"] else told("a supervisor no longer on file")
    return told("approved by {by}", by=by)
