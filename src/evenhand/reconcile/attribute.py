"""Give each accepted punch to the one person who held its number on that day, and apply corrections."""

from __future__ import annotations

from dataclasses import dataclass

import polars as pl

from evenhand.reconcile.holdings import sole_holdings
from evenhand.terms.columns import Frame
from evenhand.terms.records import Refusal
from evenhand.terms.tables import OWNED, RECORDED

__all__ = ["Attribution", "attribute"]


@dataclass(frozen=True)
class Attribution:
    """Accepted punches parted in two: `owned` (OWNED, by person and time) and `unowned` (RECORDED rows).

    Refused presentations and punches that a correction leaves out are in neither.
    """

    owned: Frame
    unowned: Frame


def attribute(recorded: Frame, people: Frame, readers: Frame, corrections: Frame) -> Attribution:
    """Return the accepted punches of `recorded` with their owners, corrections applied.

    A punch without an outcome was accepted. Its owner is the one person on the roster who holds its number and
    was employed on that civil day at the reader; a number that two people hold that day, that only leavers
    hold, that nobody holds, or a punch from a reader that is not listed, leaves it unowned.
    Corrections: the last one for a punch decides whether it counts; the last `direct` says which way it went,
    the last `attribute` whose it is, where an empty person returns it to whoever holds its number. An `add` is a
    punch of its own, numbered minus the correction.
    Raises Refusal where an added punch has no zone to stand in.
    """
    zones = readers.unique("reader", keep="first").select("reader", "zone")
    last = corrections.sort("correction").filter(pl.col("punch").is_not_null()).group_by("punch", maintain_order=True)
    left_out = last.last().filter(pl.col("action") == "leave_out").select("punch")
    accepted = recorded.filter(pl.col("outcome").fill_null("accepted") == "accepted")
    if left_out.height:
        accepted = accepted.join(left_out, on="punch", how="anti", maintain_order="left")
    placed = accepted.select("punch", "reader", "number", "at", "direction").join(zones, on="reader", how="left")
    owned = _owned(placed, people, _last_said(corrections, "attribute", "person"))
    unowned = accepted.filter(~pl.col("punch").is_in(owned["punch"].implode())).select(RECORDED.names)
    added = _added(corrections, people, readers).join(left_out, on="punch", how="anti")
    everything = _directed(pl.concat([owned, added]), _last_said(corrections, "direct", "direction"))
    return Attribution(_by_person_and_time(everything), unowned)


def _last_said(corrections: Frame, action: str, column: str) -> Frame:
    return (
        corrections.filter(pl.col("action") == action, pl.col("punch").is_not_null())
        .sort("correction")
        .unique("punch", keep="last")
        .select("punch", said=column)
    )


def _owned(placed: Frame, people: Frame, said: Frame) -> Frame:
    spans = sole_holdings(people, placed["zone"].drop_nulls().unique().to_list())
    by_number = (
        placed.join(spans, on=["number", "zone"], how="inner")
        .filter(pl.col("at") >= pl.col("starts"), pl.col("at") < pl.col("ends"))
        .select(OWNED.names)
    )
    if not said.height:
        return by_number
    by_hand = (
        placed.join(said, on="punch", how="inner")
        .filter(pl.col("zone").is_not_null(), pl.col("said").fill_null("") != "")
        .rename({"said": "person"})
        .select(OWNED.names)
    )
    return pl.concat([by_number.join(by_hand, on="punch", how="anti"), by_hand])


def _added(corrections: Frame, people: Frame, readers: Frame) -> Frame:
    added = corrections.filter(pl.col("action") == "add")
    placed = added.join(_zones_of_people(people, readers), on="person", how="left")
    everywhere = readers["zone"].unique().to_list()
    if len(everywhere) == 1:
        placed = placed.with_columns(pl.col("zone").fill_null(everywhere[0]))
    lost = placed.filter(pl.col("zone").is_null())
    if lost.height:
        raise Refusal(
            f"correction {lost['correction'][0]} adds a punch for {lost['person'][0]}, whose site has no reader, "
            "so its time zone is not known; give the person a site that has a reader."
        )
    return placed.select(
        punch=-pl.col("correction"),
        person="person",
        reader=pl.lit(None, pl.String),
        zone="zone",
        at="at",
        direction="direction",
    )


def _zones_of_people(people: Frame, readers: Frame) -> Frame:
    """The zone most of the site's readers stand in; the first by name where two are equally common."""
    of_site = (
        readers.group_by("site", "zone")
        .len()
        .sort("site", "len", "zone", descending=[False, True, False])
        .unique("site", keep="first", maintain_order=True)
    )
    return people.join(of_site, on="site", how="inner").select("person", "zone").unique("person")


def _directed(owned: Frame, said: Frame) -> Frame:
    if not said.height:
        return owned
    return (
        owned.join(said, on="punch", how="left")
        .with_columns(direction=pl.coalesce("said", "direction"))
        .select(OWNED.names)
    )


def _by_person_and_time(owned: Frame) -> Frame:
    # sorting ten million rows by a text column costs three times as much as sorting them by its rank
    ranks = owned.select("person").unique().sort("person").with_row_index("rank")
    return (
        owned.join(ranks, on="person", how="left")
        .sort("at", "punch")
        .sort("rank", maintain_order=True)
        .select(OWNED.names)
    )
