"""The keys of a settings file: what each means, how it is written, what holds where it is silent, and by which source.

Durations are told in the unit that a key ends in. A source is the law that allows or asks for a setting; where there is
none, the workplace decides, by agreement or by habit.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

__all__ = ["DATED_KEYS", "SITE", "TABLES", "SettingKey", "SettingTable", "table_of"]

Kind = Literal["number", "text", "choice", "yes_no", "day", "zone", "texts", "weekdays"]
"""How a value is written: a number, text, one of some, yes or no, a date, a time zone, or a list of texts."""

OWN = "the workplace's policy"
HABIT = "common practice, no source"


@dataclass(frozen=True)
class SettingKey:
    """One key: its name in the file, what it is called and means, how it is written, and its source.

    `silent` says what holds where the file does not have it; empty where it must be there.
    """

    key: str
    title: str
    meaning: str
    kind: Kind
    silent: str
    cites: str = OWN
    choices: tuple[str, ...] = ()

    @property
    def unit(self) -> str:
        """Return the unit that its number counts in, empty where the key does not say."""
        unit = self.key.rpartition("_")[2]
        return (
            unit
            if self.kind in ("number", "choice") and unit in ("seconds", "minutes", "hours", "days", "years")
            else ""
        )


@dataclass(frozen=True)
class SettingTable:
    """A table of the file with its keys; `whole` says that it is written whole or not at all."""

    path: tuple[str, ...]
    title: str
    about: str
    keys: tuple[SettingKey, ...]
    whole: bool = False


SITE = SettingTable(
    ("site",),
    "This site",
    "What binds a site. What changes from a day on is written below it with its date, and what was before stays.",
    (
        SettingKey(
            "zone", "Time zone", "The zone in which its days and workweeks are counted.", "zone", "", "where it lies"
        ),
        SettingKey(
            "jurisdiction", "Law", "The rules of law that bind it.", "choice", "us_federal", "the law of the place"
        ),
        SettingKey(
            "workweek_starts",
            "Workweek begins",
            'Weekday and time, such as "Sunday 00:00"; workdays begin at the same time.',
            "text",
            "Sunday 00:00",
            "29 CFR 778.105",
        ),
        SettingKey(
            "rounding_minutes",
            "Rounding",
            "To what recorded times are rounded; 0 rounds nothing.",
            "choice",
            "0",
            "29 CFR 785.48(b)",
            ("0", "5", "6", "15"),
        ),
        SettingKey(
            "alternative_day_hours",
            "Day of an alternative schedule",
            "The daily limit of an alternative or flexible schedule that was properly adopted.",
            "number",
            "none",
            "Cal. Labor Code 511; 8 AAC 15.102",
        ),
        SettingKey(
            "alternative_days",
            "Days of the schedule",
            "Its weekdays in California, where they are the same for everybody.",
            "weekdays",
            "those of each person's schedule",
            "Cal. Labor Code 511",
        ),
        SettingKey(
            "health_care_schedule",
            "Schedule of health care",
            "Whether it is one of health care, with days of up to 12 hours in California.",
            "yes_no",
            "no",
            "IWC wage orders 4 and 5, section 3(B)(8)",
        ),
        SettingKey(
            "first_meal_waived",
            "First meal waived by",
            "People who agreed to waive the first meal period, by identifier; * is everybody.",
            "texts",
            "nobody",
            "Cal. Labor Code 512(a)",
        ),
        SettingKey(
            "second_meal_waived",
            "Second meal waived by",
            "People who agreed to waive the second meal period, by identifier; * is everybody.",
            "texts",
            "nobody",
            "Cal. Labor Code 512(a)",
        ),
        SettingKey(
            "fortnight_begins",
            "14 days begin",
            "The first day of any 14-day period, under the 8 and 80 system.",
            "day",
            "none",
            "29 USC 207(j)",
        ),
        SettingKey(
            "public_safety",
            "Kind of public safety",
            "The kind of work, where the law of public safety binds it.",
            "choice",
            "none",
            "29 USC 207(k)",
            ("fire_protection", "law_enforcement"),
        ),
        SettingKey(
            "work_period_days",
            "Work period",
            "How long its work periods last: 7, 14, 21 or 28 days.",
            "number",
            "none",
            "29 USC 207(k)",
        ),
        SettingKey(
            "work_period_begins",
            "Work period begins",
            "The first day of any of them, on which a workweek begins.",
            "day",
            "none",
            "29 USC 207(k)",
        ),
        SettingKey(
            "holidays",
            "Public holidays",
            "The public calendar for differentials: a country, or a country and its part, such as US-CA.",
            "text",
            "none",
        ),
        SettingKey(
            "place",
            "Place",
            "Where its laws of privacy and records are looked for, by ISO 3166, such as US-IL.",
            "text",
            "that of the workplace, else what its law and zone tell",
            "ISO 3166",
        ),
    ),
)

DATED_KEYS = tuple(one.key for one in SITE.keys if one.key != "place")
"""What may change from a day on; a place does not."""

_POLICY = (
    SettingKey(
        "repeat_seconds",
        "Repeats",
        "Of two presentations closer together than this the second is a repeat, and both are one punch.",
        "number",
        "60",
        HABIT,
    ),
    SettingKey(
        "longest_span_hours",
        "A punch is missing after",
        "Somebody who is in and has not punched for longer has missed a punch.",
        "number",
        "14",
        HABIT,
    ),
    SettingKey(
        "long_span_hours",
        "Asked about after",
        "A span longer than this is paid as punched, and asked about.",
        "number",
        "13",
        HABIT,
    ),
    SettingKey(
        "shift_gap_hours",
        "The shift ends after",
        "Somebody who is out for longer has ended the shift.",
        "number",
        "5",
        HABIT,
    ),
    SettingKey(
        "meal_minutes",
        "A meal lasts",
        "A punched gap this long or longer is an unpaid meal; a shorter one is paid rest.",
        "number",
        "30",
        "29 CFR 785.18, 785.19",
    ),
    SettingKey(
        "trifle_seconds",
        "Trifles",
        "A shift shorter than this is not paid; not in California.",
        "number",
        "0",
        "29 CFR 785.47",
    ),
    SettingKey(
        "call_back_hours",
        "A call-back pays",
        "A call-back outside the schedule is paid for at least this long.",
        "number",
        "0",
        "29 CFR 778.221",
    ),
)
_GRACE = tuple(
    SettingKey(key, title, meaning, "number", "0", "29 CFR 785.48(a)")
    for key, title, meaning in (
        (
            "start_early_minutes",
            "Before the start",
            "A punch so near before a scheduled start counts as it: takes time, lawful only if no work was done in it.",
        ),
        ("start_late_minutes", "After the start", "A punch so near after a scheduled start counts as it: gives time."),
        ("end_early_minutes", "Before the end", "A punch so near before a scheduled end counts as it: gives time."),
        (
            "end_late_minutes",
            "After the end",
            "A punch so near after a scheduled end counts as it: takes time, lawful only if no work was done in it.",
        ),
    )
)
_MEAL = (
    SettingKey("minutes", "Deducted", "How long a meal is deducted without punches.", "number", "", "29 CFR 785.19"),
    SettingKey("after_hours", "In shifts longer than", "Only in shifts longer than this.", "number", ""),
    SettingKey("at_hours", "Begins after", "Assumed to begin this long after the shift does.", "number", ""),
)
_CONSENT = (
    SettingKey(
        "required",
        "A release is required",
        "Whether nobody is planned, called or enrolled without a release in force.",
        "yes_no",
        "yes",
        "local law on biometrics; see Consent",
    ),
    SettingKey(
        "policy",
        "Policy",
        "The name of the policy that people are asked to agree to.",
        "text",
        "the policies that no other site names",
    ),
)

TABLES: tuple[SettingTable, ...] = (
    SettingTable(
        ("workplace",),
        "Workplace",
        "What holds everywhere. Where the store is kept is not changed while it is open.",
        (
            SettingKey("name", "Name", "As it stands on pages and files.", "text", "", "yours"),
            SettingKey(
                "zone",
                "Time zone",
                "The zone at sites that neither a table of their own nor a reader places.",
                "zone",
                "the zone in which most readers run",
                "where it lies",
            ),
        ),
    ),
    SettingTable(
        ("pay_period",),
        "Pay period",
        "For which days payroll is handed a file, and by when.",
        (
            SettingKey("anchor", "Counted from", "The first day of any one pay period.", "day", ""),
            SettingKey("weeks", "Weeks", "Workweeks in a pay period.", "number", "1"),
            SettingKey(
                "deadline_hours",
                "Payroll wants the file within",
                "How long after the end of the period payroll wants the file.",
                "number",
                "36",
            ),
        ),
    ),
    SettingTable(("policy",), "Policy", "What the law leaves to the workplace.", _POLICY),
    SettingTable(("policy", "grace"), "Grace", "How near a scheduled start or end a punch counts as it.", _GRACE),
    SettingTable(
        ("policy", "automatic_meal"),
        "Automatic meal",
        "A meal deducted without punches, unless the punches say otherwise. Left out, none is.",
        _MEAL,
        whole=True,
    ),
    SettingTable(("consent",), "Consent", "Who may be enrolled.", _CONSENT),
    SettingTable(
        ("signoff",),
        "Sign-off",
        "Whether hours are handed off without a supervisor's approval, and how long an answer may take.",
        (
            SettingKey(
                "approval",
                "Approval",
                "Of hours by a supervisor: told in the note for payroll, or demanded before a period is handed off.",
                "choice",
                "told",
                choices=("told", "demanded"),
            ),
            SettingKey(
                "answer_days",
                "A dispute is answered within",
                "In how many days, where no law says.",
                "number",
                "14",
                HABIT,
            ),
        ),
    ),
    SettingTable(
        ("handoff",),
        "Hand-off",
        "What is done about a period that was handed off already.",
        (
            SettingKey(
                "late_changes",
                "Late changes",
                "The next period's file carries the change (adjust), or a new file replaces the period's (replace).",
                "choice",
                "adjust",
                choices=("adjust", "replace"),
            ),
        ),
    ),
    SettingTable(
        ("intake",),
        "Watched folder",
        "A folder in which files are taken by themselves. Left out, none is watched.",
        (
            SettingKey(
                "folder", "Folder", "Its path; one that is not absolute begins at the workspace.", "text", "none"
            ),
            SettingKey(
                "quiet_seconds",
                "Looked at after",
                "A file is looked at once neither its size nor its time has changed for so long.",
                "number",
                "10",
                HABIT,
            ),
            SettingKey(
                "afterwards",
                "Afterwards",
                "A file that was taken is put in taken/ within the folder (move), or left where it lies (leave).",
                "choice",
                "move",
                choices=("move", "leave"),
            ),
        ),
    ),
    SettingTable(
        ("retention",),
        "Retention",
        "How long records stay where the workplace decides for itself beside the law.",
        (
            SettingKey(
                "place",
                "Place",
                "Whose laws bind sites that name none, by ISO 3166, such as US-IL or DE.",
                "text",
                "what each site's law and zone tell",
                "ISO 3166",
            ),
            SettingKey(
                "keep_years",
                "Time records stay at least",
                "By your own decision, after the last entry; the law may ask for more.",
                "number",
                "none",
            ),
            SettingKey(
                "notice_days",
                "Told before",
                "A hand that is due within so many days is asked about.",
                "number",
                "14",
                HABIT,
            ),
        ),
    ),
)


def table_of(path: tuple[str, ...]) -> SettingTable | None:
    """Return the table of a path, that of a site or of consent there by whichever name; None where there is none."""
    if len(path) == 2 and path[0] == "site":
        return SITE
    if len(path) == 3 and path[:2] == ("consent", "site"):
        return next(one for one in TABLES if one.path == ("consent",))
    return next((one for one in TABLES if one.path == path), None)
