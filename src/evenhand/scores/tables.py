"""The tables that go into this room and come out of it."""

from __future__ import annotations

from evenhand.terms.columns import Column, Table

__all__ = [
    "ALARMS",
    "ERROR_RATES",
    "EXPLAINED",
    "FORECASTS",
    "GROUP_LEVELS",
    "PRESENTED",
    "READER_HEALTH",
    "REFUSED_HANDS",
]

INSTANT = "s since 1970-01-01T00:00:00Z"

PRESENTED = Table(
    "presented",
    "Presentations with the person whose number was keyed, by reader and time: what this room works on",
    (
        Column("punch", "count", "The stored punch", required=True),
        Column("number", "text", "The number that was keyed"),
        Column("person", "text", "The one person who holds it; empty where there is none"),
        Column("reader", "text", "The reader", required=True),
        Column("at", "instant", "When", required=True, unit=INSTANT),
        Column("day", "date", "The civil day at the reader", required=True),
        Column("clock_s", "seconds", "The civil time of day at the reader", unit="s after midnight"),
        Column("direction", "text", "Which way, where it is known", allowed=("in", "out")),
        Column("is_refused", "yes_no", "Whether the reader refused the hand", required=True),
        Column("score", "score", "The dissimilarity; lower is closer", unit="reader's own scale"),
        Column("taken_at", "instant", "When its file was taken", unit=INSTANT),
    ),
    key=("punch",),
)

ERROR_RATES = Table(
    "error_rates",
    "Rates of refusal with their intervals",
    (
        Column("of", "text", "What the row is about", required=True, allowed=("all", "site", "reader", "person")),
        Column("name", "text", "Which site, reader or person", required=True),
        Column(
            "measure",
            "text",
            "Which rate, in the words of ISO/IEC 19795-1; refused_presentation_rate is what a log gives where it "
            "does not tell a non-match from a failure to acquire",
            required=True,
            allowed=(
                "false_non_match_rate",
                "failure_to_acquire_rate",
                "refused_presentation_rate",
                "false_rejection_rate",
            ),
        ),
        Column("errors", "count", "Errors counted", required=True),
        Column("trials", "count", "Trials counted", required=True),
        Column("people", "count", "People they come from", required=True),
        Column("rate", "score", "Errors by trials", required=True, unit="share"),
        Column("low", "score", "Lower end of the interval", required=True, unit="share"),
        Column("high", "score", "Upper end of the interval", required=True, unit="share"),
        Column("effective_trials", "score", "Independent trials that would tell as much", required=True),
        Column("note", "text", "What the numbers are too few for, if anything", required=True),
    ),
)

EXPLAINED = Table(
    "explained",
    "What each score is made of; the parts are on the fit's scale and add up to `above`",
    (
        Column("punch", "count", "The stored punch", required=True),
        Column("person", "text", "Who", required=True),
        Column("reader", "text", "Where", required=True),
        Column("at", "instant", "When", required=True, unit=INSTANT),
        Column("is_refused", "yes_no", "Whether it was refused", required=True),
        Column("score", "score", "The score", required=True, unit="reader's own scale"),
        Column("usual", "score", "What a usual person at a usual reader scores", required=True),
        Column("above", "score", "How far the score is above that, on the fit's scale", required=True),
        Column("of_person", "score", "This person at this reader, as ever", required=True),
        Column("of_reader", "score", "The reader, as ever and on that day", required=True),
        Column("of_day", "score", "The person on that day", required=True),
        Column("rest", "score", "This one presentation", required=True),
    ),
    key=("punch",),
)

GROUP_LEVELS = Table(
    "group_levels",
    "How groups of people score at each reader",
    (
        Column("group", "text", "Which group of people; empty for those without one", required=True),
        Column("reader", "text", "Where", required=True),
        Column("presentations", "count", "Scores that this rests on", required=True),
        Column("times", "score", "Times the usual score", required=True),
    ),
    key=("group", "reader"),
)

ALARMS = Table(
    "alarms",
    "What changed at a hand or a reader, with the chart that says so; an alarm lasts until its chart is at rest",
    (
        Column(
            "chart",
            "text",
            "Which chart",
            required=True,
            allowed=("hand", "reader", "reader_drift", "hand_refusals", "reader_refusals"),
        ),
        Column("person", "text", "Whose hand, where it is one"),
        Column("reader", "text", "Which reader, where it is one"),
        Column("on", "date", "The day of the alarm", required=True),
        Column("since", "date", "The day from which on things had changed", required=True),
        Column("worst", "date", "The day the chart stood highest; well past, the change has eased", required=True),
        Column("until", "date", "The day the chart came to rest again; empty while it has not"),
        Column("size", "score", "Mean since then: standard deviations of a day, or the share refused", required=True),
        Column("shape", "text", "Whether it came at once or grew", allowed=("step", "drift", "unclear")),
        Column(
            "cause",
            "text",
            "What changed, hand or reader",
            allowed=("hand", "reader", "both", "neither", "cannot_tell"),
        ),
        Column("correlation", "score", "How far hand and reader can be told apart; -1 is not at all"),
        Column("refused", "count", "Refused presentations since then, where refusals are charted"),
        Column("presentations", "count", "Presentations since then, where refusals are charted"),
        Column(
            "usual", "score", "Share refused that was to be expected of them, where refusals are charted", unit="share"
        ),
        Column("says", "text", "The finding in words", required=True),
    ),
)

FORECASTS = Table(
    "forecasts",
    "Who is refused too often, or soon will be, those first whose enrolment saves most refused presentations",
    (
        Column("person", "text", "Who", required=True),
        Column(
            "state",
            "text",
            "rising: the level rises beyond doubt; raised: it rose and holds; locked_out: refused since a jump; "
            "often_refused: above the limit as ever; steady: none of these",
            required=True,
            allowed=("rising", "raised", "locked_out", "often_refused", "steady"),
        ),
        Column("presentations_a_month", "score", "Presentations the person makes in a month", required=True),
        Column("refused", "count", "Refused presentations of the last 28 days", required=True),
        Column("presentations", "count", "Presentations of the last 28 days", required=True),
        Column(
            "refusal_now",
            "score",
            "Chance that a presentation is refused now, by the level of the last days",
            required=True,
            unit="share",
        ),
        Column("refusal_after", "score", "The same after a good enrolment", required=True, unit="share"),
        Column("slope", "score", "Change of the level a week, on the fit's scale"),
        Column("slope_low", "score", "Lower end of its interval"),
        Column("slope_high", "score", "Upper end of its interval"),
        Column("soonest", "date", "The day by which the limit is passed with chance one in twenty"),
        Column("likely", "date", "The day by which it is passed with even chance"),
        Column("latest", "date", "The day by which it is passed with chance nineteen in twenty"),
        Column("saved", "score", "Refused presentations a month that enrolling again saves", required=True),
        Column("says", "text", "The forecast in words", required=True),
    ),
    key=("person",),
)

READER_HEALTH = Table(
    "reader_health",
    "What is wrong with a reader, and how sure that is",
    (
        Column("reader", "text", "Which reader", required=True),
        Column(
            "kind",
            "text",
            "quiet: silent up to now; log_ends: silent while others of its site go on; quiet_day: a day with too few; "
            "refusal_burst: several hands refused within half "
            "an hour; clock: off against people's habits; file_ahead: a log from after its own taking; offset: scores "
            "higher than elsewhere",
            required=True,
            allowed=("quiet", "log_ends", "quiet_day", "refusal_burst", "clock", "offset", "file_ahead"),
        ),
        Column("since", "instant", "From when on", unit=INSTANT),
        Column("until", "instant", "The last presentation meant", unit=INSTANT),
        Column("day", "date", "The civil day meant, for quiet_day"),
        Column("size", "score", "How much: presentations usual, refusals, seconds ahead, or times the usual score"),
        Column("low", "score", "Lower end of its 95 % interval"),
        Column("high", "score", "Upper end of its 95 % interval"),
        Column("count", "count", "Presentations seen: on a quiet day, refused in a burst, or later than the file"),
        Column("trials", "count", "Presentations of a burst, whatever came of them"),
        Column("people", "count", "Numbers keyed among them"),
        Column("usual", "score", "Presentations usual in such a span, or on such a day"),
        Column("weeks", "count", "Earlier weeks that this rests on"),
        Column("chance", "score", "Chance of what was seen where nothing is wrong"),
    ),
)

REFUSED_HANDS = Table(
    "refused_hands",
    "Hands that one reader refuses far more often than hands are refused elsewhere at its site",
    (
        Column("reader", "text", "Which reader", required=True),
        Column("number", "text", "The number keyed", required=True),
        Column("person", "text", "Who holds it, where it is one person"),
        Column("site", "text", "The reader's site", required=True),
        Column("refused", "count", "Refused presentations", required=True),
        Column("presentations", "count", "Presentations, whatever came of them", required=True),
        Column("elsewhere_refused", "count", "Refused presentations of the rest of the site, same days", required=True),
        Column("elsewhere_presentations", "count", "Presentations of the rest of the site, same days", required=True),
        Column("usual", "score", "The share of these refused", required=True, unit="share"),
        Column("chance", "score", "Chance of so many, were it as elsewhere", required=True),
        Column("earlier_refused", "count", "Refused of this hand there before", required=True),
        Column("earlier_presentations", "count", "Presentations of this hand there before", required=True),
        Column("chance_as_before", "score", "Chance of so many, were it as before; none where there was no before"),
    ),
    key=("reader", "number"),
)
