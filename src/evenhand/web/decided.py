"""Decisions as pages list them: each in a line, with where what it decided stands, and the way back."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any
from urllib.parse import urlencode

from evenhand.jobs.decision_log import LOG, decision_told
from evenhand.terms.languages import sentence
from evenhand.web import hubs
from evenhand.web.addresses import in_path

__all__ = ["DecisionLine", "decision_line"]


@dataclass(frozen=True)
class DecisionLine:
    """A decision; `address` is where what it decided stands, `back` where and in which words it is taken back.

    Both are empty where there is no such page, or it cannot be taken back. What it `says` begins with a capital where
    it `begins_up`: a file's name stays as it is written.
    """

    kind: str
    table: str
    number: str
    made_at: int
    author: str | None
    person: str | None
    name: str | None
    reader: str | None
    day: date | None
    says: str
    reason: str | None
    stands: bool | None
    taken_back_by: str | None
    begins_up: bool
    address: str
    back: tuple[str, str] | None


def decision_line(row: Mapping[str, Any], names: Mapping[str, str]) -> DecisionLine:
    """Return a decision (a row of LOG) as it is shown."""
    told = {name: row[name] for name in LOG.names if name in DecisionLine.__dataclass_fields__}
    told["says"] = decision_told(row["table"], row["says"])
    return DecisionLine(
        **told,
        begins_up=row["table"] != "settings_texts",
        name=names.get(row["person"] or ""),
        address=_address(row),
        back=_back(row) if _is_open(row) else None,
    )


def _is_open(row: Mapping[str, Any]) -> bool:
    return row["stands"] is not False


def _address(row: Mapping[str, Any]) -> str:
    """Return where what was decided stands."""
    person, about = row["person"], row["about"]
    match row["table"]:
        case "corrections" | "premium_decisions" | "suggestions" | "suggestion_answers" if person and row["day"]:
            return hubs.day_of(person, row["day"])
        case "corrections" | "rejected_attributions" if about:
            return hubs.number(about.rpartition("/")[2])
        case "settled":
            return "/settled"
        case "consent_decisions":
            return f"/consent/people/{in_path(person)}"
        case "consent_policies":
            return f"/consent/policies/{about}"
        case "signoffs":
            return "/signoff"
        case "disputes" | "dispute_answers":
            return "/signoff#disputes"
        case "handoffs" | "adjustments":
            return "/hand-off"
        case "take_decisions":
            return f"/files/takes/{about}" if about else "/files"
        case "holds":
            return f"/leavers/{in_path(person)}"
        case "rounds" | "outcomes" if about:
            return hubs.round_of(about)
        case "settings_texts":
            return "/settings"
        case "practices":
            return "/teaching"
        case "own_steps":
            return f"/rounds/steps/{in_path(about)}"
    return hubs.person(person) if person else ""


def _back(row: Mapping[str, Any]) -> tuple[str, str] | None:
    """Return where a decision that stands is taken back, and what that is called there."""
    person, about = row["person"], row["about"]
    match row["table"]:
        case "corrections" if person and row["day"] and row["count"] == 1:
            ask = urlencode({"action": "withdraw", "correction": row["number"]})
            return f"{hubs.day_of(person, row['day'])}/correct?{ask}", sentence("Take it back")
        case "corrections" if row["kind"] == "attribution":
            return "/strays#decided", sentence("Undo it on Strays")
        case "premium_decisions":
            return hubs.day_of(person, row["day"]), sentence("Decide again")
        case "rejected_attributions":
            return hubs.stray(about), sentence("Decide again")
        case "settled":
            return "/settled", sentence("Open it again")
        case "consent_decisions":
            return f"/consent/people/{in_path(person)}", sentence("Take it back")
        case "signoffs":
            return "/signoff", sentence("Take it back")
        case "take_decisions" if about:
            return f"/files/takes/{about}", sentence("Read it again")
        case "holds":
            return f"/leavers/{in_path(person)}", sentence("Lift or place it")
        case "handoffs":
            return "/hand-off", sentence("Replace it")
        case "settings_texts" if row["author"]:
            return f"/settings/changes/{row['number']}/back", sentence("Take it back")
    return None
