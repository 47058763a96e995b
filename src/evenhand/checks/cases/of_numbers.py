"""Hands under numbers that are not theirs, hands that must go, and hands that stand nowhere."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Any

import polars as pl

from evenhand.checks.cases.exchanged import each_under_own
from evenhand.checks.cases.telling import (
    CaseTold,
    asked_of_days,
    following,
    of_code,
    on_rounds,
    sentence,
    waiting_on_round,
)
from evenhand.checks.facts import Facts
from evenhand.checks.words import call
from evenhand.enrolment.rounds import DONE, FINAL
from evenhand.terms.cases import CaseStep
from evenhand.terms.languages import Moment, told
from evenhand.terms.records import Finding

__all__ = ["hand_to_go", "not_enrolled", "other_number"]


def other_number(findings: Sequence[Finding], facts: Facts) -> CaseTold:
    """Tell of a hand under another number than its owner's: its punches, its entry, and what they leave missing."""
    strays = of_code(findings, "unattributed_punches", "shared_number", "attribution_overtaken")
    entries = of_code(findings, "wrong_number", "lost_zeros")
    absences = of_code(findings, "no_punches", "missing_punch", "long_span")
    named = [one.person for one in entries] + [one.details.get("proposed") for one in strays]
    person = next((one for one in named if one), None)
    first = (entries or strays or list(findings))[0]
    readers = sorted({reader for one in [*strays, *entries] for reader in _readers(one)})
    right = dict(facts.people.select("person", "number").iter_rows()).get(person or "")
    if any(one.code in ("shared_number", "attribution_overtaken") for one in strays):
        says = next(one.says for one in strays if one.code != "unattributed_punches")
    elif first.code == "lost_zeros":
        says = first.says
    elif person:
        instead = told(" instead of {right}", right=right) if right else ""
        says = told(
            "the hand of {who} seems to stand under {number}{instead}",
            who=call(facts, person),
            number=first.number,
            instead=instead,
        )
        says = _at_readers(readers, says)
    else:
        says = told("a hand stands under {number}, which nobody on the roster holds", number=first.number)
        says = _at_readers(readers, says)
    given, mended = list(_punches_given(strays, facts, person)), list(_entries_mended(entries, facts))
    renumbered = {step.number for step in mended if step.kind == "number"}
    if renumbered:  # with the number, what came under it is theirs by itself
        mended += [_waits_for_the_number(step) for step in given if step.number in renumbered]
        given = [step for step in given if step.number not in renumbered]
    numbers = list(dict.fromkeys([first.number, *(hand["number"] for one in strays for hand in one.hands)]))
    already = [step for number in numbers for step in _given_already(facts, readers, number, strays)]
    steps = [*given, *already, *mended]
    return CaseTold(told("A hand under another number"), (sentence(says), _what_follows(strays, absences)), steps)


def _at_readers(readers: Sequence[str], says: str) -> str:
    return told("At {readers:listed}, {says}", readers=readers, says=says) if readers else says


def _readers(one: Finding) -> Sequence[str]:
    return one.details.get("readers") or ([one.reader] if one.reader else [])


def _what_follows(strays: Sequence[Finding], absences: Sequence[Finding]) -> str:
    days, missing = (len(of_code(absences, *codes)) for codes in (("no_punches",), ("missing_punch", "long_span")))
    same = [
        told("{count:# absence|# absences}", count=days) if days else "",
        told("{count:# missing punch|# missing punches}", count=missing) if missing else "",
    ]
    explained = told(
        "{same:listed} of theirs {days:seems|seem} to be the same hours",
        same=[one for one in same if one],
        days=days + missing,
    )
    punches = sum(len(one.details["punches"]) for one in strays)
    if not punches:
        return sentence(explained) if absences else told("No punch under it is waiting for its owner in this period.")
    counting = any(one.code != "unattributed_punches" for one in strays)
    is_exchanged = any(len(one.hands) > 1 for one in strays)
    count = told("{count:# punch under it|# punches under it}", count=punches)
    if is_exchanged:
        unpaid = told(
            "{punches:# punch under these numbers counts|# punches under these numbers count} for whoever holds each",
            punches=punches,
        )
    elif counting:
        unpaid = told("{count} {punches:counts|count} for whoever holds the number", count=count, punches=punches)
    else:
        unpaid = told("{count} {punches:is|are} paid to nobody yet", count=count, punches=punches)
    return sentence(told("{one}; {other}", one=unpaid, other=explained) if absences else unpaid)


def _punches_given(strays: Sequence[Finding], facts: Facts, person: str | None) -> Iterator[CaseStep]:
    for one in strays:
        whose = one.details.get("proposed") or person
        if one.code == "unattributed_punches":
            count = len(one.details["punches"])
            says = told(
                "Say whose the {count:# punch|# punches} under {number} at {reader} {count:is|are}{guess}.",
                count=count,
                number=one.number,
                reader=one.reader,
                guess=told(
                    "; {count:it seems to be that|they seem to be those} of {who}", count=count, who=call(facts, whose)
                )
                if whose
                else "",
            )
            yield CaseStep("give_punches", says, person=whose, reader=one.reader, number=one.number)
        elif one.code == "shared_number" and one.reader:
            yield from each_under_own(one, facts)
        else:
            yield following(one)


def _waits_for_the_number(step: CaseStep) -> CaseStep:
    says = told(
        "What came under {number} at {reader} is theirs by itself then.", number=step.number, reader=step.reader
    )
    return replace(step, says=says, state="waits", waits_for=told("the number {number}", number=step.number))


def _given_already(
    facts: Facts, readers: Sequence[str], number: str | None, strays: Sequence[Finding]
) -> Iterator[CaseStep]:
    waiting = {(one.reader, one.number) for one in strays if one.code != "shared_number"}
    given = facts.given.filter(pl.col("number") == (number or ""), pl.col("reader").is_in(list(readers)))
    for row in given.iter_rows(named=True):
        if (row["reader"], row["number"]) not in waiting:
            when = told("{at}", at=Moment(row["made_at"], facts.zone))
            yield CaseStep(
                "give_punches",
                told(
                    "{punches:# punch|# punches} under {number} at {reader} were given to {who} by {author}, {when}.",
                    punches=row["punches"],
                    number=row["number"],
                    reader=row["reader"],
                    who=call(facts, row["person"]),
                    author=row["author"],
                    when=when,
                ),
                "done",
                person=row["person"],
                reader=row["reader"],
                number=row["number"],
            )


def _entries_mended(entries: Sequence[Finding], facts: Facts) -> Iterator[CaseStep]:
    """Yield, for each reader that lists the wrong number, the enrolment that mends it and the punch that proves it."""
    for one in entries:
        rights = facts.people.filter(pl.col("person") == one.person)["number"].to_list()
        right = str(rights[0]) if rights and rights[0] else ""
        if one.code == "lost_zeros" and right and len(right) < len(one.number or ""):
            yield CaseStep("number", one.next_step, person=one.person, number=one.number)
            continue
        for reader in sorted(set(one.details["readers"])):
            yield from _enrolled_anew(facts, one, reader, right)


def _enrolled_anew(facts: Facts, one: Finding, reader: str, right: str) -> Iterator[CaseStep]:
    who = call(facts, one.person)
    items = on_rounds(facts, (pl.col("reader") == reader) & pl.col("number").is_in([right, one.number or ""]))
    left = [row for row in items if row["result"] not in FINAL]
    says = told(
        "At {reader}, enrol {who} under {right} and prove it by a punch; only then remove {number}.",
        reader=reader,
        who=who,
        right=right,
        number=one.number,
    )
    step = CaseStep("round", says, person=one.person, reader=reader, number=one.number)
    if left:
        step = waiting_on_round(step, left[0])
    elif items and all(row["result"] in DONE for row in items):
        by = items[-1]["round"]
        if any(row["result"] == "enrolled" for row in items):
            step = replace(
                step, says=told("{says} Round {round} says that it is done.", says=says, round=by), state="done"
            )
        else:  # taken off and nobody enrolled: no number may work for them now
            step = replace(
                step,
                says=told(
                    "{says} Round {round} says that {number} was taken off, and of no enrolment.",
                    says=says,
                    round=by,
                    number=one.number,
                ),
            )
    yield step
    proof = told(
        "A first punch of {who} under {right} at {reader} proves it, and a new list of {reader} without {number}.",
        who=who,
        right=right,
        reader=reader,
        number=one.number,
    )
    yield replace(
        step, kind="proof", says=proof, state="waits", waits_for=told("{who} at {reader}", who=who, reader=reader)
    )


def hand_to_go(findings: Sequence[Finding], facts: Facts) -> CaseTold:
    """Tell of a hand that a reader is to hold no longer: of who left, or clocks another way."""
    first = next((one for one in findings if one.code != "hand_overdue"), findings[0])
    person = str(next(one.person for one in findings if one.person))
    strays = of_code(findings, "unattributed_punches")
    overdue = of_code(findings, "hand_overdue")
    beside = overdue[0].says if overdue and first is not overdue[0] else first.evidence[0]
    if strays:
        punches = sum(len(one.details["punches"]) for one in strays)
        beside = told(
            "{punches:# punch|# punches} came under the number since, and nobody is paid for them", punches=punches
        )
    steps = [*_punches_given(strays, facts, None), *_removals(facts, person)]
    if of_code(findings, "release_ended"):
        steps += _another_way(facts, person)
    rest = of_code(findings, "supervisor_leaving", "gone_from_roster", "few_supervisors", "supervisors_unproved")
    steps += [following(one) for one in rest]
    if not steps:
        steps = [following(one) for one in findings]
    return CaseTold(told("A hand that must go"), (sentence(first.says), sentence(beside)), steps)


def _removals(facts: Facts, person: str) -> Iterator[CaseStep]:
    rows = facts.removals.filter(pl.col("person") == person, pl.col("state") != "proved").to_dicts()
    for row in rows:
        reader, number = row["reader"], row["number"]
        due = (
            told(", which was due by {day}", day=row["day"])
            if row["day"] < facts.today
            else told(" by {day}", day=row["day"])
        )
        take_off = told("Take {number} off {reader}{due}", number=number, reader=reader, due=due)
        step = CaseStep(
            "leavers",
            told("{take_off}: put it on a round of removals.", take_off=take_off),
            "to_do",
            "",
            person,
            reader,
            number,
        )
        if row["state"] == "on_a_round":
            on = row["round"]
            step = replace(
                step,
                kind="round",
                says=told("{take_off}; it is on round {round}.", take_off=take_off, round=on),
                state="waits",
                waits_for=told("the round {round} at {reader}", round=on, reader=reader),
                round=on,
            )
        elif row["state"] == "held" and _is_step(facts, reader, number):
            step = replace(step, kind="round")
        elif row["state"] != "held":
            step = replace(
                step,
                kind="files",
                says=told("Take a list of {reader} made since: it proves that the hand is gone.", reader=reader),
            )
        yield step


def _another_way(facts: Facts, person: str) -> Iterator[CaseStep]:
    """Yield that another way is to be offered to somebody who withdrew or did not agree, and has chosen none yet."""
    said = facts.consent.filter(pl.col("person") == person, pl.col("kind").is_in(("withdrawn", "refused")))
    if said.height and not said["other_way"][0]:
        says = told(
            "Offer {who} another way to clock, and record on Consent what they choose; punctuality is judged alike.",
            who=call(facts, person),
        )
        yield CaseStep("consent", says, person=person)


def _is_step(facts: Facts, reader: str, number: str) -> bool:
    """Whether a number may come off a reader by its steps, which leave out what would take a supervisor too many."""
    which = (pl.col("reader") == reader) & (pl.col("number") == number) & (pl.col("action") == "remove")
    return facts.reader_steps.filter(which).height > 0


def not_enrolled(findings: Sequence[Finding], facts: Facts) -> CaseTold:
    """Tell of somebody whose hand can be laid down nowhere, and of the days that this leaves without a punch."""
    first = of_code(findings, "not_enrolled", "no_number", "too_long")[0]
    absences = of_code(findings, "no_punches", "missing_punch")
    days = sum(one.details.get("days", 1) for one in absences)
    follows = (
        told("{days:# day|# days} without a punch {days:follows|follow} from it", days=days)
        if days
        else first.evidence[0]
    )
    steps = _enrolled_first(facts, first, following(first))
    return CaseTold(
        told("Somebody cannot clock"), (sentence(first.says), sentence(follows)), [*steps, *asked_of_days(absences)]
    )


def _enrolled_first(facts: Facts, one: Finding, step: CaseStep) -> Iterator[CaseStep]:
    """Yield the enrolment of whoever is on no reader, at the reader whose steps hold it, and its proof."""
    person = one.person or ""
    enrolling = (pl.col("person") == person) & (pl.col("action") != "remove")
    items = on_rounds(facts, enrolling)
    left = [row for row in items if row["result"] not in FINAL]
    done = [row for row in items if row["result"] == "enrolled"]
    if left:
        on, reader = left[0]["round"], left[0]["reader"]
        where = told("the round {round} at {reader}", round=on, reader=reader)
        says = told("{says} It is on round {round}.", says=step.says, round=on)
        yield replace(_at(step, left[0]), kind="round", says=says, state="waits", waits_for=where, round=on)
    elif done:
        says = told("{says} Round {round} says that it is done.", says=step.says, round=done[-1]["round"])
        yield replace(_at(step, done[-1]), kind="round", says=says, state="done", round=done[-1]["round"])
        yield _first_punch(facts, _at(step, done[-1]))
    elif one.code == "not_enrolled" and person in facts.unreleased:
        yield replace(step, kind="consent")
    else:
        planned = facts.reader_steps.filter(enrolling).to_dicts()
        yield _at(step, planned[0]) if one.code == "not_enrolled" and planned else step


def _at(step: CaseStep, row: dict[str, Any]) -> CaseStep:
    return replace(step, person=row["person"], reader=row["reader"], number=row["number"])


def _first_punch(facts: Facts, step: CaseStep) -> CaseStep:
    who = call(facts, step.person)
    says = told(
        "A first punch of {who} under {number} at {reader} proves it.",
        who=who,
        number=step.number,
        reader=step.reader,
    )
    where = told("{who} at {reader}", who=who, reader=step.reader)
    return replace(step, kind="proof", says=says, state="waits", waits_for=where)
