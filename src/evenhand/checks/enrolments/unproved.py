"""No punch has ever proved an enrolment."""

from __future__ import annotations

from collections.abc import Iterator

from evenhand.checks.disagreement import by
from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call
from evenhand.terms.languages import told
from evenhand.terms.records import Finding, Stake

CHECK = Check(
    code="unproved",
    title=told("Enrolments never proved"),
    why=told(
        "An enrolment counts as good when the first punch under the right number arrives. Until "
        "then the number may be wrong, or the hand may not be recognised."
    ),
    next_step=told("Ask each of them to key the number and lay the hand down once, and take the reader's log again."),
)

MOST = 12


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per site, with the people no reader has accepted yet; who is proved at one reader is left out."""
    heard = facts.seen.select("reader").unique()
    proved = facts.attributed.select("person").unique()
    unproved = facts.discrepancies_of("unproved").join(proved, on="person", how="anti", maintain_order="left")
    rows = unproved.join(heard, on="reader", how="semi", maintain_order="left").rows(named=True)
    for (site,), found in by([row | {"site": facts.reader_sites.get(row["reader"])} for row in rows], "site").items():
        people = by(found, "person", "number")
        lines = [
            told(
                "{who} under {number} at {names:listed}.",
                who=call(facts, person),
                number=number,
                names=[row["reader"] for row in there],
            )
            for (person, number), there in list(people.items())[:MOST]
        ]
        yield Finding(
            code=CHECK.code,
            subject=str(site),
            person=found[0]["person"] if len(people) == 1 else None,
            says=told(
                "{count:# person|# people} enrolled at {site} not proved by a punch yet.", count=len(people), site=site
            ),
            evidence=(told("No reader has accepted their hands yet."), *lines, *_more(len(people) - MOST)),
            stake=Stake(people=len(people)),
            next_step=told(
                "Ask them to key their number at a reader they are enrolled on and lay the hand down "
                "once; if it is refused, enrol the hand again under the same number."
            ),
            details={"people": [person for person, _ in people]},
        )


def _more(count: int) -> tuple[str, ...]:
    return (told("And {count} more.", count=count),) if count > 0 else ()
