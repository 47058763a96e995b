"""Fewer than two supervisors of a reader are proved by a punch there, or the last proof is long ago.

To be silent is worse: on the day on which nobody can enrol others it is too late to find out.
"""

from __future__ import annotations

from collections.abc import Iterator

import polars as pl

from evenhand.checks.facts import Check, Facts
from evenhand.terms.columns import Frame
from evenhand.terms.languages import Moment, sentence, told
from evenhand.terms.records import Finding, Stake
from evenhand.terms.supervision import PROOF_DAYS, STANDING_STATES
from evenhand.terms.words import called

CHECK = Check(
    code="supervisors_unproved",
    title=told("Supervisors not proved at a reader"),
    why=told(
        "A list says who was given authority, and a punch says whose hand it was given to. "
        "Whoever was enrolled under a slipped number, or whose hand is no longer recognised, "
        "cannot help on the day they are needed (common practice, no source)."
    ),
    next_step=told(
        "Have two supervisors key their number at that reader and lay the hand down, and take its log again."
    ),
)

NEEDED = 2
STATES = {
    "proved": sentence("proved {when}"),
    "old": sentence("proved last {when}, more than {days} days ago"),
    "unproved": sentence("not seen there as themselves since the enrolment"),
    "roster": sentence("does not count: the roster names them no supervisor"),
    "withdrew": sentence("does not count: their hand is not to be held any longer"),
    "left": sentence("does not count: has left"),
    "number": sentence("does not count: not one person's number on the roster, so it may stand under a wrong number"),
}


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per reader with punches where two are listed and fewer than two proved of late."""
    heard = facts.seen.select("reader").unique()
    rows = facts.supervision.join(heard, on="reader", how="semi", maintain_order="left")
    for (reader,), found in rows.group_by("reader", maintain_order=True):
        proved = found.filter(pl.col("state") == "proved").height
        standing = found.filter(pl.col("state").is_in((*STANDING_STATES, "unproved")))
        # where fewer than two are listed at all, few_supervisors says so
        if proved >= NEEDED or (standing.height < NEEDED and found.height < NEEDED):
            continue
        name = str(reader)
        yield Finding(
            code=CHECK.code,
            subject=name,
            reader=name,
            says=told(
                "{many} of {name} is proved by a punch there in the last {days} days.",
                many=_many(proved),
                name=name,
                days=PROOF_DAYS,
            ),
            evidence=tuple(_line(facts, row) for row in found.iter_rows(named=True)),
            stake=Stake(people=facts.enrolled_at(name)),
            next_step=_next(facts, found, name),
            details={"proved": proved},
        )


def _many(proved: int) -> str:
    return told("No supervisor") if not proved else told("Only {proved:# supervisor|# supervisors}", proved=proved)


def _line(facts: Facts, row: dict[str, object]) -> str:
    when = (
        told("{at:short}", at=Moment(int(str(row["proved_at"])), facts.reader_zones[str(row["reader"])]))
        if row["proved_at"]
        else ""
    )
    who = called(str(row["name"]), str(row["person"])) if row["person"] else row["name"] or told("no name")
    return told(
        "{number} {who}: {state}.",
        number=row["number"],
        who=who,
        state=told(STATES[str(row["state"])], when=when, days=PROOF_DAYS),
    )


def _next(facts: Facts, found: Frame, reader: str) -> str:
    ask = found.filter(pl.col("state").is_in(("old", "unproved")))
    names = [called(name, person) for name, person in ask.select("name", "person").iter_rows()]
    if not names:
        return told("Follow the steps for {reader} on Readers, which enrol a second supervisor first.", reader=reader)
    return told(
        "Ask {names:listed 3} to key the number at {reader} and lay the hand down once; where it "
        "is refused, enrol the hand again while another supervisor stands by.",
        names=names,
        reader=reader,
    )
