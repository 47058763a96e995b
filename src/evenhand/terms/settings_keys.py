"""The keys of a settings file, table by table; those of a site stand in `settings_of_site`."""

from __future__ import annotations

from evenhand.terms.languages import LANGUAGES, sentence
from evenhand.terms.papers import PAPERS
from evenhand.terms.setting_key import COMMON_PRACTICE, SettingKey, SettingTable
from evenhand.terms.settings_of_site import SITE

__all__ = ["TABLES", "table_of"]

_POLICY = (
    SettingKey(
        "repeat_seconds",
        sentence("Repeats"),
        sentence("Of two presentations closer together than this the second is a repeat, and both are one punch."),
        "number",
        "60",
        COMMON_PRACTICE,
    ),
    SettingKey(
        "longest_span_hours",
        sentence("A punch is missing after"),
        sentence("Somebody who is in and has not punched for longer has missed a punch."),
        "number",
        "14",
        COMMON_PRACTICE,
    ),
    SettingKey(
        "long_span_hours",
        sentence("Asked about after"),
        sentence("A span longer than this is paid as punched, and asked about."),
        "number",
        "13",
        COMMON_PRACTICE,
    ),
    SettingKey(
        "shift_gap_hours",
        sentence("The shift ends after"),
        sentence("Somebody who is out for longer has ended the shift."),
        "number",
        "5",
        COMMON_PRACTICE,
    ),
    SettingKey(
        "meal_minutes",
        sentence("A meal lasts"),
        sentence("A punched gap this long or longer is an unpaid meal; a shorter one is paid rest."),
        "number",
        "30",
        "29 CFR 785.18, 785.19",
    ),
    SettingKey(
        "trifle_seconds",
        sentence("Trifles"),
        sentence("A shift shorter than this is not paid; not in California."),
        "number",
        "0",
        "29 CFR 785.47",
    ),
    SettingKey(
        "call_back_hours",
        sentence("A call-back pays"),
        sentence("A call-back outside the schedule is paid for at least this long."),
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
            sentence("Before the start"),
            sentence(
                "A punch so near before a scheduled start counts as it: takes time, lawful only if no work was done in "
                "it."
            ),
        ),
        (
            "start_late_minutes",
            sentence("After the start"),
            sentence("A punch so near after a scheduled start counts as it: gives time."),
        ),
        (
            "end_early_minutes",
            sentence("Before the end"),
            sentence("A punch so near before a scheduled end counts as it: gives time."),
        ),
        (
            "end_late_minutes",
            sentence("After the end"),
            sentence(
                "A punch so near after a scheduled end counts as it: takes time, lawful only if no work was done in it."
            ),
        ),
    )
)
_MEAL = (
    SettingKey(
        "minutes",
        sentence("Deducted"),
        sentence("How long a meal is deducted without punches."),
        "number",
        "",
        "29 CFR 785.19",
    ),
    SettingKey(
        "after_hours", sentence("In shifts longer than"), sentence("Only in shifts longer than this."), "number", ""
    ),
    SettingKey(
        "at_hours", sentence("Begins after"), sentence("Assumed to begin this long after the shift does."), "number", ""
    ),
)
_CONSENT = (
    SettingKey(
        "required",
        sentence("A release is required"),
        sentence("Whether nobody is planned, called or enrolled without a release in force."),
        "yes_no",
        "yes",
        sentence("local law on biometrics; see Consent"),
    ),
    SettingKey(
        "policy",
        sentence("Policy"),
        sentence("The name of the policy that people are asked to agree to."),
        "text",
        sentence("the policies that no other site names"),
    ),
)

TABLES: tuple[SettingTable, ...] = (
    SettingTable(
        ("workplace",),
        sentence("Workplace"),
        sentence("What holds everywhere. Where the store is kept is not changed while it is open."),
        (
            SettingKey(
                "name", sentence("Name"), sentence("As it stands on pages and files."), "text", "", sentence("yours")
            ),
            SettingKey(
                "zone",
                sentence("Time zone"),
                sentence("The zone at sites that neither a table of their own nor a reader places."),
                "zone",
                sentence("the zone in which most readers run"),
                sentence("where it lies"),
            ),
            SettingKey(
                "language",
                sentence("Language"),
                sentence("In which the desk's pages speak to whoever has chosen none on a page."),
                "choice",
                sentence("what the browser asks for"),
                choices=LANGUAGES,
            ),
            SettingKey(
                "paper",
                sentence("Paper"),
                sentence("On which every sheet and every page is printed, where a command does not say otherwise."),
                "choice",
                sentence(
                    "what is usual where the workplace's clocks are: letter in the United States, Canada, Mexico "
                    "and some more places of the Americas and the Philippines, else A4"
                ),
                sentence("Unicode CLDR 46, paper sizes by place"),
                choices=PAPERS,
            ),
            SettingKey(
                "invented",
                sentence("Invented"),
                sentence("Nobody here is real, as in the demo: what is done may bear another time than the machine's."),
                "yes_no",
                "no",
            ),
        ),
    ),
    SettingTable(
        ("pay_period",),
        sentence("Pay period"),
        sentence("For which days payroll is handed a file, and by when."),
        (
            SettingKey("anchor", sentence("Counted from"), sentence("The first day of any one pay period."), "day", ""),
            SettingKey("weeks", sentence("Weeks"), sentence("Workweeks in a pay period."), "number", "1"),
            SettingKey(
                "deadline_hours",
                sentence("Payroll wants the file within"),
                sentence("How long after the end of the period payroll wants the file."),
                "number",
                "36",
            ),
        ),
    ),
    SettingTable(("policy",), sentence("Policy"), sentence("What the law leaves to the workplace."), _POLICY),
    SettingTable(
        ("policy", "grace"),
        sentence("Grace"),
        sentence("How near a scheduled start or end a punch counts as it."),
        _GRACE,
    ),
    SettingTable(
        ("policy", "automatic_meal"),
        sentence("Automatic meal"),
        sentence("A meal deducted without punches, unless the punches say otherwise. Left out, none is."),
        _MEAL,
        whole=True,
    ),
    SettingTable(("consent",), sentence("Consent"), sentence("Who may be enrolled."), _CONSENT),
    SettingTable(
        ("signoff",),
        sentence("Sign-off"),
        sentence("Whether hours are handed off without a supervisor's approval, and how long an answer may take."),
        (
            SettingKey(
                "approval",
                sentence("Approval"),
                sentence(
                    "Of hours by a supervisor: told in the note for payroll, or demanded before a period is handed off."
                ),
                "choice",
                "told",
                choices=("told", "demanded"),
            ),
            SettingKey(
                "answer_days",
                sentence("A dispute is answered within"),
                sentence("In how many days, where no law says."),
                "number",
                "14",
                COMMON_PRACTICE,
            ),
        ),
    ),
    SettingTable(
        ("handoff",),
        sentence("Hand-off"),
        sentence("What is done about a period that was handed off already."),
        (
            SettingKey(
                "late_changes",
                sentence("Late changes"),
                sentence(
                    "Of a change after payroll's deadline: the next period's file carries it (adjust), or a new file "
                    "replaces the period's (replace)."
                ),
                "choice",
                "adjust",
                choices=("adjust", "replace"),
            ),
        ),
    ),
    SettingTable(
        ("intake",),
        sentence("Watched folder"),
        sentence("A folder in which files are taken by themselves. Left out, none is watched."),
        (
            SettingKey(
                "folder",
                sentence("Folder"),
                sentence("Its path; one that is not absolute begins at the workspace."),
                "text",
                "none",
            ),
            SettingKey(
                "quiet_seconds",
                sentence("Looked at after"),
                sentence("A file is looked at once neither its size nor its time has changed for so long."),
                "number",
                "10",
                COMMON_PRACTICE,
            ),
            SettingKey(
                "afterwards",
                sentence("Afterwards"),
                sentence(
                    "A file that was taken is put in taken/ within the folder (move), or left where it lies (leave)."
                ),
                "choice",
                "move",
                choices=("move", "leave"),
            ),
        ),
    ),
    SettingTable(
        ("retention",),
        sentence("Retention"),
        sentence("How long records stay where the workplace decides for itself beside the law."),
        (
            SettingKey(
                "place",
                sentence("Place"),
                sentence("Whose laws bind sites that name none, by ISO 3166, such as US-IL or DE."),
                "text",
                sentence("what each site's law and zone tell"),
                "ISO 3166",
            ),
            SettingKey(
                "keep_years",
                sentence("Time records stay at least"),
                sentence("By your own decision, after the last entry; the law may ask for more."),
                "number",
                "none",
            ),
            SettingKey(
                "notice_days",
                sentence("Told before"),
                sentence("A hand that is due within so many days is asked about."),
                "number",
                "14",
                COMMON_PRACTICE,
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
