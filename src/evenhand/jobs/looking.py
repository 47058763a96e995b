"""Look at a file: how it would be read, and what taking it would do; nothing is stored."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import polars as pl

from evenhand.jobs.fold import given_by
from evenhand.jobs.foreseen import ask_roster, foresee, leaves_others
from evenhand.jobs.incoming import Incoming
from evenhand.jobs.known import Known
from evenhand.jobs.seen import Answers, Proposal, Seen, first_rows, refused_rows
from evenhand.jobs.unlikely import unlikely
from evenhand.layouts import Layout, Rows
from evenhand.store.standing import Standing, same_content
from evenhand.store.takes import newest_take
from evenhand.terms.languages import told

__all__ = ["Understood", "as_seen", "understand"]

Progress = Callable[[str, float], None]


@dataclass(frozen=True)
class Understood:
    """A file with how it would be read; `rows` is None while that is open.

    `fault` says why a later answer than these could not be followed, `doubt` why the rows are unlikely to be what the
    file is taken for.
    """

    incoming: Incoming
    answers: Answers
    proposal: Proposal
    rows: Rows | None
    fault: str = ""
    doubt: str = ""


def understand(
    known: Known,
    incoming: Incoming,
    answers: Answers,
    layout: Layout | None,
    progress: Progress | None = None,
    *,
    of_take: Layout | None = None,
) -> Understood:
    """Return how a file would be read, by a written `layout` where there is one, and its rows where nothing is open.

    `of_take` is the layout of the take that is to be read again so: it was said then whether it is the whole roster,
    and what is stored now has later lists in it.
    """
    proposal = Proposal(layout, ()) if layout else known.propose(incoming, answers)
    if proposal.questions:
        return Understood(incoming, answers, proposal, None)
    surroundings = known.surroundings()
    rows = surroundings.read(incoming.file, proposal.layout, progress)
    question, store = None, known.workspace.store
    if rows.table.name == "people":
        was = of_take or _layout_of(_taken_before(known, incoming, proposal.layout))
        roster = answers.roster or (was or proposal.layout).roster
        proposal = replace(proposal, layout=replace(proposal.layout, roster=roster))
        if not roster and was is None:
            question = ask_roster(store, incoming.name, rows, given_by(proposal.layout))
    is_part = leaves_others(store, rows, given_by(proposal.layout), proposal.layout.roster)
    doubt = unlikely(store, rows, surroundings.cells.numbers, known.today, is_part=is_part)
    if question is not None:
        return Understood(incoming, answers, replace(proposal, questions=(question,)), None, doubt=doubt)
    return Understood(incoming, answers, proposal, rows, doubt=doubt)


def as_seen(known: Known, understood: Understood) -> Seen:
    """Return a file as a person is shown it, with what taking it would change."""
    incoming, proposal, rows = understood.incoming, understood.proposal, understood.rows
    surroundings = known.surroundings()
    before = _taken_before(known, incoming, proposal.layout)
    first, zones = first_rows(incoming.file, proposal.layout, rows, surroundings)
    seen = Seen(
        incoming.name,
        proposal,
        understood.answers,
        before.take if before else 0,
        first,
        notices=(*filter(None, [understood.doubt]), *proposal.notices),
        zones=zones,
        fault=understood.fault,
        doubt=understood.doubt,
    )
    if rows is None:
        return seen
    if before and _layout_of(before) not in (None, proposal.layout):
        again = told(
            "This content was taken before, as take {take}, by another layout; taking it by this one "
            "reads that take again in its place. `evenhand takes again {take} --author NAME --reason "
            "WHY` shows first what that would do.",
            take=before.take,
        )
        rejects = refused_rows(rows.rejects)
        notices = (again, *seen.notices, *rows.notices)
        return replace(seen, read=rows.read, refused=rows.rejects.height, refusals=rejects, notices=notices)
    given, roster = given_by(proposal.layout), proposal.layout.roster
    changes, conflicts = foresee(
        known.workspace.store, rows, given, surroundings.person_zones, roster, today=known.today
    )
    rejects_all = pl.concat([rows.rejects, conflicts]).sort("line", maintain_order=True)
    return replace(
        seen,
        read=rows.read,
        refused=rejects_all.height,
        refusals=refused_rows(rejects_all),
        changes=changes,
        notices=seen.notices + rows.notices,
    )


def _layout_of(one: Standing | None) -> Layout | None:
    return Layout.from_toml(one.layout, one.file) if one and one.layout else None


def _taken_before(known: Known, incoming: Incoming, layout: Layout) -> Standing | None:
    """Return the take that holds this very content and that no later file has overtaken, None where there is none."""
    with known.workspace.store.reading() as conn:
        alike = same_content(conn, incoming.sha256, layout.table)
        newest = newest_take(conn, (layout.table,))
    return alike[0] if alike and (layout.table == "punches" or alike[0].take == newest) else None
