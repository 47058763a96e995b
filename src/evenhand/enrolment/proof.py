"""Prove a round: an enrolment counts once a hand has been accepted under the right number, a removal while none is."""

from __future__ import annotations

from typing import Any

import polars as pl

from evenhand.terms.columns import Column, Frame, Table

__all__ = ["MANY_PRESENTATIONS", "PROOF", "prove"]

MANY_PRESENTATIONS = 5  # three, and one or two more where they disagree (common practice, no source)
_FEW_SCORES = 20
_SLIPS = 2
_DAY_S = 86_400

PROOF = Table(
    "proof",
    "What the punches say of each item that was done, and of numbers nobody holds",
    (
        Column("item", "text", "The item; empty for a number that could be several people's"),
        Column("reader", "text", "At which reader", required=True),
        Column("person", "text", "Whose hand, where it is known"),
        Column("number", "text", "The number enrolled or removed", required=True),
        Column(
            "kind",
            "text",
            "What was found",
            required=True,
            allowed=(
                "proved",
                "unproved",
                "refused_only",
                "other_number",
                "many_presentations",
                "presentations_disagree",
                "high_first_score",
                "quiet",
                "removed_used",
            ),
        ),
        Column(
            "at",
            "instant",
            "The punch that shows it; the enrolment, where no punch has come",
            unit="s since 1970-01-01T00:00:00Z",
        ),
        Column("score", "score", "Its score", unit="reader's own scale"),
        Column("expected", "score", "What 95 % of the scores accepted there before stay within", unit="same scale"),
        Column("other", "text", "The other number that was keyed"),
        Column("says", "text", "What the scores noted say of the presentations, where they disagree"),
    ),
)


def prove(states: Frame, recorded: Frame, people: Frame, judged: Frame | None = None) -> Frame:
    """Return PROOF for the items done (STATES of rounds), from the punches (RECORDED) of before and after.

    Within a day of an enrolment not yet proved, hands accepted at its reader under a number of nobody on the
    roster (PEOPLE) are `other_number`: of the one unproved person whose number is nearest and at most two slips
    away; where that is nobody or several people, of whom is not said. What was `judged` (JUDGED) of the presentations
    is said where they disagree.
    """
    enrolled = states.filter(pl.col("result") == "enrolled").sort("at")
    removed = states.filter(pl.col("result") == "removed").sort("at")
    punches = recorded.sort("at").with_columns(is_accepted=pl.col("outcome").fill_null("accepted") == "accepted")
    usual = _usual_scores(punches, enrolled)
    apart = {} if judged is None else _disagreeing(judged)
    rows: list[dict[str, Any]] = []
    unproved: list[dict[str, Any]] = []
    for item in enrolled.iter_rows(named=True):
        found = _enrolment(item, punches, usual.get(item["reader"]))
        rows += found
        if item["item"] in apart:
            rows.append(
                _known(item) | {"kind": "presentations_disagree", "at": item["at"], "says": apart[item["item"]]}
            )
        if found[0]["kind"] != "proved":
            unproved.append(item)
    rows += _other_numbers(unproved, states, punches, people)
    rows += [_removal(item, punches) for item in removed.iter_rows(named=True)]
    return PROOF.rows(rows)


def _known(item: dict[str, Any]) -> dict[str, Any]:
    return {name: item[name] for name in ("item", "reader", "person", "number")}


def _enrolment(item: dict[str, Any], punches: Frame, usual: float | None) -> list[dict[str, Any]]:
    under = punches.filter(
        (pl.col("reader") == item["reader"]) & (pl.col("number") == item["number"]) & (pl.col("at") >= item["at"])
    )
    accepted = under.filter("is_accepted")
    if accepted.is_empty():
        kind = "unproved" if under.is_empty() else "refused_only"
        rows = [_known(item) | {"kind": kind, "at": item["at"] if under.is_empty() else under["at"].max()}]
    else:
        first = accepted.row(0, named=True)
        rows = [_known(item) | {"kind": "proved", "at": first["at"], "score": first["score"], "expected": usual}]
        if usual is not None and first["score"] is not None and first["score"] > usual:
            rows.append(rows[0] | {"kind": "high_first_score"})
    if (item["presentations"] or 0) > MANY_PRESENTATIONS:
        rows.append(_known(item) | {"kind": "many_presentations", "at": item["at"]})
    return rows


def _disagreeing(judged: Frame) -> dict[str, str]:
    return dict(judged.filter(pl.col("advice") != "accept").select("item", "says").iter_rows())


def _usual_scores(punches: Frame, enrolled: Frame) -> dict[str, float]:
    """Return what 95 % of the scores accepted at each reader before the round stay within, where there are enough."""
    if enrolled.is_empty():
        return {}
    before = punches.filter(
        pl.col("is_accepted") & (pl.col("at") < enrolled["at"].min()) & pl.col("score").is_not_null()
    )
    counted = before.group_by("reader").agg(pl.len(), usual=pl.col("score").quantile(0.95, "higher"))
    return dict(counted.filter(pl.col("len") >= _FEW_SCORES).select("reader", "usual").iter_rows())


def _other_numbers(
    unproved: list[dict[str, Any]], states: Frame, punches: Frame, people: Frame
) -> list[dict[str, Any]]:
    held = {*people["number"].drop_nulls().to_list(), *states["number"].to_list()}
    rows = []
    for reader in sorted({item["reader"] for item in unproved}):
        here = [item for item in unproved if item["reader"] == reader]
        since = min(item["at"] for item in here)
        until = max(item["at"] for item in here) + _DAY_S
        strays = punches.filter(
            (pl.col("reader") == reader)
            & pl.col("is_accepted")
            & pl.col("at").is_between(since, until)
            & ~pl.col("number").is_in(list(held))
        ).unique("number", keep="first", maintain_order=True)
        rows += [_other_number(here, stray) for stray in strays.iter_rows(named=True)]
    return rows


def _other_number(unproved: list[dict[str, Any]], stray: dict[str, Any]) -> dict[str, Any]:
    from rapidfuzz.distance import OSA

    slips = sorted(
        (OSA.distance(item["number"], stray["number"]), place)
        for place, item in enumerate(unproved)
        if item["at"] <= stray["at"] <= item["at"] + _DAY_S
    )
    near = [unproved[place] for distance, place in slips if distance == slips[0][0] <= _SLIPS]
    whose = _known(near[0]) if len(near) == 1 else {"reader": stray["reader"], "number": stray["number"]}
    return whose | {"kind": "other_number", "at": stray["at"], "score": stray["score"], "other": stray["number"]}


def _removal(item: dict[str, Any], punches: Frame) -> dict[str, Any]:
    after = punches.filter(
        (pl.col("reader") == item["reader"])
        & (pl.col("number") == item["number"])
        & (pl.col("at") > item["at"])
        & pl.col("is_accepted")
    )
    if after.is_empty():
        return _known(item) | {"kind": "quiet"}
    return _known(item) | {"kind": "removed_used", "at": after["at"][0], "score": after["score"][0]}
