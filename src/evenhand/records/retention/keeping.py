"""Through which day time and pay records must stay: the laws on them, one record each.

Each has its source, its date of effect, our reading, and whether the text was read: see `law`.
"""

from __future__ import annotations

from datetime import date

from evenhand.records.retention.lapses import Lapse
from evenhand.records.retention.law import Law, Term, after_years
from evenhand.terms.languages import sentence

__all__ = ["OF_KEEPING"]

PAYROLL = sentence("hours, pay and what they were worked out from")
CARDS = sentence("punches and other time cards")

OF_KEEPING: tuple[Law, ...] = (
    Law(
        "us_516_5",
        "US",
        "keep",
        PAYROLL,
        after_years("last_entry", 3),
        "29 CFR 516.5(a)",
        date(1987, 7, 1),
        "seen",
        sentence("through the anniversary; date of effect is that of the text read"),
    ),
    Law(
        "us_516_6",
        "US",
        "keep",
        CARDS,
        after_years("last_entry", 2),
        "29 CFR 516.6(a)(1)",
        date(1987, 7, 1),
        "seen",
        sentence("through the anniversary; date of effect is that of the text read"),
    ),
    Law(
        "us_1602_14",
        "US",
        "keep",
        sentence("personnel records: enrolment, consent, another way to clock"),
        (*after_years("last_entry", 1), *after_years("employment_ended", 1)),
        "29 CFR 1602.14",
        date(1991, 7, 26),
        "seen",
        sentence(
            "one year from the record or from the last day of work, the later; longer while a charge is open: place "
            "a hold"
        ),
    ),
    Law(
        "us_claims_255",
        "US",
        "keep",
        CARDS,
        after_years("last_entry", 3),
        "29 U.S.C. 255(a)",
        date(1966, 9, 23),
        "memory",
        sentence("no duty to keep, but a claim may be brought for three years where the breach was wilful"),
    ),
    Law(
        "us_ak_080",
        "US-AK",
        "keep",
        PAYROLL,
        after_years("last_entry", 3),
        "AS 23.05.080",
        date(2007, 12, 31),
        "seen",
        sentence("date of effect is that of the text read"),
    ),
    Law(
        "us_ca_1174",
        "US-CA",
        "keep",
        PAYROLL,
        after_years("last_entry", 3),
        "Cal. Labor Code 1174(d), 226(a)",
        date(2012, 1, 1),
        "seen",
        sentence("date of effect from memory"),
    ),
    Law(
        "us_ca_17208",
        "US-CA",
        "keep",
        CARDS,
        after_years("last_entry", 4),
        "Cal. Bus. & Prof. Code 17208",
        date(1977, 1, 1),
        "memory",
        sentence("no duty to keep, but wages may be claimed for four years"),
    ),
    Law(
        "us_co_103",
        "US-CO",
        "keep",
        PAYROLL,
        after_years("last_entry", 3),
        "C.R.S. 8-4-103(4.5); 7 CCR 1103-1, rule 7",
        date(2015, 1, 1),
        "memory",
    ),
    Law(
        "us_il_105_8",
        "US-IL",
        "keep",
        PAYROLL,
        after_years("last_entry", 3),
        "820 ILCS 105/8; 56 Ill. Adm. Code 300.630(a)",
        date(1981, 9, 22),
        "seen",
        sentence("date of effect from memory"),
    ),
    Law(
        "us_il_limitation",
        "US-IL",
        "keep",
        sentence("the release, and the proof that the hand was destroyed"),
        (*after_years("gone_on", 5), *after_years("last_interaction", 5)),
        "735 ILCS 5/13-205; Tims v. Black Horse Carriers, 2023 IL 127801",
        date(2023, 2, 2),
        "memory",
        sentence("no duty to keep, but a claim may be brought for five years, and only these answer it"),
    ),
    Law(
        "us_nv_115",
        "US-NV",
        "keep",
        PAYROLL,
        after_years("last_entry", 2),
        "NRS 608.115",
        date(2016, 3, 1),
        "seen",
        sentence("as a law firm's note reports it; date of effect is that of the note"),
    ),
    Law(
        "us_nv_612",
        "US-NV",
        "keep",
        sentence("days worked and wages"),
        after_years("last_entry", 4),
        "NAC 612.020(1)",
        date(2000, 10, 18),
        "seen",
        sentence("every employing unit"),
    ),
    Law(
        "us_ny_661",
        "US-NY",
        "keep",
        PAYROLL,
        after_years("last_entry", 6),
        "N.Y. Labor Law 661, 195(4)",
        date(2011, 4, 9),
        "seen",
        sentence("date of effect from memory"),
    ),
    Law(
        "us_tx_815",
        "US-TX",
        "keep",
        PAYROLL,
        after_years("last_entry", 4),
        "40 Tex. Admin. Code 815.106",
        date(2000, 1, 1),
        "memory",
    ),
    Law(
        "us_wa_126",
        "US-WA",
        "keep",
        PAYROLL,
        after_years("last_entry", 3),
        "WAC 296-126-050(1), 296-128-010",
        date(2010, 3, 15),
        "seen",
    ),
    Law(
        "us_wa_310",
        "US-WA",
        "keep",
        sentence("hours worked each day, by worker"),
        (Term("last_entry", Lapse(calendar_years=4)),),
        "WAC 192-310-050(1)",
        date(2000, 1, 21),
        "seen",
        sentence("four calendar years after the one of the last entry"),
    ),
    Law(
        "de_arbzg_16",
        "DE",
        "keep",
        CARDS,
        after_years("last_entry", 2),
        sentence("Arbeitszeitgesetz (ArbZG) 16(2) sentence 2"),
        date(1994, 7, 1),
        "seen",
        sentence(
            "at least two years; date of effect from memory. Payroll keeps its account longer, through the sixth "
            "calendar year after the last payment entered (EStG 41(1) sentence 9, seen), which is not here; claims "
            "to pay lapse three years after the end of their year (BGB 195, 199(1), seen): set keep_years as "
            "counsel says"
        ),
    ),
)
"""Every law there is a record of that says how long time records stay."""
