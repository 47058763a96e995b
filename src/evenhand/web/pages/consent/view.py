"""What Consent shows: how everybody stands, the policy's versions, how far asking has come, and one person."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from evenhand.jobs.at_turn import OTHER_WAYS
from evenhand.jobs.campaign import Campaign, campaign_of
from evenhand.jobs.consent import ConsentRecorded, asked_by_code
from evenhand.jobs.consent_foreseen import NUMBER_ALONE, ConsentAsked, ConsentForeseen
from evenhand.jobs.consent_listing import PolicyListed, list_consents, list_policies
from evenhand.jobs.consent_versions import policy_versions
from evenhand.jobs.consents import states_now
from evenhand.jobs.languages import said_in_english
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.snapshot import Snapshot
from evenhand.terms.consent import CONSENT_KINDS, stands_in_words
from evenhand.terms.languages import sentence, told
from evenhand.terms.zones import check_reckoned
from evenhand.web.forms import IncompleteForm, answer
from evenhand.web.listing import Listed, ListQuery, list_rows

__all__ = [
    "KEPT_ANSWERS",
    "STANDS_CALLED",
    "ConsentPage",
    "SiteStands",
    "kind_asked",
    "last_decision",
    "last_seen",
    "page",
    "read",
    "said",
]

STANDS_CALLED: Mapping[str, str] = {
    "agreed": sentence("Agreed"),
    "due": sentence("To agree again"),
    "lapsed": sentence("Counts no longer"),
    "refused": sentence("Did not agree"),
    "withdrawn": sentence("Withdrew"),
    "other_way": sentence("Another way"),
    "nothing": sentence("Nothing said"),
}
"""What each kind is called over a column."""
KEPT_ANSWERS = ("codes", "person", "action", "said_on", "other_way", "takes_back")
MOST_CODES = 400
OTHER_WAYS_KEPT = (NUMBER_ALONE, *OTHER_WAYS)

COLUMNS: Mapping[str, Callable[[Mapping[str, Any]], Any]] = {
    "name": lambda row: (row["name"] or row["person"]).casefold(),
    "site": lambda row: row["site"],
    "kind": lambda row: CONSENT_KINDS.index(row["kind"]),
    "since": lambda row: row["said_on"],
    "due": lambda row: row["due_by"],
}


@dataclass(frozen=True)
class SiteStands:
    """How many people of a site stand in which way, in the order of STANDS_CALLED."""

    site: str
    counts: tuple[int, ...]

    @property
    def everybody(self) -> int:
        """Return how many people there are."""
        return sum(self.counts)


@dataclass(frozen=True)
class ConsentPage:
    """The page: a line for each site, the versions, the last version's asking, and the people asked for."""

    sites: Sequence[SiteStands]
    whole: SiteStands
    policies: Sequence[PolicyListed]
    campaign: Campaign | None
    listed: Listed[Mapping[str, Any]]
    kind: str
    last_seen: int


def kind_asked(written: str) -> str:
    """Return the kind that an address asks for, or '' for everybody."""
    return written if written in STANDS_CALLED else ""


def page(reckoning: Reckoning, asked: ListQuery, kind: str) -> ConsentPage:
    """Return the page as of the reckoning's day, with the people of one kind, or with all."""
    snapshot, on, states = reckoning.snapshot, reckoning.day, states_now(reckoning)
    numbers = dict(snapshot.people.select("person", "number").iter_rows())
    rows: list[Mapping[str, Any]] = [
        {**row, "name": snapshot.names.get(row["person"]), "number": numbers.get(row["person"])}
        for row in list_consents(snapshot, on, states=states).iter_rows(named=True)
    ]
    counted_by = Counter((row["site"] or "", row["kind"]) for row in rows)
    named = sorted({site for site, _ in counted_by})
    sites = [SiteStands(site, tuple(counted_by[site, one] for one in STANDS_CALLED)) for site in named]
    versions = policy_versions(snapshot)
    chosen = [row for row in rows if not kind or row["kind"] == kind]
    listed = list_rows(chosen, asked, COLUMNS, _searched, "name")
    return ConsentPage(
        sites=sites,
        whole=SiteStands("", tuple(sum(of) for of in zip(*(one.counts for one in sites), strict=True))),
        policies=list_policies(snapshot, on),
        campaign=campaign_of(snapshot, versions[-1], on, states) if versions else None,
        listed=_in_words(listed),
        kind=kind,
        last_seen=last_decision(snapshot),
    )


def last_decision(snapshot: Snapshot) -> int:
    """Return the number of the last row that a page of this snapshot knows of."""
    return int(snapshot.consent_decisions["decision"].max() or 0)  # type: ignore[arg-type]


def _in_words(listed: Listed[Mapping[str, Any]]) -> Listed[Mapping[str, Any]]:
    rows = [{**row, "stands": stands_in_words(row)} for row in listed.rows]
    return Listed(rows, listed.found, listed.page, listed.pages, listed.asked)


def _searched(row: Mapping[str, Any]) -> str:
    return " ".join(filter(None, (row["name"], row["person"], row["number"], row["site"])))


def read(answers: Mapping[str, str], snapshot: Snapshot, author: str = "") -> list[ConsentAsked]:
    """Return what a form asks to record: signed sheets by their codes, or what one person says.

    Without an `author` it is only looked at.
    """
    action = answer(answers, "action", sentence("say what was said"))
    said_on = _day(answers.get("said_on", ""))
    if answers.get("codes", "").strip():
        codes = answers["codes"].split()
        if len(codes) > MOST_CODES:
            raise IncompleteForm(
                told(
                    "{count} codes are more than {most} at once; record them in two goes.",
                    count=len(codes),
                    most=MOST_CODES,
                )
            )
        return asked_by_code(snapshot, codes, action, author, said_on)
    person = answer(answers, "person", sentence("key the code of a sheet, or choose a person"))
    return [
        ConsentAsked(
            action=action,
            person=person,
            author=author,
            how="paper" if action in ("agree", "refuse") else "desk",
            said_on=said_on,
            other_way=said_in_english(answers.get("other_way", "").strip(), OTHER_WAYS_KEPT) or None,
            takes_back=_number(answers.get("takes_back", "")),
            reason=answers.get("reason", "").strip() or None,
        )
    ]


def _day(written: str) -> date | None:
    if not written.strip():
        return None
    try:
        return check_reckoned(date.fromisoformat(written.strip()))
    except ValueError as fault:
        raise IncompleteForm(told('"{written}" is no day; write it as 2026-03-04.', written=written)) from fault


def _number(written: str) -> int | None:
    if not written:
        return None
    if not written.isascii() or not written.isdecimal() or len(written) > 18:
        raise IncompleteForm(told('"{written}" is no row\'s number; open the person again.', written=written))
    return int(written)


def last_seen(answers: Mapping[str, str]) -> int:
    """Return the last row that the form's page knew of."""
    return _number(answer(answers, "last_seen", sentence("look at what it does first"))) or 0


def said(made: Sequence[ConsentRecorded]) -> str:
    """Return one sentence on what was recorded."""
    fresh = [one for one in made if one.is_new]
    if len(made) == 1:
        of: ConsentForeseen = made[0].foreseen
        if fresh:
            return told("{name}: {stands}.", name=of.name, stands=of.after)
        return told("{name}: {stands}, as was recorded already.", name=of.name, stands=of.after)
    if len(fresh) < len(made):
        return told(
            "{count:# sheet|# sheets} recorded; {known} were recorded already.",
            count=len(fresh),
            known=len(made) - len(fresh),
        )
    return told("{count:# sheet|# sheets} recorded.", count=len(fresh))
