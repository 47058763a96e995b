"""Who should be shown again before the next enrolment day: a cautious rule about the work, never about the person.

What is on file may be nothing yet: then it is not known whether somebody can, which is no word against them. Answers
of a practice are no reason either, being followed by what is better at once. That practice of half a year ago counts as
none, that three make a habit, and that more than half of a practice goes well, is common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from evenhand.terms.languages import told

__all__ = ["FEWEST", "REMEMBERED", "SELDOM", "SMALL", "EnrolmentWork", "not_known_yet", "shown_again", "stands_out"]

REMEMBERED = timedelta(weeks=26)
"""For so long somebody who practised, or enrolled, is taken to know how."""
FEWEST = 3
SELDOM = 0.01
"""How often a count may stand out by chance, for one supervisor, were everybody's work alike."""
SMALL = 8
"""With fewer enrolments than these, counts are said to be small. Common practice, no source."""


@dataclass(frozen=True)
class EnrolmentWork:
    """What is known of somebody's work: the last practice, and the enrolments of the time looked back over.

    `told` are the enrolments old enough for a punch to have come, `proved` those that one proved, `other_number` those
    keyed under another number, `again` those whose hands were enrolled again within four weeks, of `enrolled` in all.
    `well` and `not_well` are how many themes went well at the last practice, and how many did not.
    """

    practised_on: date | None = None
    well: int = 0
    not_well: int = 0
    enrolled: int = 0
    told: int = 0
    proved: int = 0
    other_number: int = 0
    again: int = 0

    def without(self, some: EnrolmentWork) -> EnrolmentWork:
        """Return the counts of the enrolments that are not among `some`."""
        return EnrolmentWork(
            enrolled=self.enrolled - some.enrolled,
            told=self.told - some.told,
            proved=self.proved - some.proved,
            other_number=self.other_number - some.other_number,
            again=self.again - some.again,
        )


def not_known_yet(work: EnrolmentWork, today: date) -> str:
    """Return why it is not known whether somebody can: nothing lately shows it; '' where something does.

    One enrolment that a punch proved in the time looked back over does, or a practice since then that went well for the
    greater part.
    """
    if work.proved:
        return ""
    if work.practised_on is None:
        return told("has not practised yet, and no enrolment of theirs was proved in the last half year")
    if today - work.practised_on > REMEMBERED:
        return told("last practised on {day}, and no enrolment was proved since", day=work.practised_on)
    if work.well <= work.not_well:
        return told(
            "practised on {day}, with {count} of {of} parts to look at again, and no enrolment was proved so far",
            day=work.practised_on,
            count=work.not_well,
            of=work.well + work.not_well,
        )
    return ""


def shown_again(work: EnrolmentWork, others: EnrolmentWork) -> tuple[str, ...]:
    """Return why somebody should be shown again, beside what all `others` of the workplace did; nothing for no reason.

    Counts of not proved and of enrolled again are a reason only where there are at least FEWEST of them and they stand
    out from the others'.
    """
    reasons = []
    if work.other_number > 1:
        reasons.append(
            told("{count:,} hands stood under another number than the one to be keyed", count=work.other_number)
        )
    unproved, of_others = work.told - work.proved, others.told - others.proved
    if unproved >= FEWEST and stands_out(unproved, work.told, of_others, others.told):
        reasons.append(
            told(
                "{count} of {of} enrolments were not proved by a punch; of the others' {others} of {others_of}",
                count=unproved,
                of=work.told,
                others=of_others,
                others_of=others.told,
            )
        )
    if work.again >= FEWEST and stands_out(work.again, work.enrolled, others.again, others.enrolled):
        reasons.append(
            told(
                "{count} of {of} hands were enrolled again within four weeks; of the others' {others} of {others_of}",
                count=work.again,
                of=work.enrolled,
                others=others.again,
                others_of=others.enrolled,
            )
        )
    return tuple(reasons)


def stands_out(count: int, of: int, others_count: int, others_of: int) -> bool:
    """Whether so many, or more, would come about in fewer than SELDOM of cases, were everybody's work alike.

    Source: Fisher's exact test, one-sided (Fisher 1935, The Design of Experiments). Nothing stands out beside nothing.
    """
    if not of or not others_of:
        return False
    from scipy.stats import hypergeom

    return bool(hypergeom.sf(count - 1, of + others_of, count + others_count, of) < SELDOM)
