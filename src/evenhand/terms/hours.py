"""The tables of hours: recorded spans, what the rules made of them and why, and what stays open."""

from __future__ import annotations

from evenhand.terms.columns import Column, Table

__all__ = [
    "BREACHES",
    "CLASSED",
    "DIFFERENTIALS",
    "ELSEWHERE",
    "FAILING_WEEKS",
    "PREMIUMS",
    "PROPOSALS",
    "QUESTIONS",
    "RECORDED_SPANS",
    "STEPS",
    "WEEKS",
]

RECORDED_SPANS = Table(
    "recorded_spans",
    "Work between paired punches as recorded, before any rule, cut where workweeks begin",
    (
        Column("person", "text", "Whose time", required=True),
        Column("workweek", "date", "The civil date on which the workweek begins", required=True),
        Column("starts", "instant", "First recorded second", required=True, unit="s since 1970-01-01T00:00:00Z"),
        Column("ends", "instant", "First second no longer in", required=True, unit="s since 1970-01-01T00:00:00Z"),
        Column("punch_in", "count", "The punch the span begins with", required=True),
        Column("punch_out", "count", "The punch the span ends with", required=True),
    ),
    key=("person", "starts"),
)

CLASSED = Table(
    "classed",
    "Paid spans in one class each, cut at every boundary that changes the class; a person's stand together and by time",
    (
        Column("person", "text", "Whose time", required=True),
        Column("shift", "count", "Counts the person's shifts within the run", required=True),
        Column("workweek", "date", "The civil date on which the workweek begins", required=True),
        Column("starts", "instant", "First paid second", required=True, unit="s since 1970-01-01T00:00:00Z"),
        Column(
            "ends",
            "instant",
            "First second no longer paid",
            required=True,
            unit="s since 1970-01-01T00:00:00Z",
        ),
        Column(
            "pay_class",
            "text",
            "The one class of these seconds",
            required=True,
            allowed=("ordinary", "overtime", "double"),
        ),
        Column("rule", "text", "The rule that moved it out of ordinary time, such as us_federal.overtime"),
        Column("punch_in", "count", "The punch the span begins with", required=True),
        Column("punch_out", "count", "The punch the span ends with", required=True),
    ),
    key=("person", "starts"),
)

WEEKS = Table(
    "weeks",
    "Each person's workweeks: recorded, ordinary, overtime and double-time seconds",
    (
        Column("person", "text", "Whose week", required=True),
        Column("workweek", "date", "The civil date on which the workweek begins", required=True),
        Column("recorded_s", "seconds", "Seconds between paired punches, as recorded", required=True, unit="s"),
        Column("steps_s", "seconds", "Paid seconds that rules added, less those they took", required=True, unit="s"),
        Column("ordinary_s", "seconds", "Paid seconds below every threshold", required=True, unit="s"),
        Column("overtime_s", "seconds", "Paid seconds past a threshold, at time and a half", required=True, unit="s"),
        Column("double_s", "seconds", "Paid seconds at double time, where the law has it", required=True, unit="s"),
        Column("questions", "count", "Questions the week leaves open", required=True),
    ),
    key=("person", "workweek"),
)

FAILING_WEEKS = Table(
    "failing_weeks",
    "Workweeks whose recorded seconds and steps do not make what is paid: a fault of the program, never shown as pay",
    (
        Column("person", "text", "Whose week", required=True),
        Column("workweek", "date", "The civil date on which the workweek begins", required=True),
        Column("recorded_s", "seconds", "Seconds as recorded", required=True, unit="s"),
        Column("steps_s", "seconds", "Seconds that rules added, less those they took", required=True, unit="s"),
        Column("paid_s", "seconds", "Ordinary, overtime and double seconds together", required=True, unit="s"),
    ),
    key=("person", "workweek"),
)

STEPS = Table(
    "steps",
    "Why: each thing a rule did to a span, so that recorded time plus all steps is paid time",
    (
        Column("person", "text", "Whose time", required=True),
        Column("workweek", "date", "The workweek the step belongs to", required=True),
        Column("rule", "text", "The rule's name, such as us_federal.rounding", required=True),
        Column(
            "starts",
            "instant",
            "Where the changed span begins",
            required=True,
            unit="s since 1970-01-01T00:00:00Z",
        ),
        Column("ends", "instant", "Where it ends", required=True, unit="s since 1970-01-01T00:00:00Z"),
        Column(
            "seconds",
            "seconds",
            "Paid seconds added (+) or taken (-); 0 where time only changes class",
            required=True,
            unit="s",
        ),
        Column("from_class", "text", "The class before, where time changes class"),
        Column("to_class", "text", "The class after, where time changes class"),
        Column("punch_a", "count", "The punch it came from", required=True),
        Column("punch_b", "count", "The other punch, where there are two"),
        Column("says", "text", "What happened, in words", required=True),
        Column("cites", "text", "The rule's citation", required=True),
    ),
)

PREMIUMS = Table(
    "premiums",
    "Hours of pay owed beside time worked, such as for a missed meal period; never hours worked themselves",
    (
        Column("person", "text", "To whom they are owed", required=True),
        Column("workweek", "date", "The workweek the workday belongs to", required=True),
        Column("workday", "date", "The civil date on which the workday begins", required=True),
        Column(
            "kind",
            "text",
            "What they are owed for",
            required=True,
            allowed=("meal", "rest", "split_shift", "reporting", "call_back"),
        ),
        Column("hours", "money", "Hours of pay owed", required=True, unit="h"),
        Column("says", "text", "Why, in words", required=True),
        Column("cites", "text", "The rule's citation", required=True),
        Column("punch", "count", "The punch it shows at, where there is one"),
    ),
)

DIFFERENTIALS = Table(
    "differentials",
    "Paid spans that carry a premium rate by clock window, weekend or public holiday, beside their class",
    (
        Column("person", "text", "Whose time", required=True),
        Column("workweek", "date", "The workweek it falls in", required=True),
        Column("starts", "instant", "First second", required=True, unit="s since 1970-01-01T00:00:00Z"),
        Column("ends", "instant", "First second no longer in", required=True, unit="s since 1970-01-01T00:00:00Z"),
        Column("kind", "text", "The policy's own name for the differential", required=True),
        Column("says", "text", "Why, in words", required=True),
        Column("cites", "text", "The policy or rule it comes from", required=True),
    ),
)

BREACHES = Table(
    "breaches",
    "Worked time that does not keep to a limit on working time; a check, which changes no paid second",
    (
        Column("person", "text", "Whose time", required=True),
        Column(
            "kind",
            "text",
            "Which limit",
            required=True,
            allowed=("daily_rest", "break", "weekly_rest", "average_week", "night_average"),
        ),
        Column("starts", "instant", "Where it shows", required=True, unit="s since 1970-01-01T00:00:00Z"),
        Column("ends", "instant", "Where that ends", required=True, unit="s since 1970-01-01T00:00:00Z"),
        Column("found_s", "seconds", "What was found: rest, or average working time", required=True, unit="s"),
        Column("limit_s", "seconds", "The limit it is held against", required=True, unit="s"),
        Column("says", "text", "What was found, in words", required=True),
        Column("cites", "text", "The article", required=True),
    ),
)

ELSEWHERE = Table(
    "elsewhere",
    "Work at readers of a site whose law gives more than that of the person's own site, which it is paid under",
    (
        Column("person", "text", "Whose time", required=True),
        Column("site", "text", "The site at whose readers the work began", required=True),
        Column("law", "text", "The jurisdiction of that site", required=True),
        Column("home_law", "text", "The jurisdiction of the person's own site", required=True),
        Column("worked_s", "seconds", "Paid seconds there in the period", required=True, unit="s"),
        Column("overtime_s", "seconds", "Of them overtime, as they are paid", required=True, unit="s"),
        Column("double_s", "seconds", "Of them double time, as they are paid", required=True, unit="s"),
        Column("overtime_there_s", "seconds", "Overtime by the law of the place", required=True, unit="s"),
        Column("double_there_s", "seconds", "Double time by the law of the place", required=True, unit="s"),
        Column("premium_hours", "money", "Hours of pay owed beside time worked, as it is", required=True, unit="h"),
        Column("premium_hours_there", "money", "The same by the law of the place", required=True, unit="h"),
    ),
    key=("person", "site"),
)

PROPOSALS = Table(
    "proposals",
    "For each missing punch, what its day seems to lack or have too much, from the person's usual days; never applied",
    (
        Column("person", "text", "Whose punch is missing", required=True),
        Column("punch", "count", "The punch that stands alone", required=True),
        Column(
            "kind",
            "text",
            "Which punch is missing; or that one is too many, one says the wrong way, or nothing can be said",
            required=True,
            allowed=(
                "start",
                "meal_out",
                "meal_in",
                "break_out",
                "break_in",
                "end",
                "too_many",
                "wrong_way",
                "not_sure",
            ),
        ),
        Column(
            "way", "text", "Which way the missing punch goes, or the one that says it wrongly", allowed=("in", "out")
        ),
        Column(
            "at",
            "instant",
            "The proposed time; none where it strays, or where a stray may be the punch",
            unit="s since 1970-01-01T00:00:00Z",
        ),
        Column("earliest_at", "instant", "It lies after this", unit="s since 1970-01-01T00:00:00Z"),
        Column("latest_at", "instant", "and before this", unit="s since 1970-01-01T00:00:00Z"),
        Column("likely", "score", "How often what is said here is right: the interval, or else the kind"),
        Column("seen", "count", "How many usual days it rests on"),
        Column("suspect", "count", "The punch that seems one too many, or to say the wrong way"),
        Column("suspect_at", "instant", "When that punch was", unit="s since 1970-01-01T00:00:00Z"),
        Column("stray", "text", "The reader and number, READER/NUMBER, of a punch nobody holds that may be it"),
        Column("stray_at", "instant", "When that punch was", unit="s since 1970-01-01T00:00:00Z"),
        Column("says", "text", "What it rests on, in words", required=True),
    ),
    key=("person", "punch"),
)

QUESTIONS = Table(
    "questions",
    "What the punches do not tell; reported, never filled in",
    (
        Column("person", "text", "Whose time", required=True),
        Column(
            "kind",
            "text",
            "What is open",
            required=True,
            allowed=("missing_in", "missing_out", "long_span", "same_time"),
        ),
        Column(
            "at",
            "instant",
            "The instant the question is about",
            required=True,
            unit="s since 1970-01-01T00:00:00Z",
        ),
        Column("workweek", "date", "The workweek it touches", required=True),
        Column("punch", "count", "The punch that stands alone or begins the span", required=True),
        Column(
            "minutes",
            "count",
            "Minutes of pay in doubt, an estimate from the person's other spans",
            required=True,
            unit="min",
        ),
    ),
)
