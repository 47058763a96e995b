"""The tables of retention: what keeps somebody's records from disposal, and what was erased, without saying of whom."""

from __future__ import annotations

from evenhand.terms.columns import Column, Table

__all__ = ["ERASED_SOURCES", "ERASURES", "HOLDS"]

_INSTANT = "s since 1970-01-01T00:00:00Z"

HOLDS = Table(
    "holds",
    "Legal holds on somebody's time records, one for each matter, placed or lifted each by itself",
    (
        Column("hold", "count", "Running number", required=True),
        Column("person", "text", "Whose records", required=True),
        Column("is_lifted", "yes_no", "Whether this lifts the hold", required=True),
        Column("author", "text", "Who decided", required=True),
        Column("reason", "text", "Why: the suit, charge or audit, or how it ended", required=True),
        Column("made_at", "instant", "When", required=True, unit=_INSTANT),
        Column("lifts", "count", "Which hold is lifted; empty in rows of before, which lift all that stood"),
    ),
    key=("hold",),
)

ERASURES = Table(
    "erasures",
    "What was erased, when and by whom; of whom it was is not kept",
    (
        Column("erasure", "count", "Running number", required=True),
        Column("what", "text", "What came of the hand alone, or everything", required=True, allowed=("hand", "all")),
        Column("laws", "text", "The due dates it rested on, each with its law, as a JSON list", required=True),
        Column("rows", "text", "How many rows of each table went or were changed, as JSON", required=True),
        Column("sources", "count", "Kept sources that were written anew without the person", required=True),
        Column("files", "count", "Files beside the store that were written anew or removed", required=True),
        Column("author", "text", "Who decided", required=True),
        Column("reason", "text", "Why", required=True),
        Column("made_at", "instant", "When", required=True, unit=_INSTANT),
    ),
    key=("erasure",),
)

ERASED_SOURCES = Table(
    "erased_sources",
    "Kept sources that were written anew in an erasure: by what each is known again, and its digest after",
    (
        Column("running", "count", "Running number", required=True),
        Column("erasure", "count", "In which erasure", required=True),
        Column("take", "count", "Of which taking", required=True),
        Column("sha256_before", "text", "Its digest as it was taken, under a salt and slow to try", required=True),
        Column("sha256_after", "text", "The digest of what is kept of it", required=True),
        Column("lines", "count", "How many of its rows went or were changed", required=True),
    ),
    key=("running",),
)
