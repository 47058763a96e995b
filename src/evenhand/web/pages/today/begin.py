"""How to begin: the steps of a workspace that holds nothing yet, with those that are done."""

from __future__ import annotations

from dataclasses import dataclass

from evenhand.jobs.snapshot import Snapshot
from evenhand.terms.languages import told

__all__ = ["BeginStep", "steps"]


@dataclass(frozen=True)
class BeginStep:
    """One step of beginning: what it is for, where it is done, and whether it is."""

    title: str
    says: str
    address: str
    label: str
    is_done: bool


def steps(of: Snapshot) -> list[BeginStep]:
    """Return the steps in the order in which each rests on those before."""
    files = "/files", told("Put a file on")
    return [
        BeginStep(
            told("The readers"),
            told(
                "A list of the readers with their site and the zone of their clocks: without it no time can be placed."
            ),
            *files,
            is_done=of.readers.height > 0,
        ),
        BeginStep(
            told("The people"),
            told("The roster: each person with the number they key, their site, and who is a supervisor."),
            *files,
            is_done=of.people.height > 0,
        ),
        BeginStep(
            told("Who is enrolled where"),
            told("The list of numbers that each reader holds. What roster and readers disagree on is found from it."),
            *files,
            is_done=of.enrolments.height > 0,
        ),
        BeginStep(
            told("The punches"),
            told("The readers' logs, as far back as you have them: eight weeks tell what is usual."),
            *files,
            is_done=of.recorded.height > 0,
        ),
        BeginStep(
            told("The rules of each site"),
            told(
                "Which law binds it, where its workweek begins, and whether times are rounded. Until somebody says, "
                "hours are worked out by the default rules, and Today asks."
            ),
            "/hours",
            told("See the hours"),
            is_done=bool(of.settings.sites),
        ),
    ]
