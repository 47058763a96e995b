"""The way out where a hand stands under somebody else's number: each enrolled under their own, then their punches."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

import polars as pl

from evenhand.checks.cases.telling import following, on_rounds, waiting_on_round
from evenhand.checks.facts import Facts
from evenhand.checks.words import call
from evenhand.enrolment.rounds import FINAL
from evenhand.terms.cases import CaseStep
from evenhand.terms.languages import told
from evenhand.terms.records import Finding

__all__ = ["each_under_own"]


def each_under_own(one: Finding, facts: Facts) -> Iterator[CaseStep]:
    """Yield how the hands of a finding at a reader come under their own numbers, what proves it, and their punches.

    Hands under each other's numbers, two or more in a ring, are enrolled in one visit; of one hand under another's
    number its own enrolment comes first. Where the reader's steps do not hold that, the finding's own step is told.
    """
    hands, reader = one.hands, one.reader or ""
    concerned = dict.fromkeys(hand[who] for hand in hands for who in ("hand", "holder"))
    numbers = dict(facts.people.filter(pl.col("person").is_in(list(concerned))).select("person", "number").iter_rows())
    there = (pl.col("reader") == reader) & (pl.col("action") != "remove")
    theirs = there & pl.col("person").is_in(list(concerned)) & pl.col("number").is_in([*filter(None, numbers.values())])
    planned = facts.reader_steps.filter(theirs)["person"].to_list()
    whom = [person for person in concerned if person in planned]
    is_ring = len(hands) > 1
    if not whom or (is_ring and len(whom) < len(concerned)):
        yield following(one)
    else:
        yield from _enrolled(one, facts, {person: numbers[person] for person in whom}, theirs)
    for hand in hands:
        if hand["punches"]:
            yield _given(facts, reader, hand)


def _enrolled(one: Finding, facts: Facts, numbers: dict[str, str], theirs: pl.Expr) -> Iterator[CaseStep]:
    """Yield the enrolments, one step on one round, and what proves them; `theirs` are these people's items there."""
    hands, reader = one.hands, one.reader or ""
    whom = [told("{who} under {number}", who=call(facts, who), number=number) for who, number in numbers.items()]
    if len(hands) > 1:
        says = told(
            "At {reader}, enrol {whom:listed} in one visit, one right after the other; nobody leaves before each has "
            "keyed their own number and was accepted.",
            reader=reader,
            whom=whom,
        )
    else:
        says = told(
            "At {reader}, see whose hand is accepted under {number}; enrol {whom:listed}, each once the one before was "
            "accepted under their own number.",
            reader=reader,
            number=one.number,
            whom=whom,
        )
    # a ring goes on the round whole, whoever of it is named; else the hand that stands under the number is
    person = one.person if len(hands) > 1 else hands[0]["hand"]
    step = CaseStep("round", says, person=person, reader=reader, number=one.number)
    items = on_rounds(facts, theirs)
    left = [row for row in items if row["result"] not in FINAL]
    enrolled = {row["person"] for row in items if row["result"] == "enrolled"}
    if left:
        step = waiting_on_round(step, left[0])
    elif enrolled >= numbers.keys():
        by = items[-1]["round"]
        done = told("{says} Round {round} says that it is done.", says=says, round=by)
        step = replace(step, says=done, state="done", round=by)
    yield step
    names = [call(facts, person) for person in numbers]
    proof = told(
        "A first punch of {names:listed} at {reader}, each under their own number, proves it, and a new list of "
        "{reader}.",
        names=names,
        reader=reader,
    )
    where = told("{names:listed} at {reader}", names=names, reader=reader)
    yield replace(step, kind="proof", says=proof, state="waits", waits_for=where)


def _given(facts: Facts, reader: str, hand: Mapping[str, Any]) -> CaseStep:
    says = told(
        "{count:# punch|# punches} under {number} at {reader} {count:counts|count} for {holder}: give {hand} what is "
        "theirs, on Strays where it is asked there, else on Hours.",
        count=hand["punches"],
        number=hand["number"],
        reader=reader,
        holder=call(facts, hand["holder"]),
        hand=call(facts, hand["hand"]),
    )
    return CaseStep("give_punches", says)
