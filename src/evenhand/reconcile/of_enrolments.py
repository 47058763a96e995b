"""Where an enrolment disagrees with the roster, or no punch has proved it yet."""

from __future__ import annotations

from collections.abc import Iterator

import polars as pl

from evenhand.reconcile.picture import Picture, discrepancies
from evenhand.reconcile.seen import in_words
from evenhand.terms.columns import Frame

__all__ = ["of_enrolments"]

HAND = "{number} at {reader} is the hand of {call}, whose number is {right}: {why}"
SAYS = {
    "wrong": ("wrong_number", HAND),
    "zeros": ("lost_zeros", HAND),
    "leaver": ("leaver_enrolled", "{number} is still enrolled at {reader}; {call}, who held it, left on {left_on}"),
    "other_hand": ("shared_number", "at {reader} {why}"),
    "unknown": ("unknown_enrolment", "{number} is enrolled at {reader}{named}, and nobody on the roster holds it{why}"),
}
"""The kind of discrepancy that an enrolment's state makes, and its evidence."""


def of_enrolments(facts: Picture) -> Iterator[Frame]:
    """Yield DISCREPANCIES of enrolments that are not the roster's, and of those that no punch has proved."""
    rows = facts.standings.filter(pl.col("state").is_in(list(SAYS)))
    counted = rows.join(facts.seen, on=["reader", "number"], how="left").with_columns(pl.col("punches").fill_null(0))
    people = facts.roster.select("person", "call", "left_on")
    state, why = pl.col("state"), pl.col("why")
    told = (
        in_words(counted, facts.readers)
        .join(people, on="person", how="left")
        .with_columns(
            other=pl.when(state == "other_hand").then("holder").when(state.is_in(["wrong", "zeros"])).then("right"),
            named=pl.when(pl.col("name") != "").then(pl.format(" with the name '{}'", "name")),
            why=pl.when((state == "unknown") & (why != "")).then(pl.format("; {}", why)).otherwise(why),
            seen=pl.when(pl.col("punches") > 0).then(pl.format("; {} {}", "many", "when")).otherwise(pl.lit("")),
        )
    )
    there = told["state"].unique().to_list()
    for name, (kind, says) in [(name, SAYS[name]) for name in SAYS if name in there]:
        yield discrepancies(kind, told.filter(state == name), pl.concat_str(_filled(says), "seen"))
    yield _unproved(facts)


def _filled(says: str) -> pl.Expr:
    """Return the sentence with its columns filled in; a column without a value is written empty."""
    names = [part.split("}")[0] for part in says.split("{")[1:]]
    sentence = says
    for name in names:
        sentence = sentence.replace(f"{{{name}}}", "{}", 1)
    return pl.format(sentence, *(pl.col(name).cast(pl.String).fill_null("") for name in names))


def _unproved(facts: Picture) -> Frame:
    right = facts.standings.filter(pl.col("state") == "right").select("reader", "number", "person")
    rows = right.join(facts.seen, on=["reader", "number"], how="anti")
    heard = pl.col("reader").is_in(facts.seen["reader"].unique().implode())
    log = (
        pl.when(heard)
        .then(pl.lit("its log holds other numbers"))
        .otherwise(pl.lit("no punch of that reader has been taken yet"))
    )
    says = pl.format("no hand has been accepted under {} at {} in the logs looked at; {}", "number", "reader", log)
    return discrepancies("unproved", rows, says)
