"""The tables that only the store keeps: what was taken, what it replaced, what was settled and handed off."""

from __future__ import annotations

from evenhand.terms.columns import Column, Table

__all__ = ["ADJUSTMENTS", "CHANGES", "HANDOFFS", "REFUSED_ROWS", "SETTINGS_TEXTS", "SETTLED", "TAKES", "TAKE_DECISIONS"]

INSTANT = "s since 1970-01-01T00:00:00Z"

TAKES = Table(
    "takes",
    "Files taken: what each held, and what became of its rows",
    (
        Column("take", "count", "Running number; the upper half of its punches' numbers", required=True),
        Column("file", "text", "The file's name", required=True),
        Column("sha256", "text", "The digest of its content", required=True),
        Column("table", "text", "The table its rows went to", required=True),
        Column("layout", "text", "The kept layout it was read by", required=True),
        Column("rows_read", "count", "Rows it held", required=True),
        Column("taken", "count", "Rows that were new or changed something", required=True),
        Column("known", "count", "Rows that were there already", required=True),
        Column("enriched", "count", "Of these, rows that say more than was known of their punch", required=True),
        Column("refused", "count", "Rows refused, each with its reason", required=True),
        Column("gone", "count", "Enrolments its readers no longer list, or people the roster does not", required=True),
        Column("taken_at", "instant", "When it was taken", required=True, unit=INSTANT),
        Column("to_minute", "yes_no", "Whether its times are written without seconds", required=True),
        Column("is_back", "yes_no", "Whether it is taken back; then its counts are 0", required=True),
    ),
    key=("take",),
)

CHANGES = Table(
    "changes",
    "What rows said before a later file changed them",
    (
        Column("change", "count", "Running number", required=True),
        Column("table", "text", "The table the row is in", required=True),
        Column("row_key", "text", "The row's key, as JSON", required=True),
        Column("was", "text", "The values replaced, as JSON", required=True),
        Column("take", "count", "The taking that changed them", required=True),
    ),
    key=("change",),
)

REFUSED_ROWS = Table(
    "refused_rows",
    "Rows of the files taken that were refused, each with its place and its reason",
    (
        Column("refusal", "count", "Running number", required=True),
        Column("take", "count", "The taking", required=True),
        Column("line", "count", "The line of the file, from 1; the row of a sheet", required=True),
        Column("column", "text", "The file's own header, or the column's position", required=True),
        Column("seen", "text", "What stood there"),
        Column("reason", "text", "What is wrong and what to do, in one sentence", required=True),
        Column("text", "text", "The line as it stands in the file, where that can be shown"),
    ),
    key=("refusal",),
)

TAKE_DECISIONS = Table(
    "take_decisions",
    "Takes taken back or read again, and the store made anew; the last word on each take counts",
    (
        Column("decision", "count", "Running number", required=True),
        Column("action", "text", "What was done", required=True, allowed=("back", "again", "rebuild")),
        Column("take", "count", "To which taking; empty where the store was made anew"),
        Column("layout", "text", "The layout it is read by from then on, as TOML"),
        Column("zones", "text", "What the settings said of zones, as JSON"),
        Column("author", "text", "Who decided", required=True),
        Column("reason", "text", "Why", required=True),
        Column("made_at", "instant", "When", required=True, unit=INSTANT),
    ),
    key=("decision",),
)

SETTLED = Table(
    "settled",
    "Findings that a person has answered, or opened again, with the reason; the last word on each counts",
    (
        Column("settlement", "count", "Running number", required=True),
        Column("finding", "text", "The finding's key", required=True),
        Column("author", "text", "Who answered it", required=True),
        Column("reason", "text", "Why it may stand, or is opened again", required=True),
        Column("made_at", "instant", "When", required=True, unit=INSTANT),
        Column("says", "text", "What the finding said then; empty where that was not kept"),
        Column("is_withdrawn", "yes_no", "Whether this opens the finding again", required=True),
    ),
    key=("settlement",),
)

HANDOFFS = Table(
    "handoffs",
    "Files handed to payroll",
    (
        Column("handoff", "count", "Running number", required=True),
        Column("first_day", "date", "First day of the pay period", required=True),
        Column("last_day", "date", "Last day of the pay period", required=True),
        Column("file", "text", "The file's name", required=True),
        Column("digest", "text", "SHA-256 of what the file was computed from", required=True),
        Column("totals", "text", "The control totals, as JSON", required=True),
        Column("despite", "text", "Keys of the findings it was made despite, as a JSON list", required=True),
        Column("author", "text", "Who handed it off", required=True),
        Column("made_at", "instant", "When", required=True, unit=INSTANT),
        Column("replaces", "count", "The file of the same period that it replaces, which counts no longer"),
        Column("reason", "text", "Why it replaces that; empty where it replaces none", required=True),
        Column("files", "text", "The SHA-256 of each file by its name, as JSON", required=True),
        Column("carries", "text", "The adjustments that it holds, as a JSON list", required=True),
        Column("money", "text", "The items that it told in money, as a JSON list", required=True),
        Column("is_detailed", "yes_no", "Whether it is kept line by line what it told", required=True),
    ),
    key=("handoff",),
)

ADJUSTMENTS = Table(
    "adjustments",
    "Differences of periods handed off, and how each is made good",
    (
        Column("adjustment", "count", "Running number", required=True),
        Column("handoff", "count", "The file in force that it adds to", required=True),
        Column("first_day", "date", "First day of the pay period that it belongs to", required=True),
        Column("last_day", "date", "Last day of that period", required=True),
        Column(
            "way",
            "text",
            "carried by the next period's file, or made good outside of payroll's files",
            required=True,
            allowed=("next_file", "elsewhere"),
        ),
        Column("author", "text", "Who decided it", required=True),
        Column("reason", "text", "Why", required=True),
        Column("made_at", "instant", "When", required=True, unit=INSTANT),
    ),
    key=("adjustment",),
)

SETTINGS_TEXTS = Table(
    "settings_texts",
    "The settings, layouts and rules of the workspace as they were found; the last word on each file counts",
    (
        Column("running", "count", "Running number", required=True),
        Column("file", "text", "The file within the workspace", required=True),
        Column("content", "text", "What it held, without passwords; empty where it is gone"),
        Column("noticed_at", "instant", "When that was found, by the machine's clock", required=True, unit=INSTANT),
        Column("author", "text", "Who changed it, where somebody did on the pages"),
        Column("reason", "text", "Why"),
        Column("withdraws", "count", "The change that this takes back"),
    ),
    key=("running",),
)
