"""The laws of retention, one record each: what starts its clock, how long that runs, and where it is written.

`checked` says how the text stands with us: "seen" was read when this was written, "memory" was not and is to be looked
up before anybody relies on it. No record here is advice; local codes, agreements and licensed counsel decide.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date
from typing import Literal

from evenhand.records.retention.lapses import Lapse

__all__ = ["EUROPEAN", "LAWS", "WORDS_OF_EVENTS", "Clock", "Event", "Law", "Term", "laws_of"]

Clock = Literal["destroy", "keep"]
Event = Literal["purpose_ended", "last_interaction", "found_unnecessary", "last_entry", "employment_ended", "gone_on"]

WORDS_OF_EVENTS: dict[Event, str] = {
    "purpose_ended": "the end of the purpose",
    "last_interaction": "the last interaction",
    "found_unnecessary": "the day it was found unnecessary",
    "last_entry": "the last entry",
    "employment_ended": "the last day of work",
    "gone_on": "the proof that the hand was gone",
}
# ISO 3166-1
EUROPEAN = {
    *("EU", "AT", "BE", "BG", "CY", "CZ", "DE", "DK", "EE", "ES", "FI", "FR", "GR", "HR", "HU", "IE"),
    *("IS", "IT", "LI", "LT", "LU", "LV", "MT", "NL", "NO", "PL", "PT", "RO", "SE", "SI", "SK"),
}


@dataclass(frozen=True)
class Term:
    """One limb of a law: a day that a period after an event gives."""

    event: Event
    period: Lapse = Lapse()  # noqa: RUF009  (it is frozen)

    @property
    def words(self) -> str:
        """Return the limb in words, such as "3 years after the last interaction"."""
        return f"{self.period.words} {WORDS_OF_EVENTS[self.event]}"


@dataclass(frozen=True)
class Law:
    """What a law says of how long something is kept, at most (`destroy`) or at least (`keep`).

    `place` is an ISO 3166 code: a country, or a country and its part; "EU" stands for the European Economic Area.
    Of several terms the earliest counts for destroying, the latest for keeping. `since` is the date of effect,
    `reading` what was chosen where the text leaves a doubt, `keeps` what it is about.
    """

    code: str
    place: str
    clock: Clock
    keeps: str
    terms: tuple[Term, ...]
    cites: str
    since: date
    checked: Literal["seen", "memory", "common practice, no source"]
    reading: str = ""

    def binds(self, place: str) -> bool:
        """Whether the law holds at a place, such as US-IL."""
        if self.place == "EU":
            return place[:2] in EUROPEAN
        return place == self.place or place.startswith(f"{self.place}-")


HAND = "the hand on a reader, and scores and counts made from it"
PAYROLL, CARDS = "hours, pay and what they were worked out from", "punches and other time cards"
ENDED = Term("purpose_ended")
THE_DAY = "the day on which the purpose ends itself, since the text gives no number of days"


def _years(event: Event, count: int) -> tuple[Term, ...]:
    return (Term(event, Lapse(years=count)),)


LAWS: tuple[Law, ...] = (
    # ---- destroy by
    Law(
        "us_il_bipa",
        "US-IL",
        "destroy",
        HAND,
        (ENDED, *_years("last_interaction", 3)),
        "740 ILCS 14/15(a)",
        date(2008, 10, 3),
        "seen",
        "whichever is first; 28 February where 29 February is missing; date of effect from memory",
    ),
    Law(
        "us_tx_503",
        "US-TX",
        "destroy",
        HAND,
        _years("purpose_ended", 1),
        "Tex. Bus. & Com. Code 503.001(c)(3); (c-2) on the end of employment from memory",
        date(2009, 9, 1),
        "seen",
        "a reasonable time, at the latest the first anniversary; the purpose is presumed to end with employment",
    ),
    Law(
        "us_co_1314",
        "US-CO",
        "destroy",
        HAND,
        (ENDED, Term("last_interaction", Lapse(months=24)), Term("found_unnecessary", Lapse(days=45))),
        "C.R.S. 6-1-1314 (HB 24-1130); wording of the limbs from memory",
        date(2025, 7, 1),
        "memory",
        "the earliest of three, without the one extension of 45 days",
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
        f"{THE_DAY}; whether timekeeping is a commercial purpose is doubtful (RCW 19.375.010), and it is kept to as if",
    ),
    Law(
        "eu_gdpr_17",
        "EU",
        "destroy",
        HAND,
        (ENDED,),
        "Regulation (EU) 2016/679 (GDPR) art. 17(1)(a) and (b)",
        date(2018, 5, 25),
        "memory",
        f"without undue delay: {THE_DAY}",
    ),
    # ---- keep at least until
    Law(
        "us_516_5",
        "US",
        "keep",
        PAYROLL,
        _years("last_entry", 3),
        "29 CFR 516.5(a)",
        date(1987, 7, 1),
        "seen",
        "through the anniversary; date of effect is that of the text read",
    ),
    Law(
        "us_516_6",
        "US",
        "keep",
        CARDS,
        _years("last_entry", 2),
        "29 CFR 516.6(a)(1)",
        date(1987, 7, 1),
        "seen",
        "through the anniversary; date of effect is that of the text read",
    ),
    Law(
        "us_1602_14",
        "US",
        "keep",
        "personnel records: enrolment, consent, another way to clock",
        (*_years("last_entry", 1), *_years("employment_ended", 1)),
        "29 CFR 1602.14",
        date(1991, 7, 26),
        "seen",
        "one year from the record or from the last day of work, the later; longer while a charge is open: place a hold",
    ),
    Law(
        "us_claims_255",
        "US",
        "keep",
        CARDS,
        _years("last_entry", 3),
        "29 U.S.C. 255(a)",
        date(1966, 9, 23),
        "memory",
        "no duty to keep, but a claim may be brought for three years where the breach was wilful",
    ),
    Law(
        "us_ak_080",
        "US-AK",
        "keep",
        PAYROLL,
        _years("last_entry", 3),
        "AS 23.05.080",
        date(2007, 12, 31),
        "seen",
        "date of effect is that of the text read",
    ),
    Law(
        "us_ca_1174",
        "US-CA",
        "keep",
        PAYROLL,
        _years("last_entry", 3),
        "Cal. Labor Code 1174(d), 226(a)",
        date(2012, 1, 1),
        "seen",
        "date of effect from memory",
    ),
    Law(
        "us_ca_17208",
        "US-CA",
        "keep",
        CARDS,
        _years("last_entry", 4),
        "Cal. Bus. & Prof. Code 17208",
        date(1977, 1, 1),
        "memory",
        "no duty to keep, but wages may be claimed for four years",
    ),
    Law(
        "us_co_103",
        "US-CO",
        "keep",
        PAYROLL,
        _years("last_entry", 3),
        "C.R.S. 8-4-103(4.5); 7 CCR 1103-1, rule 7",
        date(2015, 1, 1),
        "memory",
    ),
    Law(
        "us_il_105_8",
        "US-IL",
        "keep",
        PAYROLL,
        _years("last_entry", 3),
        "820 ILCS 105/8; 56 Ill. Adm. Code 300.630(a)",
        date(1981, 9, 22),
        "seen",
        "date of effect from memory",
    ),
    Law(
        "us_il_limitation",
        "US-IL",
        "keep",
        "the release, and the proof that the hand was destroyed",
        (*_years("gone_on", 5), *_years("last_interaction", 5)),
        "735 ILCS 5/13-205; Tims v. Black Horse Carriers, 2023 IL 127801",
        date(2023, 2, 2),
        "memory",
        "no duty to keep, but a claim may be brought for five years, and only these answer it",
    ),
    Law(
        "us_nv_115",
        "US-NV",
        "keep",
        PAYROLL,
        _years("last_entry", 2),
        "NRS 608.115",
        date(2016, 3, 1),
        "seen",
        "as a law firm's note reports it; date of effect is that of the note",
    ),
    Law(
        "us_nv_612",
        "US-NV",
        "keep",
        "days worked and wages",
        _years("last_entry", 4),
        "NAC 612.020(1)",
        date(2000, 10, 18),
        "seen",
        "every employing unit",
    ),
    Law(
        "us_ny_661",
        "US-NY",
        "keep",
        PAYROLL,
        _years("last_entry", 6),
        "N.Y. Labor Law 661, 195(4)",
        date(2011, 4, 9),
        "seen",
        "date of effect from memory",
    ),
    Law(
        "us_tx_815",
        "US-TX",
        "keep",
        PAYROLL,
        _years("last_entry", 4),
        "40 Tex. Admin. Code 815.106",
        date(2000, 1, 1),
        "memory",
    ),
    Law(
        "us_wa_126",
        "US-WA",
        "keep",
        PAYROLL,
        _years("last_entry", 3),
        "WAC 296-126-050(1), 296-128-010",
        date(2010, 3, 15),
        "seen",
    ),
    Law(
        "us_wa_310",
        "US-WA",
        "keep",
        "hours worked each day, by worker",
        (Term("last_entry", Lapse(calendar_years=4)),),
        "WAC 192-310-050(1)",
        date(2000, 1, 21),
        "seen",
        "four calendar years after the one of the last entry",
    ),
    Law(
        "de_arbzg_16",
        "DE",
        "keep",
        CARDS,
        _years("last_entry", 2),
        "Arbeitszeitgesetz (ArbZG) 16(2)",
        date(1994, 7, 1),
        "memory",
    ),
)
"""Every law there is a record of; a place without one of its own is bound by those of its country."""

PRACTICE = Law(
    "practice",
    "",
    "destroy",
    HAND,
    (ENDED,),
    "common practice, no source",
    date(1970, 1, 1),
    "common practice, no source",
    f"no statute of this place is on file here, which does not mean that there is none: {THE_DAY}",
)


def laws_of(place: str, clock: Clock | None = None, *, own: Collection[Law] = ()) -> tuple[Law, ...]:
    """Return the laws that bind a place (ISO 3166), of one clock or of both, with the workplace's `own` rules.

    Where no law says when a hand must go, common practice stands in and says so.
    """
    found = tuple(law for law in (*LAWS, *own) if law.binds(place) or law in own)
    if not any(law.clock == "destroy" for law in found):
        found = (PRACTICE, *found)
    return tuple(law for law in found if clock is None or law.clock == clock)
