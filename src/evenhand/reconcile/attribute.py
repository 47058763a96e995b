"""Give each accepted punch to the one person who held its number as its shift began, and apply corrections."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

import numpy as np
import polars as pl

from evenhand.reconcile.coded import UNKNOWN, CodedPunches, Codes, coded, codes_of, in_order, sole_owners, with_added
from evenhand.reconcile.edges import held_as_of
from evenhand.reconcile.holdings import sole_holdings
from evenhand.reconcile.withdrawals import standing
from evenhand.terms.columns import Frame
from evenhand.terms.languages import told
from evenhand.terms.records import Refusal
from evenhand.terms.settings import Policy
from evenhand.terms.tables import ATTRIBUTED, RECORDED

__all__ = ["Attribution", "attribute", "holders"]

STANDARD = Policy()


@dataclass(frozen=True)
class Attribution:
    """Accepted punches: `attributed` (ATTRIBUTED, by person, time and punch) and `unattributed` (rows of RECORDED).

    Refused presentations and punches that a correction leaves out are in neither.
    """

    attributed: Frame
    unattributed: Frame


def attribute(
    recorded: Frame,
    people: Frame,
    readers: Frame,
    corrections: Frame,
    *,
    policy: Policy = STANDARD,
    held: pl.Series | None = None,
    numbers: Collection[str] | None = None,
    punches: Collection[int] | None = None,
) -> Attribution:
    """Return the accepted punches of `recorded` with whom each is attributed to, corrections applied.

    A punch without an outcome was accepted. It is attributed to the one person on the roster who holds its number and
    was employed on the civil day, at the reader, on which its shift began (`holders`); a number that two people hold
    that day, that only leavers hold, that nobody holds, or a punch from a reader that is not listed, leaves it
    unattributed.
    Corrections that stand (`withdrawals.standing`): the last one for a punch decides whether it counts; the last
    `direct` says which way it went, the last `attribute` whose it is, where an empty person returns it to whoever holds
    its number. An `add` is a punch of its own, numbered minus the correction.

    `held` are the `holders` of `recorded`, where they are known already.
    Where `numbers` or `punches` is given, only punches keyed under these numbers and these punches themselves are
    attributed: the result is that of everything, without the other punches.
    Raises Refusal where an added punch has no zone to stand in.
    """
    corrections = standing(corrections)
    if numbers is not None or punches is not None:
        wanted = recorded["number"].is_in(list(numbers or ())) | recorded["punch"].is_in(list(punches or ()))
        # whoever began a shift is told by the other punches under its number
        alike = recorded["number"].is_in(recorded.filter(wanted)["number"].unique().implode())
        held = holders(recorded.filter(alike), people, readers, policy).filter(wanted.filter(alike))
        recorded = recorded.filter(wanted)
        corrections = _about(recorded, corrections, list(punches or ()))
    left_out = _left_out(corrections).implode()
    accepted = pl.col("outcome").fill_null("accepted") == "accepted"
    counts = recorded.select(accepted & ~pl.col("punch").is_in(left_out)).to_series()
    added = _added(corrections, people, readers).filter(~pl.col("punch").is_in(left_out))
    said = _said_whose(corrections)
    held = holders(recorded, people, readers, policy) if held is None else held
    codes = coded(recorded, readers, [people["person"], said["said"], added["person"]])
    owner = codes_of(held, codes.people).copy()  # what corrections say is written into it
    _give(owner, codes, said)
    owner[~counts.to_numpy()] = UNKNOWN
    unattributed = recorded.select(RECORDED.names).filter(counts & pl.Series(owner == UNKNOWN))
    attributed = in_order(*with_added(codes, owner, added))
    return Attribution(_directed(attributed, _last_said(corrections, "direct", "direction")), unattributed)


def holders(recorded: Frame, people: Frame, readers: Frame, policy: Policy = STANDARD) -> pl.Series:
    """Return the one person who held the number of each row of `recorded` as its shift began, whatever came of it.

    Days of employment bound shifts, not punches: what follows midnight in a shift that begins on somebody's last day is
    theirs, and what lies on somebody's first day in a shift that began before it is not. `policy` says how long
    somebody may be in, or out, within one shift. Rows are as given, people an enumeration; null where nobody, or
    several, held it. Corrections change nothing here: a hand was compared with the reference of the number that was
    keyed, whoever the punch is given to afterwards.
    """
    spans = sole_holdings(people, readers["zone"].unique())
    everybody = spans["person"].unique().sort()
    as_of = held_as_of(recorded, spans, policy)
    judged = recorded.select("reader", "number", "direction").with_columns(at=as_of)
    owner = sole_owners(judged, readers, spans, everybody)
    held = pl.Series("person", owner).set(pl.Series(owner == UNKNOWN), None)
    return held.cast(pl.UInt32).cat.to(pl.Enum(everybody))


def _about(recorded: Frame, corrections: Frame, punches: list[int]) -> Frame:
    """The corrections of these rows and punches."""
    touched = pl.concat([recorded["punch"], pl.Series("punch", punches, dtype=pl.Int64)]).unique().implode()
    made = pl.when(pl.col("action") == "add").then(-pl.col("correction")).otherwise(pl.col("punch"))
    return corrections.filter(made.is_in(touched))


def _left_out(corrections: Frame) -> pl.Series:
    said = corrections.filter(pl.col("punch").is_not_null()).sort("correction").unique("punch", keep="last")
    return said.filter(pl.col("action") == "leave_out")["punch"]


def _last_said(corrections: Frame, action: str, column: str) -> Frame:
    return (
        corrections.filter(pl.col("action") == action, pl.col("punch").is_not_null())
        .sort("correction")
        .unique("punch", keep="last")
        .select("punch", said=column)
    )


def _said_whose(corrections: Frame) -> Frame:
    return _last_said(corrections, "attribute", "person").filter(pl.col("said").fill_null("") != "")


def _give(owner: Codes, codes: CodedPunches, said: Frame) -> None:
    """Give the punches somebody attributed to whom they said; one from a reader that is not listed stays nobody's."""
    if not said.height:
        return
    at = np.flatnonzero(codes.punch_in(said["punch"]) & (codes.zone != UNKNOWN))
    named = pl.Series(codes.punch[at]).replace_strict(said["punch"], said["said"], return_dtype=pl.String)
    owner[at] = codes.people.search_sorted(named).to_numpy()


def _added(corrections: Frame, people: Frame, readers: Frame) -> Frame:
    added = corrections.filter(pl.col("action") == "add")
    whose = people.filter(pl.col("person").is_in(added["person"].implode()))
    placed = added.join(_zones_of_people(whose, readers), on="person", how="left")
    everywhere = readers["zone"].unique().to_list()
    if len(everywhere) == 1:
        placed = placed.with_columns(pl.col("zone").fill_null(everywhere[0]))
    lost = placed.filter(pl.col("zone").is_null())
    if lost.height:
        raise Refusal(
            told(
                "correction {correction} adds a punch for {person}, whose site has no reader, so its time zone is "
                "not known; give the person a site that has a reader.",
                correction=lost["correction"][0],
                person=lost["person"][0],
            )
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
        .sort("len", "zone", descending=[True, False])
        .unique("site", keep="first", maintain_order=True)
    )
    return people.join(of_site, on="site", how="inner").select("person", "zone").unique("person")


def _directed(attributed: Frame, said: Frame) -> Frame:
    if not said.height:
        return attributed
    return (
        attributed.join(said, on="punch", how="left", maintain_order="left")
        .with_columns(direction=pl.coalesce("said", "direction"))
        .select(ATTRIBUTED.names)
    )
