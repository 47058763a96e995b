"""What people are paid by, and what was earned beside the hours; the tables of pay worked out from them."""

from __future__ import annotations

from evenhand.terms.columns import Column, Table
from evenhand.terms.languages import sentence

__all__ = [
    "EARNINGS",
    "EARNING_KINDS",
    "PAY_FAULTS",
    "PAY_ITEMS",
    "PAY_LINES",
    "PAY_WEEKS",
    "PLANS",
    "RATES",
    "ROUNDING",
    "TURNS",
]

PLANS = ("hourly", "salary_fixed", "salary_fluctuating", "piece", "day", "job")
TURNS = ("week", "half_month", "month")
EARNING_KINDS = (
    "bonus",
    "flat_bonus",
    "commission",
    "piece",
    "job",
    "flat_sum",
    "premium",
    "gift",
    "expense",
    "leave",
)

RATES = Table(
    "rates",
    sentence(
        "What each person is paid by, from when to when; where somebody has no row, the roster's hourly rate holds"
    ),
    (
        Column("person", "text", sentence("The person, by the roster's identifier"), required=True),
        Column(
            "valid_from",
            "date",
            sentence("First day on which the rate holds"),
            required=True,
        ),
        Column(
            "valid_to",
            "date",
            sentence("Last day on which it holds; empty while it does"),
        ),
        Column(
            "reader",
            "text",
            sentence("Holds only for work begun at this reader; empty where it holds for all other work"),
        ),
        Column(
            "plan",
            "text",
            sentence("By what the amount is counted; by the hour where the file does not say"),
            allowed=PLANS,
        ),
        Column(
            "amount",
            "money",
            sentence("Pay for one hour, salary period, piece, day or job"),
            required=True,
            minimum=0,
            unit="currency",
        ),
        Column(
            "salary_for",
            "text",
            sentence("The time one salary pays; a week where the file does not say"),
            allowed=TURNS,
        ),
        Column(
            "covers_hours",
            "money",
            sentence("The weekly hours that a salary for fixed hours covers"),
            minimum=0,
            unit="h",
        ),
        Column(
            "floor",
            "money",
            sentence("The hourly rate guaranteed where pieces fall short of it"),
            minimum=0,
            unit="currency per hour",
        ),
    ),
    key=("person", "valid_from", "reader"),
)

EARNINGS = Table(
    "earnings",
    sentence(
        "What was earned beside the hours: bonuses, commissions, pieces and jobs, and what is paid but not for work"
    ),
    (
        Column("person", "text", sentence("The person, by the roster's identifier"), required=True),
        Column(
            "earned_from",
            "date",
            sentence("First day of the time that earned it"),
            required=True,
        ),
        Column(
            "earned_to",
            "date",
            sentence("Last day of the time that earned it"),
            required=True,
        ),
        Column(
            "kind",
            "text",
            sentence(
                "What it is: a bonus that grows with the work, a flat bonus, a commission, pieces, jobs, a flat sum "
                "for a task, a premium already paid for long or special hours, a gift, an expense, or leave"
            ),
            required=True,
            allowed=EARNING_KINDS,
        ),
        Column(
            "amount",
            "money",
            sentence("How much; empty where pieces or jobs are counted"),
            minimum=0,
            unit="currency",
        ),
        Column(
            "units",
            "count",
            sentence("How many pieces or jobs, paid at the person's rate"),
            unit="pieces or jobs",
        ),
        Column(
            "label",
            "text",
            sentence("What the workplace calls it"),
        ),
    ),
    key=("person", "earned_from", "kind", "label"),
)

# ---- what pay is worked out to

PAY_LINES = Table(
    "pay_lines",
    "The lines of each person's week: what is paid, for how long, at which rate, under which rule",
    (
        Column("person", "text", "Whose pay", required=True),
        Column("workweek", "date", "The civil date on which the workweek begins", required=True),
        Column("line", "count", "The line's place, from 1", required=True),
        Column(
            "part",
            "text",
            "What the line belongs to",
            required=True,
            allowed=("straight", "overtime", "premium", "reopened", "excluded"),
        ),
        Column("label", "text", "What is paid, in words", required=True),
        Column("seconds", "seconds", "The time it pays; empty where it does not go by time", unit="s"),
        Column("rate", "money", "The rate, to four decimals; the amount comes from the exact one", unit="currency"),
        Column(
            "amount", "money", "Exact, rounded once to the cent, half up; empty where it is not known", unit="currency"
        ),
        Column("cites", "text", "The rule's citation", required=True),
        Column("earned_in", "date", "The earlier workweek that the line reopens"),
        Column("item", "text", "What it is owed for, as payroll's file names it: base, earned_bonus and the like"),
    ),
    key=("person", "workweek", "line"),
)

PAY_ITEMS = Table(
    "pay_items",
    "The lines of each person's week, summed by what they are owed for, and pay for time by its rate too",
    (
        Column("person", "text", "Whose pay", required=True),
        Column("workweek", "date", "The civil date on which the workweek begins", required=True),
        Column("item", "text", "What it is owed for", required=True),
        Column("rate", "money", "The rate, where time is paid by one", unit="currency"),
        Column("amount", "money", "The sum of the lines; empty where the week's pay is not known", unit="currency"),
    ),
)

PAY_WEEKS = Table(
    "pay_weeks",
    "Each person's pay by workweek; a total is empty where something that decides it is not known",
    (
        Column("person", "text", "Whose pay", required=True),
        Column("workweek", "date", "The civil date on which the workweek begins", required=True),
        Column("worked_s", "seconds", "Seconds worked, each once", required=True, unit="s"),
        Column("regular_rate", "money", "The regular rate, to four decimals", unit="currency per hour"),
        Column(
            "straight_pay",
            "money",
            "Pay for every hour once, with what counts in the rate and what reaches the minimum wage",
            unit="currency",
        ),
        Column("overtime_premium", "money", "What overtime and double time add, less credits", unit="currency"),
        Column("premiums", "money", "Meal, rest and other premiums", unit="currency"),
        Column("other_pay", "money", "What is paid and does not count in the rate", unit="currency"),
        Column("total_pay", "money", "The sum of the lines", unit="currency"),
        Column(
            "minimum_due",
            "money",
            "What straight pay was raised by to reach the minimum wage; 0 where nothing is",
            unit="currency",
        ),
    ),
    key=("person", "workweek"),
)

PAY_FAULTS = Table(
    "pay_faults",
    "Why a person's week cannot be paid in money, or not as it is written down",
    (
        Column("person", "text", "Whose pay", required=True),
        Column("workweek", "date", "The workweek", required=True),
        Column(
            "kind",
            "text",
            "What is wrong",
            required=True,
            allowed=("missing", "faulty", "below_minimum"),
        ),
        Column("seconds", "seconds", "The time concerned", required=True, unit="s"),
        Column("amount", "money", "The money concerned, where it is known", unit="currency"),
        Column("says", "text", "What is wrong, in words", required=True),
        Column("cites", "text", "The rule's citation, where it is one's"),
        Column(
            "lacks", "text", "What is missing, where one thing is missing for everybody alike: rate, differential/KIND"
        ),
    ),
)

ROUNDING = Table(
    "rounding",
    "What rounding gave (+) or took (-), by site, department and person, with an interval and a test",
    (
        Column("level", "text", "What the row is about", required=True, allowed=("site", "department", "person")),
        Column("name", "text", "The site, department or person", required=True),
        Column("punches", "count", "Punches that bound paid time", required=True),
        Column("days", "count", "Days, by the day on which the shift begins", required=True),
        Column("people", "count", "People", required=True),
        Column("total_s", "seconds", "Paid time given or taken in all", required=True, unit="s"),
        Column("per_punch_s", "score", "Mean for a punch", required=True, unit="s"),
        Column("punch_low_s", "score", "Lower end of its 95 % interval", unit="s"),
        Column("punch_high_s", "score", "Upper end of its 95 % interval", unit="s"),
        Column("per_day_s", "score", "Mean for a day", required=True, unit="s"),
        Column("day_low_s", "score", "Lower end of its 95 % interval", unit="s"),
        Column("day_high_s", "score", "Upper end of its 95 % interval", unit="s"),
        Column("chance", "score", "Two-sided p-value of the test that rounding is neutral"),
        Column("adjusted", "score", "The same, adjusted for how many were tested (Holm)"),
        Column("test", "text", "Which test it is: exact, or by which approximation"),
        Column("money", "money", "The time at straight rates, where they are known", unit="currency"),
        Column("overtime_money", "money", "The same, one and a half times in overtime weeks", unit="currency"),
    ),
    key=("level", "name"),
)
