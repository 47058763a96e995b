"""The limits of Directive 2003/88/EC, with the articles they stand in.

Source: Directive 2003/88/EC (second hand); where it leaves a choice, the UK's Working Time Regulations 1998.
"""

from __future__ import annotations

from datetime import date

from evenhand.terms.languages import sentence
from evenhand.terms.parameters import dated

__all__ = ["LIMIT_NUMBERS"]

LIMIT_NUMBERS = (
    dated(
        "daily_rest",
        sentence("Least consecutive rest in each 24 hours"),
        "h",
        (date(2004, 8, 2), 11, "Directive 2003/88/EC, art. 3"),
    ),
    dated(
        "break_after",
        sentence("A working day longer than this has a break"),
        "h",
        (date(2004, 8, 2), 6, "Directive 2003/88/EC, art. 4; the break's length is for national law and agreements"),
    ),
    dated(
        "weekly_rest",
        sentence("Least uninterrupted rest in each seven days: 24 hours and the daily rest"),
        "h",
        (date(2004, 8, 2), 35, "Directive 2003/88/EC, art. 5; national law may allow 24 for objective reasons"),
    ),
    dated(
        "average_week",
        sentence("Highest average working time for each seven days, overtime included"),
        "h",
        (date(2004, 8, 2), 48, "Directive 2003/88/EC, art. 6"),
    ),
    dated(
        "reference_weeks",
        sentence("Weeks over which the average is taken"),
        "weeks",
        (
            date(2004, 8, 2),
            17,
            "Directive 2003/88/EC, art. 16 (up to four months); 17 weeks as in the UK's regulations of 1998, reg. 4",
        ),
    ),
    dated(
        "night_average",
        sentence("Highest average working time of night workers in any 24 hours"),
        "h",
        (date(2004, 8, 2), 8, "Directive 2003/88/EC, art. 8"),
    ),
    dated(
        "night_starts",
        sentence("Night time begins this many minutes after midnight"),
        "min",
        (
            date(2004, 8, 2),
            1380,
            "Directive 2003/88/EC, art. 2 (seven hours or more with 00:00 to 05:00), from memory; 23:00 as in UK reg 2",
        ),
    ),
    dated(
        "night_ends",
        sentence("Night time ends this many minutes after midnight"),
        "min",
        (date(2004, 8, 2), 360, "Directive 2003/88/EC, art. 2, from memory; 06:00 as in the UK, reg. 2"),
    ),
    dated(
        "night_worker",
        sentence("Somebody who works at least this much of the day in night time works a night"),
        "h",
        (date(2004, 8, 2), 3, "Directive 2003/88/EC, art. 2(4), from memory"),
    ),
)
