"""What keeps a file from being taken by itself: anything that a person would want to look at first."""

from __future__ import annotations

from evenhand.jobs.foreseen import are_many
from evenhand.jobs.take import Seen
from evenhand.terms.words import counted, listed

__all__ = ["doubt_about"]

MOST_REJECTED = 0.01
"""Up to a hundredth of the rows may be rejected, such as totals; more tell of another file (common practice)."""
LEAST_LIKELY = 0.5


def doubt_about(seen: Seen) -> str:
    """Return what is doubtful about a file, in one sentence; empty where a confirmed layout fits it beyond doubt."""
    proposal, changes = seen.proposal, seen.changes
    if proposal.questions:
        return f"It has to be asked about: {proposal.questions[0].asks}"
    if not proposal.kept:
        return f"No layout that somebody has confirmed fits it; it looks like {proposal.layout.table}."
    if seen.taken_before:
        return ""
    if proposal.offers:
        left = listed([one.header or f"column {one.position}" for one in proposal.offers])
        return f"Its layout leaves out what seems to be of use: {left}."
    if unlikely := [one for one in proposal.uses if one.names and one.likelihood < LEAST_LIKELY]:
        return f"Its {unlikely[0].header or unlikely[0].position} does not look like {' and '.join(unlikely[0].names)}."
    if seen.doubt:
        return seen.doubt
    if changes is None or not seen.read:
        return "No row of it can be read."
    if seen.refused > MOST_REJECTED * seen.read:
        why = f": {seen.refusals[0].reason}" if seen.refusals else "."
        return f"{seen.refused:,} of its {counted(seen.read, 'row')} would be rejected{why}"
    if changes.left_out and not proposal.layout.roster:
        left_out = counted(changes.left_out, "person", "people")
        return f"It leaves out {left_out}, more than half of those listed; it may be a part, or another roster."
    before = changes.gone + changes.changed + changes.known
    if are_many(changes.gone, before):
        return f"It no longer lists {changes.gone:,} of the {before:,} that were listed; it may have been cut short."
    return ""
