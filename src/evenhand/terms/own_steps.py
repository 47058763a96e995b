"""The table of the workplace's own steps at its kinds of reader."""

from __future__ import annotations

from evenhand.terms.columns import Column, Table

__all__ = ["OWN_STEPS"]

OWN_STEPS = Table(
    "own_steps",
    "What the workplace wrote on how things are done at a kind of reader; never changed, a kind's last version counts",
    (
        Column("version", "count", "Running number", required=True),
        Column("kind", "text", "What the workplace calls this kind of reader", required=True),
        Column("text", "text", "The steps, as the TOML file they were written in", required=True),
        Column("digest", "text", "SHA-256 of that text in UTF-8, in hexadecimal", required=True),
        Column("author", "text", "Who wrote or added it", required=True),
        Column("reason", "text", "Why it is as it is from now on", required=True),
        Column("made_at", "instant", "When", required=True, unit="s since 1970-01-01T00:00:00Z"),
    ),
    key=("version",),
)
