"""A reader's log ends before those of the other readers of its site.

Silence would let the hours since go missing; a cry where a reader is merely little used would be ignored. So only a
span counts in which chance would leave this reader without a punch less than once in a thousand, by its earlier weeks.
"""

from __future__ import annotations

from collections.abc import Iterator

from evenhand.checks.facts import Check, Facts
from evenhand.checks.logs import ended_logs
from evenhand.terms.languages import Moment, told
from evenhand.terms.records import Finding, Stake
from evenhand.terms.zones import civil_date

CHECK = Check(
    code="log_ends_early",
    title=told("A log ends before the others"),
    why=told(
        "When the log of a reader was taken only up to some day, or not at all, everybody who used it lacks punches "
        "after that day. Their hours look whole until somebody misses them. The reader's silence until the last "
        "punch of its site's other readers is compared with the same hours of up to six weeks before. It is named "
        "where chance alone would leave it so less than once in a thousand, and no file with its punches goes on any "
        "further."
    ),
    next_step=told("Take the log of that reader from its last punch on."),
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per reader."""
    for reader, row in ended_logs(facts).items():
        zone = facts.reader_zones.get(reader, facts.zone)
        since, until = (told("{at:zoned}", at=Moment(row[name], zone)) for name in ("since", "until"))
        yield Finding(
            code=CHECK.code,
            subject=reader,
            day=civil_date(zone, row["since"]),
            reader=reader,
            says=told(
                "The log of {reader} ends at {since}; the other readers of its site go on until {until}.",
                reader=reader,
                since=since,
                until=until,
            ),
            evidence=(
                told(
                    "About {usual:.0f} presentations came in the same hours of {weeks:# week|# weeks} before.",
                    usual=row["usual"],
                    weeks=row["weeks"],
                ),
                told("No file with punches of {reader} reaches further.", reader=reader),
            ),
            stake=Stake(people=round(row["usual"] / 2)),
            next_step=told(
                "Take the log of {reader} from {since} on; if it holds nothing more, go there and lay a hand down.",
                reader=reader,
                since=since,
            ),
            details={"since": row["since"], "until": row["until"], "usual": row["usual"], "weeks": row["weeks"]},
        )
