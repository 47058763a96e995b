"""By when a hand must be gone: the laws on biometric data, one record each.

Each has its source, its date of effect, our reading, and whether the text was read: see `law`.
"""

from __future__ import annotations

from datetime import date

from evenhand.records.retention.lapses import Lapse
from evenhand.records.retention.law import Law, Term, after_years
from evenhand.terms.languages import sentence

__all__ = ["OF_DESTROYING", "PRACTICE"]

HAND = sentence("the hand on a reader, and scores and counts made from it")
ENDED = Term("purpose_ended")
OF_DESTROYING: tuple[Law, ...] = (
    Law(
        "us_il_bipa",
        "US-IL",
        "destroy",
        HAND,
        (ENDED, *after_years("last_interaction", 3)),
        "740 ILCS 14/15(a)",
        date(2008, 10, 3),
        "seen",
        sentence("whichever is first; 28 February where 29 February is missing; date of effect from memory"),
    ),
    Law(
        "us_tx_503",
        "US-TX",
        "destroy",
        HAND,
        after_years("purpose_ended", 1),
        sentence("Tex. Bus. & Com. Code 503.001(c)(3); (c-2) on the end of employment from memory"),
        date(2009, 9, 1),
        "seen",
        sentence(
            "a reasonable time, at the latest the first anniversary; the purpose is presumed to end with employment"
        ),
    ),
    Law(
        "us_co_1314",
        "US-CO",
        "destroy",
        HAND,
        (ENDED, Term("last_interaction", Lapse(months=24)), Term("found_unnecessary", Lapse(days=45))),
        sentence("C.R.S. 6-1-1314 (HB 24-1130); wording of the limbs from memory"),
        date(2025, 7, 1),
        "memory",
        sentence("the earliest of three, without the one extension of 45 days"),
    ),
    Law(
        "us_wa_375",
        "US-WA",
        "destroy",
        HAND,
        (ENDED,),
        "RCW 19.375.020(4)",
        date(2017, 7, 23),
        "seen",
        sentence(
            "the day on which the purpose ends itself, since the text gives no number of days; whether timekeeping "
            "is a commercial purpose is doubtful (RCW 19.375.010), and it is kept to as if"
        ),
    ),
    Law(
        "eu_gdpr_17",
        "EU",
        "destroy",
        HAND,
        (ENDED,),
        sentence("Regulation (EU) 2016/679 (GDPR) art. 17(1)(a) and (b)"),
        date(2018, 5, 25),
        "memory",
        sentence(
            "without undue delay: the day on which the purpose ends itself, since the text gives no number of days"
        ),
    ),
)
"""Every law there is a record of that says when a hand must be gone."""

PRACTICE = Law(
    "practice",
    "",
    "destroy",
    HAND,
    (ENDED,),
    sentence("common practice, no source"),
    date(1970, 1, 1),
    "common practice, no source",
    sentence(
        "no statute of this place is on file here, which does not mean that there is none: the day on which the "
        "purpose ends itself, since the text gives no number of days"
    ),
)
"""What stands in where no law says when a hand must go."""
