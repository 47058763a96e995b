"""What a correction asks for, and the rows that make it: the correction itself, or those that take one back."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Any

import polars as pl

from evenhand import reconcile
from evenhand.jobs.reckoning import Reckoning
from evenhand.terms.columns import Frame
from evenhand.terms.correction_rules import reason_under
from evenhand.terms.languages import sentence, told
from evenhand.terms.records import Refusal, Unknown

__all__ = ["NO_CORRECTION", "CorrectionRequest", "CorrectionRows", "attribution_row", "holders_of", "rows_of"]

NO_CORRECTION = sentence("there is no correction {number}; `evenhand hours why` lists those of a day.")
CHANGED = {"add": "at", "direct": "direction", "attribute": "to"}
"""What may be changed of a correction of each kind; of an added punch its direction too."""


@dataclass(frozen=True)
class CorrectionRequest:
    """A correction as asked for.

    `add` wants `at`, `leave_out` a `punch`, `direct` a `punch` and a `direction`. `withdraw` takes the `correction` of
    that number back, or puts it back where that is one that took another back. `change` takes it back and makes
    another in its place: an added punch `at` another time or in another `direction`, another `direction` said, an
    attribution `to` another person. `rule` names what the correction rests on (CORRECTION_RULES), '' where on none.
    """

    action: str
    person: str
    author: str
    reason: str
    punch: int | None = None
    at: datetime | None = None
    direction: str | None = None
    correction: int | None = None
    to: str | None = None
    rule: str = ""


@dataclass(frozen=True)
class CorrectionRows:
    """The rows of CORRECTIONS, without numbers, that make what is asked for; which punches, and when the first is."""

    rows: list[dict[str, Any]]
    punches: list[int]
    at: int


def rows_of(reckoning: Reckoning, asked: CorrectionRequest, person: str, as_of: datetime) -> CorrectionRows:
    """Return what is asked for as rows; raises Refusal where it is not whole, or not about this person."""
    if not asked.author.strip() or not asked.reason.strip():
        raise Refusal(told("a correction is made by somebody and for a reason; give both."))
    if asked.at is not None and asked.at > as_of:
        raise Refusal(
            told("{time} lies in the future; only a punch that has happened can be added.", time=asked.at.isoformat())
        )
    if asked.action in ("withdraw", "change"):
        return _taking_back(reckoning, asked, person, as_of)
    at = _instant_of(reckoning, asked, person)
    row = _row(asked, as_of, person=person, punch=asked.punch, direction=asked.direction, at=_seconds(asked.at))
    # what an added punch will be numbered is known only once it is made, and nobody else can have it
    return CorrectionRows([row], [asked.punch] if asked.punch is not None else [], at)


def _taking_back(reckoning: Reckoning, asked: CorrectionRequest, person: str, as_of: datetime) -> CorrectionRows:
    made, number = reckoning.snapshot.corrections, asked.correction
    if number is None:
        raise Refusal(
            told("say which correction is meant; `evenhand hours why` lists those of a day with their numbers.")
        )
    if number not in made["correction"]:
        raise Unknown(told(NO_CORRECTION, number=number))
    root_number = reconcile.roots(made, [number])[number]
    root = made.filter(pl.col("correction") == root_number).row(0, named=True)
    punch = -root_number if root["action"] == "add" else root["punch"]
    at = _when(reckoning, root, punch)
    if person not in _concerned(reckoning, made, root, punch):
        raise Refusal(
            told(
                "correction {number} is not about {person}; `evenhand hours why` lists those of a day.",
                number=number,
                person=person,
            )
        )
    back = _row(asked, as_of, action="withdraw", person=root["person"], punch=punch, withdraws=number)
    if asked.action == "withdraw":
        return CorrectionRows([back], [punch], at)
    if root_number != number:
        raise Refusal(
            told(
                "correction {number} takes another one back; take it back itself instead of changing it.", number=number
            )
        )
    instead = _row(asked, as_of, **_changed(reckoning, asked, root))
    return CorrectionRows([back, instead], [punch], int(instead["at"] or at))


def _changed(reckoning: Reckoning, asked: CorrectionRequest, root: dict[str, Any]) -> dict[str, Any]:
    """Return what the correction in its place says."""
    kept = {name: root[name] for name in ("action", "person", "punch", "at", "direction")}
    match root["action"]:
        case "add" if (asked.at or asked.direction) and not asked.to:
            return kept | {"at": _seconds(asked.at) or root["at"], "direction": asked.direction or root["direction"]}
        case "direct" if asked.direction and not (asked.at or asked.to):
            return kept | {"direction": asked.direction}
        case "attribute" if asked.to and not (asked.at or asked.direction):
            to = str(reckoning.snapshot.find_person(asked.to)["person"])
            holder = holders_of(reckoning, [root["punch"]]).get(root["punch"])
            return kept | {"person": to, "holder": holder}
    raise Refusal(
        told(
            "of an added punch the time or the direction can be changed, of a direction that, of an attribution the "
            "person; what was left out is put back by taking that correction back."
        )
    )


def holders_of(reckoning: Reckoning, punches: list[int]) -> dict[int, str]:
    """Return whose number each punch came under by the roster; '' where that is nobody, or several people."""
    held = reckoning.snapshot.recorded.select("punch").with_columns(reckoning.holders.cast(pl.String).alias("holder"))
    return dict(held.filter(pl.col("punch").is_in(punches)).with_columns(pl.col("holder").fill_null("")).iter_rows())


def _row(asked: CorrectionRequest, as_of: datetime, **says: Any) -> dict[str, Any]:
    empty = dict.fromkeys(("punch", "at", "direction", "withdraws", "holder"))
    said = {"author": asked.author.strip(), "reason": _reason(asked), "made_at": int(as_of.timestamp())}
    return {"action": asked.action, **empty, **said, **says}


def _reason(asked: CorrectionRequest) -> str:
    return reason_under(asked.rule, asked.action, asked.reason.strip())


def attribution_row(
    punch: int, person: str, holder: str | None, author: str, reason: str, as_of: datetime
) -> dict[str, Any]:
    """Return the row of CORRECTIONS, without its number, that gives a punch to a person, or to nobody by ''."""
    asked = CorrectionRequest("attribute", person, author, reason)
    return _row(asked, as_of, person=person, punch=punch, holder=holder)


def _seconds(at: datetime | None) -> int | None:
    return int(at.timestamp()) if at else None


def _when(reckoning: Reckoning, root: dict[str, Any], punch: int) -> int:
    """Return when the punch is; of one that is stored no longer, when it was corrected."""
    if root["at"] is not None:
        return int(root["at"])
    rows = reckoning.snapshot.recorded.filter(pl.col("punch") == punch)
    added = reckoning.snapshot.corrections.filter(-pl.col("correction") == punch)
    return int(next(iter([*rows["at"], *added["at"].drop_nulls(), root["made_at"]])))


def _concerned(reckoning: Reckoning, made: Frame, root: dict[str, Any], punch: int) -> set[str]:
    """Return whom a correction is about: whoever it or another of its punch names, and whose that is."""
    named = made.filter((pl.col("punch") == punch) | (pl.col("correction") == root["correction"]))["person"]
    has = reckoning.attribution.attributed.filter(pl.col("punch") == punch)["person"]
    return {*named, *has, *holders_of(reckoning, [punch]).values()} - {""}


def _instant_of(reckoning: Reckoning, asked: CorrectionRequest, person: str) -> int:
    """Return when the corrected punch is, having checked that the request is whole and about this person."""
    if asked.action == "add":
        if asked.at is None or asked.punch is not None:
            raise Refusal(told("to add a punch, give the time it should have, and no punch."))
        return int(asked.at.timestamp())
    if asked.punch is None or asked.at is not None:
        raise Refusal(told("to leave a punch out or direct it, give the punch's number, and no time."))
    if (asked.action == "direct") != (asked.direction is not None):
        raise Refusal(told("a direction, in or out, is given when a punch is directed, and only then."))
    of = reckoning.snapshot
    # What was left out stays the person's, so that it can be directed, and counts, again.
    said = of.standing_corrections.filter(pl.col("action") != "leave_out")
    policy = of.settings.policy
    held = reconcile.attribute(
        of.recorded, of.holding, of.readers, said, policy=policy, punches=[asked.punch]
    ).attributed
    mine = held.filter(pl.col("person") == person)
    if mine.height == 0:
        raise Refusal(
            told(
                "punch {number} is not one of {person}'s; `evenhand hours why` lists theirs.",
                number=asked.punch,
                person=person,
            )
        )
    return int(mine["at"][0])
