"""Whose hand each enrolment is, as far as number and name can tell."""

from __future__ import annotations

import polars as pl

from evenhand.reconcile.roster import bare, holders_now, works_at
from evenhand.terms.columns import Frame
from evenhand.terms.likeness.explain import KINDS, explain
from evenhand.terms.likeness.names import bearers, words_of

__all__ = ["standings"]

MOST_GUESSES = 4
TOLD_BY = ["number", "name", "enrolled_on"]
"""What a reader's list tells of whose hand it is."""


def standings(roster: Frame, readers: Frame, enrolments: Frame) -> Frame:
    """Return where each enrolment stands, in the order of the frame: whose hand it is.

    Columns: reader, number, name, has_authority, tells_authority (whether the reader's list says so of anybody), state,
    person, holder, `right` (the person's number), why.
    `state`: right (the one holder's), shared (two people hold the number), leaver (of whoever has left, also where
    the number is somebody else's since), other_hand (the name beside it is `person`'s, the number is `holder`'s),
    wrong (`person`'s hand under a number nobody holds), zeros (the same, but for zeros in front), unknown. `why` is
    the evidence, '' where the number says it all.
    `roster` is that of `roster_on`.
    """
    pairs = enrolments.select(TOLD_BY).unique(maintain_order=True)
    told = _by_number_and_name(roster, pairs)
    rows = (
        enrolments.with_row_index("place")
        .select(
            "place",
            "reader",
            "number",
            "name",
            "enrolled_on",
            has_authority=pl.col("is_supervisor").fill_null(value=False),
            tells_authority=pl.col("is_supervisor").is_not_null().any().over("reader"),
        )
        .join(told, on=TOLD_BY, how="left", nulls_equal=True, maintain_order="left")
    )
    untold = rows.filter(pl.col("state").is_null())
    if untold.height:
        by_digits = _by_digits(roster, readers, enrolments, untold.select("place", "reader", "number", "name"))
        told_so = untold.drop("state", "person", "why").join(by_digits, on="place").select(rows.columns)
        rows = pl.concat([rows.filter(pl.col("state").is_not_null()), told_so]).sort("place")
    numbers = roster.select("person", right="number")
    return rows.drop("place", "enrolled_on").join(numbers, on="person", how="left", maintain_order="left")


def _by_number_and_name(roster: Frame, pairs: Frame) -> Frame:
    """TOLD_BY, state, person, holder and why of each pair; a state of null where neither tells."""
    found = _with_who_could_be_meant(roster, pairs).with_columns(state=_state())
    meant = pl.col("holders").list.set_intersection("named")
    person = {
        "shared": pl.when(meant.list.len() == 1).then(meant.list.first()),
        "right": pl.col("holder"),
        "other_hand": pl.col("named").list.first(),
        "leaver": pl.col("leaver"),
        "wrong": pl.col("numbered").list.first(),
    }
    holder = {"right": pl.col("holder"), "other_hand": pl.col("holder"), "leaver": pl.col("leaver")}
    beside = pl.format("the reader holds the name '{}' beside {}", "name", "number")
    why = {
        "other_hand": pl.format("{}, and the roster gives {} to {}", beside, "number", "holders_call"),
        "wrong": beside,
    }
    nobody = pl.lit(None, pl.String)
    found = found.with_columns(
        person=_by_state(person, nobody), holder=_by_state(holder, nobody), why=_by_state(why, pl.lit(""))
    )
    right = found.join(roster.select("person", right="number"), on="person", how="left")
    zeros = (pl.col("state") == "wrong") & (bare("number") == bare("right"))
    return right.select(
        *TOLD_BY,
        pl.when(zeros).then(pl.lit("zeros")).otherwise("state").alias("state"),
        "person",
        "holder",
        "why",
    )


def _with_who_could_be_meant(roster: Frame, pairs: Frame) -> Frame:
    """Add to each pair whom its name and its number may mean.

    `bearers` of the name; `named`, those of them who are here; `numbered`, those who have a number; `holders` of the
    number now, the first of them as `holder`, called `holders_call`; the `leaver` who had it, by the name where several
    had; `keeps`, whether the hand is still that leaver's although the number is somebody else's now.
    """
    borne = bearers(pairs["name"], roster)
    here = borne.join(roster.filter("is_here").select("person", "number"), on="person")
    named = here.group_by("written").agg(
        named=pl.col("person").sort(), numbered=pl.col("person").filter(pl.col("number").is_not_null())
    )
    left = roster.filter("has_left")
    gone = (
        borne.join(left.select("person", "number"), on="person")
        .group_by("written")
        .agg(gone=pl.col("person").sort(), unnumbered=pl.col("person").filter(pl.col("number").is_null()).sort())
    )
    by_number = left.drop_nulls("number").group_by("number", maintain_order=True).agg(leavers="person")
    found = (
        pairs.join(borne.group_by("written").agg(bearers="person"), left_on="name", right_on="written", how="left")
        .join(named, left_on="name", right_on="written", how="left")
        .join(gone, left_on="name", right_on="written", how="left")
        .join(holders_now(roster), on="number", how="left")
        .join(by_number, on="number", how="left")
        .with_columns(leaver=_leaver())
    )
    return (
        found.join(roster.select(holder="person", holders_call="call", began="hired_on"), on="holder", how="left")
        .join(roster.select(leaver="person", ended="left_on"), on="leaver", how="left")
        .with_columns(keeps=_keeps())
    )


def _leaver() -> pl.Expr:
    """Who had the number and has left: whom the name means, else the last.

    Where the number is somebody else's now the name alone may tell of a leaver, whose number the roster has emptied.
    """
    both = pl.col("leavers").list.set_intersection("gone").list.last()
    alone = (pl.col("unnumbered").list.len() == 1) & pl.col("holders").is_not_null() & pl.col("named").is_null()
    return pl.coalesce(both, pl.when(alone).then(pl.col("unnumbered").list.first()), pl.col("leavers").list.last())


def _keeps() -> pl.Expr:
    """Whether the hand was the leaver's before the number was given away, and nothing tells that it is not any more.

    The name is the leaver's and no holder's; or it is nobody's, and the hand was enrolled before the holder began. A
    hand that was enrolled after the leaver's last day is not theirs.
    """
    of_holders = pl.col("holders").list.set_intersection("bearers").list.len().fill_null(0) > 0
    of_leaver = pl.col("gone").list.contains(pl.col("leaver")).fill_null(value=False)
    before = (pl.col("enrolled_on") < pl.col("began")) & (pl.col("enrolled_on") <= pl.col("ended"))
    later = (pl.col("enrolled_on") > pl.col("ended")).fill_null(value=False)
    is_nobodys = pl.col("bearers").is_null() & before.fill_null(value=False)
    return pl.col("leaver").is_not_null() & ~of_holders & ~later & (of_leaver | is_nobodys)


def _state() -> pl.Expr:
    """What a pair shows: its number `shared`, `right`, in an `other_hand`, a `leaver`'s or `wrong`; null untold."""
    count = pl.col("holders").list.len().fill_null(0)
    one_named = (pl.col("named").list.len() == 1).fill_null(value=False)
    one_numbered = (pl.col("numbered").list.len() == 1).fill_null(value=False)

    def is_borne_by(person: str) -> pl.Expr:
        return pl.col("bearers").list.contains(pl.col(person)).fill_null(value=False)

    return (
        pl.when((count > 0) & pl.col("keeps"))
        .then(pl.lit("leaver"))
        .when(count > 1)
        .then(pl.lit("shared"))
        .when((count == 1) & (is_borne_by("holder") | ~one_named))
        .then(pl.lit("right"))
        .when(count == 1)
        .then(pl.lit("other_hand"))
        .when(pl.col("leaver").is_not_null() & (~one_named | is_borne_by("leaver")))
        .then(pl.lit("leaver"))
        .when(one_numbered)
        .then(pl.lit("wrong"))
    )


def _by_state(told: dict[str, pl.Expr], otherwise: pl.Expr) -> pl.Expr:
    return pl.coalesce(*(pl.when(pl.col("state") == state).then(value) for state, value in told.items()), otherwise)


def _by_digits(roster: Frame, readers: Frame, enrolments: Frame, untold: Frame) -> Frame:
    """Place, state, person and why of enrolments that only their digits can tell of; unknown where they do not."""
    every = _candidates(roster, readers, enrolments, untold)
    guess = pl.struct("person", "state", "why")
    zeros, nowhere = guess.filter(pl.col("state") == "zeros"), guess.filter("nowhere")
    told = pl.concat_str("call", pl.lit(", as "), "why")
    chosen = every.group_by("place", maintain_order=True).agg(
        chosen=pl.when(zeros.len() == 1)
        .then(zeros.first())
        .when(pl.len() == 1)
        .then(guess.first())
        .when(nowhere.len() == 1)
        .then(nowhere.first()),
        guesses=pl.lit("it could be ") + told.head(MOST_GUESSES).str.join("; "),
    )
    found = untold.select("place").join(chosen, on="place", how="left")
    parts = found.select("place", "guesses", pl.col("chosen").struct.unnest())
    return parts.select(
        "place",
        pl.col("state").fill_null("unknown"),
        "person",
        why=pl.coalesce("why", "guesses", pl.lit("")),
    )


def _candidates(roster: Frame, readers: Frame, enrolments: Frame, untold: Frame) -> Frame:
    """Who may have meant each number: of the site, not enrolled there, and not contradicted by the name."""
    holding = roster.filter("is_here", pl.col("number").is_not_null())
    likeliest = (
        explain(untold["number"], holding)
        .filter(pl.col("kind") != "own")
        .sort("likelihood", "kind", descending=[True, False])
        .unique(["keyed", "person"], keep="first", maintain_order=True)
    )
    of_people = holding.select("person", "call", of_person="site", right="number", theirs=words_of(pl.col("name")))
    rows = (
        untold.join(readers.unique("reader").select("reader", of_reader="site"), on="reader", how="left")
        .with_columns(words=words_of(pl.col("name")))
        .join(likeliest.select("person", "kind", "meant", number="keyed"), on="number")
        .join(of_people, on="person")
        .filter(works_at("of_person", "of_reader"))
        .filter((pl.col("words").list.len() == 0) | (pl.col("words").list.set_intersection("theirs").list.len() > 0))
        .join(enrolments.select("reader", right="number"), on=["reader", "right"], how="anti")
    )
    zeros = bare("number") == bare("right")
    as_written = pl.when(pl.col("number").str.len_chars() < pl.col("right").str.len_chars())
    kind = pl.when(zeros).then(as_written.then(pl.lit("zeros_lost")).otherwise(pl.lit("zeros_added"))).otherwise("kind")
    meant = pl.when(zeros).then("right").otherwise("meant")
    says = kind.replace_strict(KINDS).str.replace("{meant}", meant, literal=True)
    return rows.select(
        "place",
        "person",
        "call",
        state=pl.when(zeros).then(pl.lit("zeros")).otherwise(pl.lit("wrong")),
        why=pl.format("{} is {}", "number", says),
        nowhere=~pl.col("right").is_in(enrolments["number"].unique().implode()),
    ).sort("place", "person")
