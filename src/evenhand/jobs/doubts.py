"""What keeps a file from being taken by itself: anything that a person would want to look at first."""

from __future__ import annotations

from evenhand.jobs.foreseen import are_many
from evenhand.jobs.take import Seen
from evenhand.terms.languages import sentence, told

__all__ = ["doubt_about"]

MOST_REJECTED = 0.01
"""Up to a hundredth of the rows may be rejected, such as totals; more tell of another file (common practice)."""
LEAST_LIKELY = 0.5


def doubt_about(seen: Seen) -> str:
    """Return what is doubtful about a file, in one sentence; empty where a confirmed layout fits it beyond doubt."""
    proposal, changes = seen.proposal, seen.changes
    if proposal.questions:
        return told("It has to be asked about: {asks}", asks=proposal.questions[0].asks)
    if not proposal.kept:
        return told(
            "No layout that somebody has confirmed fits it; it looks like {table}.", table=told(proposal.layout.table)
        )
    if seen.taken_before:
        return ""
    if proposal.offers:
        columns = [one.header or told("column {position}", position=one.position) for one in proposal.offers]
        return told("Its layout leaves out what seems to be of use: {columns:listed}.", columns=columns)
    if unlikely := [one for one in proposal.uses if one.names and one.likelihood < LEAST_LIKELY]:
        return told(
            "Its {column} does not look like {names:listed}.",
            column=unlikely[0].header or unlikely[0].position,
            names=list(unlikely[0].names),
        )
    if seen.doubt:
        return seen.doubt
    if changes is None or not seen.read:
        return sentence("No row of it can be read.")
    if seen.refused > MOST_REJECTED * seen.read:
        if not seen.refusals:
            return told(
                "{refused:,} of its {count:# row|# rows} would be rejected.", refused=seen.refused, count=seen.read
            )
        return told(
            "{refused:,} of its {count:# row|# rows} would be rejected: {why:again}",
            refused=seen.refused,
            count=seen.read,
            why=seen.refusals[0].reason,
        )
    if changes.left_out and not proposal.layout.roster:
        return told(
            "It leaves out {count:# person|# people}, more than half of those listed; it may be a part, or another "
            "roster.",
            count=changes.left_out,
        )
    before = changes.gone + changes.changed + changes.known
    if are_many(changes.gone, before):
        return told(
            "It no longer lists {gone:,} of the {before:,} that were listed; it may have been cut short.",
            gone=changes.gone,
            before=before,
        )
    return ""
