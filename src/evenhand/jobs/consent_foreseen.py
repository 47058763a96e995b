"""What somebody is about to say of their hand: whether it can be recorded, how they stand then, and what follows."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import Any

import polars as pl

from evenhand.enrolment.rounds import FINAL
from evenhand.jobs.consent_versions import policy_asked, policy_of
from evenhand.jobs.consents import consent_states
from evenhand.jobs.snapshot import Snapshot
from evenhand.terms.consent import CONSENT_ACTIONS, CONSENT_DECISIONS, IN_FORCE, OTHER_WAY, stands_in_words
from evenhand.terms.languages import sentence, told
from evenhand.terms.lines import as_line
from evenhand.terms.records import Refusal, Unknown
from evenhand.terms.zones import check_reckoned, civil_date

__all__ = ["NUMBER_ALONE", "ConsentAsked", "ConsentForeseen", "foresee_consent", "preview_consent"]

NUMBER_ALONE = sentence("The number alone")
# a sheet of an earlier version was signed all the same, and is recorded as what it is
KINDS = {
    "agree": ("agreed", "due", "lapsed"),
    "refuse": ("refused",),
    "withdraw": ("withdrawn",),
    "other_way": ("other_way",),
}


@dataclass(frozen=True)
class ConsentAsked:
    """What is to be recorded of a person; `said_on` is today where it is not given, `said_at` where it is known.

    A `take_back` names the row that was recorded by mistake and the reason; nothing else asks for one. `stood_by` is
    the supervisor beside whom it was signed at a reader.
    """

    action: str
    person: str
    author: str
    how: str = "desk"
    policy: int | None = None
    said_on: date | None = None
    said_at: int | None = None
    language: str | None = None
    other_way: str | None = None
    takes_back: int | None = None
    reason: str | None = None
    stood_by: str | None = None


@dataclass(frozen=True)
class ConsentForeseen:
    """How a person stands before and after, in words, and what follows; `known` is the row that says so already."""

    person: str
    name: str
    action: str
    said_on: date
    called: str
    before: str
    after: str
    follows: tuple[str, ...]
    known: int | None


def preview_consent(snapshot: Snapshot, asked: ConsentAsked, *, as_of: datetime) -> ConsentForeseen:
    """Return how the person stands before and after, and what follows; raises Refusal where it cannot be recorded.

    Who records it, and why a row is taken back, need not be said yet.
    """
    return _foresee(snapshot, asked, as_of)[0]


def foresee_consent(snapshot: Snapshot, asked: ConsentAsked, as_of: datetime) -> tuple[ConsentForeseen, dict[str, Any]]:
    """Return what is foreseen, and the row of CONSENT_DECISIONS that it would be; raises Refusal where it cannot be."""
    foreseen, row = _foresee(snapshot, asked, as_of)
    if not row["author"]:
        raise Refusal(told("what people say is recorded by somebody; say who."))
    if asked.action == "take_back" and not row["reason"]:
        raise Refusal(told("a row is taken back for a reason; say what was mistaken."))
    return foreseen, row


def _foresee(snapshot: Snapshot, asked: ConsentAsked, as_of: datetime) -> tuple[ConsentForeseen, dict[str, Any]]:
    who = snapshot.find_person(asked.person)
    person, name = str(who["person"]), str(who["name"] or who["person"])
    here = _of_person(snapshot, person)
    rules = snapshot.rules.get(who["site"] or "")
    today = civil_date(rules.zone if rules else snapshot.zone, int(as_of.timestamp()))
    row = _row(snapshot, asked, person, name, today, as_of)
    _check(snapshot, asked, row, name, today)
    after = replace(here, consent_decisions=pl.concat([here.consent_decisions, CONSENT_DECISIONS.rows([row])]))
    stood, stands = (consent_states(one, today).row(0, named=True) for one in (here, after))
    known = None if asked.action == "take_back" else _known(snapshot, row)
    if (
        known is None
        and asked.action in KINDS
        and row["said_on"] == today
        and stands["kind"] not in KINDS[asked.action]
    ):
        raise Refusal(
            told(
                "{name} {stands}, which counts over what is dated the same day without a time; date it from the next "
                "day, or take the other row back.",
                name=name,
                stands=stands_in_words(stands),
            )
        )
    version = policy_of(snapshot, row["policy"]).called if row["policy"] is not None else ""
    foreseen = ConsentForeseen(
        person=person,
        name=name,
        action=asked.action,
        said_on=row["said_on"],
        called=version,
        before=stands_in_words(stood),
        after=stands_in_words(stands),
        follows=tuple(_follows(snapshot, who, stood, stands)),
        known=known,
    )
    return foreseen, row


def _of_person(snapshot: Snapshot, person: str) -> Snapshot:
    """Return the snapshot with one person's consent alone, so that each sheet of many costs the same."""
    theirs = ("people", "consent", "consent_takes", "consent_decisions")
    return replace(snapshot, **{name: getattr(snapshot, name).filter(pl.col("person") == person) for name in theirs})


def _row(
    snapshot: Snapshot, asked: ConsentAsked, person: str, name: str, today: date, as_of: datetime
) -> dict[str, Any]:
    said_on = asked.said_on or today
    policy = asked.policy
    if policy is None and asked.action in ("agree", "refuse"):
        in_force = policy_asked(snapshot, snapshot.find_person(person)["site"], said_on)
        policy = in_force.policy if in_force else None
    # what is said at the desk is recorded as it is said; a sheet was signed at some time of its day
    here_and_now = asked.how == "desk" and said_on == today and asked.action != "take_back"
    return {
        "decision": int(snapshot.consent_decisions["decision"].max() or 0) + 1,  # type: ignore[arg-type]
        "action": asked.action,
        "person": person,
        "policy": policy,
        "said_on": said_on,
        "said_at": int(as_of.timestamp()) if here_and_now else asked.said_at,
        "how": asked.how,
        "language": asked.language,
        "other_way": as_line(asked.other_way or NUMBER_ALONE) if asked.action == "other_way" else None,
        "takes_back": asked.takes_back,
        "author": as_line(asked.author),
        "reason": as_line(asked.reason or "") or None,
        "made_at": int(as_of.timestamp()),
        "stood_by": as_line(asked.stood_by or "") or None,
    }


def _check(snapshot: Snapshot, asked: ConsentAsked, row: dict[str, Any], name: str, today: date) -> None:
    if asked.action not in CONSENT_ACTIONS:
        raise Refusal(
            told(
                "{action} is nothing that is recorded; use one of {actions}.",
                action=asked.action,
                actions=", ".join(CONSENT_ACTIONS),
            )
        )
    check_reckoned(row["said_on"])
    if row["said_on"] > today:
        raise Refusal(
            told("{day} is still to come; give the day on which {name} said so.", day=row["said_on"], name=name)
        )
    if asked.action == "agree" and asked.how == "desk":
        raise Refusal(told("a release is given in writing: on paper, or by the person's own hand at a reader."))
    if row["policy"] is not None:
        policy_of(snapshot, row["policy"])
    if asked.action == "take_back":
        _check_take_back(snapshot, asked, row)
    elif asked.takes_back is not None or row["reason"]:
        raise Refusal(told("no reason is asked or kept of what a person says; leave it out."))


def _check_take_back(snapshot: Snapshot, asked: ConsentAsked, row: dict[str, Any]) -> None:
    of = snapshot.consent_decisions.filter(pl.col("decision") == asked.takes_back, pl.col("person") == row["person"])
    if of.is_empty():
        raise Unknown(
            told(
                "nothing numbered {number} is recorded of them; `evenhand consent show` lists all.",
                number=asked.takes_back,
            )
        )
    if asked.takes_back in snapshot.consent_decisions["takes_back"].to_list():
        raise Refusal(told("{number} is taken back already; take that back to restore it.", number=asked.takes_back))


def _known(snapshot: Snapshot, row: dict[str, Any]) -> int | None:
    """Return the row that says the same of the same day, where it is the last of the person's."""
    gone = set(snapshot.consent_decisions["takes_back"].drop_nulls().to_list())
    theirs = snapshot.consent_decisions.filter(
        pl.col("person") == row["person"], pl.col("action") != "take_back", ~pl.col("decision").is_in(list(gone))
    )
    last = theirs.sort("decision").tail(1).rows(named=True)
    same = ("action", "policy", "said_on", "how", "other_way")
    return last[0]["decision"] if last and all(last[0][name] == row[name] for name in same) else None


def _follows(snapshot: Snapshot, who: dict[str, Any], stood: dict[str, Any], stands: dict[str, Any]) -> list[str]:
    """Return what follows for readers and rounds, in sentences."""
    number = who["number"]
    there = snapshot.enrolments.filter(pl.col("number") == number)["reader"].sort().to_list() if number else []
    done = snapshot.outcomes.filter(pl.col("result").is_in(FINAL))
    waits = snapshot.round_items.filter(
        pl.col("person") == who["person"], pl.col("action") != "remove", ~pl.col("item").is_in(done["item"].implode())
    )
    found: list[str] = []
    if stands["kind"] in IN_FORCE and stood["kind"] not in IN_FORCE:
        found.append(
            told("They may be planned and enrolled from then on.")
            if not there
            else told("Their hand may stay enrolled.")
        )
    if stands["kind"] in OTHER_WAY:
        found.append(told("They clock another way, such as by the number alone; punctuality is judged alike."))
        if there:
            found.append(
                told(
                    "{number} is listed at {readers:listed}: it is to come off (Readers lists the steps; `evenhand "
                    "enrol plan` makes a round, and says whom it leaves out and why). Keep the proof.",
                    number=number,
                    readers=there,
                )
            )
    if stands["kind"] not in IN_FORCE and (stands["is_required"] or stands["kind"] in OTHER_WAY):
        rounds = waits["round"].unique().sort().to_list()
        if rounds:
            found.append(told("They wait in round {rounds:listed}, where they are not enrolled.", rounds=rounds))
    return found
