"""What laws want before a hand is enrolled, by place, dated and cited. `checked` says whether a text was read.

A reminder of what to ask counsel, never a decision: places not listed have laws of their own.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from evenhand.records.retention.law import EUROPEAN
from evenhand.terms.languages import sentence

__all__ = ["CONSENT_LAWS", "ConsentLaw", "laws_on"]


@dataclass(frozen=True)
class ConsentLaw:
    """One law: the `place` by ISO 3166-2 (or EU), what must come first, since when, and how well it is known.

    `covers` is what it says of hand geometry. `checked` is `seen` where the text or a report of it was read, `memory`
    where it is recalled and must be verified. `since` is the first day in force, None where that is not on record here.
    """

    place: str
    called: str
    covers: str
    before: str
    cites: str
    checked: str
    since: date | None = None

    def binds(self, place: str) -> bool:
        """Whether the law holds at a place by ISO 3166, such as US-IL."""
        if self.place == "EU":
            return place[:2] in EUROPEAN
        return place == self.place or place.startswith(f"{self.place}-")


CONSENT_LAWS = (
    ConsentLaw(
        "US-IL",
        sentence("Illinois, Biometric Information Privacy Act"),
        sentence('named: "scan of hand or face geometry"'),
        sentence(
            "written notice that it is collected or stored; written purpose and length of term; a written release; a "
            "public policy with a retention schedule"
        ),
        "740 ILCS 14/10, 14/15(a), (b)",
        "seen",
    ),
    ConsentLaw(
        "US-IL",
        sentence("Illinois, electronic signature"),
        sentence("the same"),
        sentence("an electronic signature counts as a written release"),
        "Public Act 103-0769 (SB 2979), 740 ILCS 14/10",
        "seen",
        date(2024, 8, 2),
    ),
    ConsentLaw(
        "US-TX",
        sentence("Texas, capture of biometric identifiers"),
        sentence('named: "record of hand or face geometry"'),
        sentence("inform the person and get consent"),
        "Tex. Bus. & Com. Code 503.001(b)",
        "seen",
    ),
    ConsentLaw(
        "US-CO",
        sentence("Colorado, biometric identifiers"),
        sentence("by general words"),
        sentence(
            "consent; an employer may require it only for secure access, the start and end of the workday, safety "
            "and security, and emergencies"
        ),
        "C.R.S. 6-1-1314 (HB 24-1130)",
        "seen",
        date(2025, 7, 1),
    ),
    ConsentLaw(
        "US-WA",
        sentence("Washington, biometric identifiers"),
        sentence('not by name: "other unique biological patterns"'),
        sentence(
            "for a commercial purpose in the narrow sense (marketing) notice and consent; timekeeping by the employer "
            "is none"
        ),
        "RCW 19.375.010, 19.375.020",
        "seen",
    ),
    ConsentLaw(
        "US-NY",
        sentence("New York, fingerprints as a condition of work"),
        sentence(
            "no: hand geometry is allowed where the surface of the hand is not scanned (state opinion letter of 2010)"
        ),
        sentence("nothing of a hand's shape; ask counsel"),
        "N.Y. Labor Law 201-a",
        "seen",
    ),
    ConsentLaw(
        "EU",
        sentence("General Data Protection Regulation"),
        sentence("when processed to identify uniquely"),
        sentence("a ground of article 9(2); consent at work is seldom free (EDPB guidelines 05/2020)"),
        "GDPR art. 4(14), 9(1), 9(2)",
        "memory",
    ),
)


def laws_on(day: date) -> tuple[ConsentLaw, ...]:
    """Return the laws in force on a day, as far as they are on record here."""
    return tuple(law for law in CONSENT_LAWS if law.since is None or law.since <= day)
