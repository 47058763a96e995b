"""What mends the cause of a stray, so that the next punch needs nobody's help."""

from __future__ import annotations

import polars as pl

from evenhand.jobs.stray_proposals import StrayProposal, Strays
from evenhand.terms.languages import told

__all__ = ["mending_steps"]


def mending_steps(found: Strays, proposal: StrayProposal, person: str) -> tuple[str, ...]:
    """Return what to do so that the next punch needs nobody's help, in an order that leaves no reader without them."""
    who = found.people.filter(pl.col("person") == person).row(0, named=True)
    right, name, reader = str(who["number"] or ""), who["name"], proposal.reader
    listed = found.enrolments.filter(pl.col("reader") == reader)
    is_listed = proposal.number in listed["number"].to_list()
    if not right:
        return (
            told("Give {name} a number on the roster; {number} is what they key.", name=name, number=proposal.number),
        )
    if proposal.number.lstrip("0") == right.lstrip("0") and len(proposal.number) > len(right):
        return (
            told(
                "Correct the roster: {name}'s number is {number}, not {right}; zeros in front were lost.",
                name=name,
                number=proposal.number,
                right=right,
            ),
        )
    role = told("as a supervisor") if who["is_supervisor"] else told("with three presentations")
    steps = [
        told("At {reader}, enrol {name} under {right}, {role}.", reader=reader, name=name, right=right, role=role)
        if right not in listed["number"].to_list()
        else "",
        told(
            "Ask {name} to punch under {right} at {reader}, and see it accepted.", name=name, right=right, reader=reader
        ),
        told("At {reader}, remove the enrolment under {number}.", reader=reader, number=proposal.number)
        if is_listed or not listed.height
        else "",
    ]
    if proposal.holder:
        steps.append(
            told(
                "At {reader}, enrol {holder} under {number}, if they use it.",
                reader=reader,
                holder=proposal.holder_name,
                number=proposal.number,
            )
        )
    return tuple(step for step in steps if step)
