"""What the readers' own lists tell: who is missing from them, whose name stands beside a number, and since when."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import polars as pl

from evenhand.linkage.blocking import Pairs
from evenhand.linkage.roster import Flags, PeopleColumns
from evenhand.linkage.strays import Ints, StrayColumns
from evenhand.linkage.tables import PAIRS
from evenhand.linkage.weights.match_weights import Floats
from evenhand.terms.columns import Frame
from evenhand.terms.likeness.names import bearers

__all__ = ["Counts", "NamesBeside", "compare_lists", "names_beside"]

HIRED_BEFORE_ENROLLED_DAYS = 21
LEAST_LISTED, MOST_LISTED = 0.05, 0.98  # being listed never speaks for anybody: that they punch here is the site's part


@dataclass(frozen=True)
class Counts:
    """A pair each: how many of `trials` agreed, and the chance of an agreement by `coincidence`.

    A rare name says more than a common one. Where coincidence is None it is the same for all, and the weights' own u.
    """

    agreements: Ints
    trials: Ints
    coincidence: Floats | None = None


@dataclass(frozen=True)
class NamesBeside:
    """`strays` beside whose number their reader holds a name, and whose it can be (PAIRS)."""

    strays: Ints
    bearers: Frame


def names_beside(strays: StrayColumns, roster: PeopleColumns, enrolments: Frame) -> NamesBeside:
    """Return whom the name beside each stray's number on its reader can be."""
    named = enrolments.filter(pl.col("name").str.strip_chars() != "").select("reader", "number", "name")
    theirs = named.join(strays.keys(), on=["reader", "number"], how="semi")
    told = strays.keys().join(theirs.unique(["reader", "number"], keep="last"), on=["reader", "number"])
    borne = bearers(told["name"], pl.select(person=roster.person, name=roster.name))
    whose = told.join(borne, left_on="name", right_on="written").join(roster.keys(), on="person")
    return NamesBeside(told["stray"].to_numpy(), whose.select(PAIRS.names))


def compare_lists(
    strays: StrayColumns, roster: PeopleColumns, pairs: Pairs, enrolments: Frame, names: NamesBeside, holds: Flags
) -> dict[str, Counts]:
    """Return the agreements called enrolment, name and dates; `holds` are the pairs of a number with its own holder."""
    return {
        "enrolment": _own_number_missing(strays, roster, pairs, enrolments, holds),
        "name": _name_agrees(strays, roster, pairs, names),
        "dates": _hired_shortly_before(strays, roster, pairs, enrolments),
    }


def _own_number_missing(
    strays: StrayColumns, roster: PeopleColumns, pairs: Pairs, enrolments: Frame, holds: Flags
) -> Counts:
    """Whether the own number is missing, beside how many of the same site's people are listed at that reader."""
    listed = enrolments.select("reader", "number").unique()
    site = pl.Series(roster.site)
    own = pl.select(
        reader=strays.reader.gather(pairs.stray),
        number=roster.number.gather(pairs.person),
        site=site.gather(pairs.person),
    )
    of_sites = listed.join(roster.keys().with_columns(site=site).filter(pl.col("number") != ""), on="number")
    shares = (
        of_sites.group_by("reader", "site")
        .len("listed")
        .join(site.value_counts(name="people").rename({site.name: "site"}), on="site")
        .select("reader", "site", share=pl.col("listed") / pl.col("people"))
    )
    there = (
        own.join(listed.with_columns(is_listed=True), on=["reader", "number"], how="left", maintain_order="left")
        .join(shares, on=["reader", "site"], how="left", maintain_order="left")
        .join(listed.select("reader", has_list=True).unique(), on="reader", how="left", maintain_order="left")
    )
    missing = there["is_listed"].is_null().to_numpy()
    tells = there["has_list"].is_not_null().to_numpy() & ~holds
    return Counts(
        agreements=(missing & tells).astype(np.int64),
        trials=((own["number"] != "").to_numpy() & tells).astype(np.int64),
        coincidence=1 - np.clip(there["share"].fill_null(0.0).to_numpy(), LEAST_LISTED, MOST_LISTED),
    )


def _name_agrees(strays: StrayColumns, roster: PeopleColumns, pairs: Pairs, names: NamesBeside) -> Counts:
    told = np.isin(np.arange(strays.size), names.strays)
    alike = np.bincount(names.bearers["stray"].to_numpy(), minlength=strays.size)
    share = np.where(told, np.maximum(alike, 1) / max(roster.size, 1), 0.5)
    return Counts(
        agreements=pairs.are_in(names.bearers).astype(np.int64),
        trials=told[pairs.stray].astype(np.int64),
        coincidence=share[pairs.stray],
    )


def _hired_shortly_before(strays: StrayColumns, roster: PeopleColumns, pairs: Pairs, enrolments: Frame) -> Counts:
    theirs = enrolments.join(strays.keys(), on=["reader", "number"], how="semi").drop_nulls("enrolled_on")
    dated = theirs.unique(["reader", "number"], keep="last")
    on = strays.keys().join(dated, on=["reader", "number"], how="left", maintain_order="left")["enrolled_on"]
    told, day = on.is_not_null().to_numpy(), on.to_physical().cast(pl.Int64).fill_null(0).to_numpy()
    since = day - HIRED_BEFORE_ENROLLED_DAYS
    hired = np.sort(roster.hired)
    many = np.searchsorted(hired, day, side="right") - np.searchsorted(hired, since, side="left")
    share = np.clip(many / max(roster.size, 1), 1 / max(roster.size, 1), 0.95)
    known = roster.hired[pairs.person]
    shortly = (known <= day[pairs.stray]) & (known >= since[pairs.stray])
    tells = told[pairs.stray]
    return Counts(
        agreements=(shortly & tells).astype(np.int64),
        trials=((known > 0) & tells).astype(np.int64),
        coincidence=np.where(told, share, 0.5)[pairs.stray],
    )
