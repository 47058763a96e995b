"""What Today shows of one case: its story, what is at stake, its steps with the place where each is done."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import Any
from urllib.parse import urlencode
from zoneinfo import ZoneInfo

from evenhand.jobs.settling import ANSWERED_ELSEWHERE
from evenhand.terms.cases import Case, CaseStep
from evenhand.terms.languages import DaySpan, sentence, told
from evenhand.terms.open_punches import as_told
from evenhand.terms.records import Finding
from evenhand.web.addresses import in_path

__all__ = ["AwayTogether", "CaseShown", "OfferedPunch", "StepShown", "shown_case"]

MOST_FINDINGS = 20
MOST_TOGETHER = 100
"""As many as somebody looks over at once; the others come when these are settled."""

PLACES = {
    "files": ("/files", told("Open Files")),
    "handoff": ("/hand-off#changed", told("Open Hand-off")),
    "leavers": ("/leavers", told("Open Leavers")),
    "settings": ("/settings", told("Open Settings")),
    "signoff": ("/signoff", told("Open Sign-off")),
}
UNDESCRIBED = ("rules_assumed", "site_without_rules")
STATES = {"to_do": sentence("To do"), "waits": sentence("Waits"), "done": sentence("Done")}


@dataclass(frozen=True)
class OfferedPunch:
    """What the forms of a day begin with: the proposed punch, or none; `which` of two where clocks show its time twice.

    `doubted` are punches there, with their times, of which one may say the wrong way (`is_wrong_way`, and `says_way` is
    the right one) or be one too many.
    """

    person: str
    day: date
    at: str
    on: date
    way: str
    which: str = ""
    doubted: Sequence[tuple[int, str]] = ()
    is_wrong_way: bool = False
    says_way: str = ""


@dataclass(frozen=True)
class StepShown:
    """One step: the words before it, where it is done, and the form that does it in place, if one can.

    `form` is `give` (see what giving punches would do), `add` (see what adding a punch would do, or saying of one that
    is there that it went the other way or is one too many), `round`, or `off_round` (take it back off that). `also` is
    another place where it may be done, with what its link says; both are empty where there is none.
    """

    step: CaseStep
    state: str
    address: str
    label: str
    form: str = ""
    offered: OfferedPunch | None = None
    also: tuple[str, str] = ("", "")


@dataclass(frozen=True)
class AwayTogether:
    """Absences day by day, which one reason may settle; `unlisted` are those beyond what one form may hold."""

    days: Sequence[tuple[str, Sequence[Finding]]]
    unlisted: int


@dataclass(frozen=True)
class CaseShown:
    """A case: `here` comes back to it, `after` leads to the next one.

    `may_stand` are those of its findings that keep pay back and may be settled here for one reason.
    """

    case: Case
    steps: Sequence[StepShown]
    findings: Sequence[Finding]
    unlisted: int
    together: AwayTogether | None
    may_stand: Sequence[Finding]
    here: str
    after: str
    is_open: bool
    is_new: bool


def shown_case(case: Case, *, here: str, after: str, is_open: bool, is_new: bool) -> CaseShown:
    """Return what is shown of a case; an absence whose people may be settled together is listed by day."""
    together = _together(case) if case.kind == "away" else None
    may_stand = (
        [] if together else [one for one in case.findings if one.blocks_pay and one.code not in ANSWERED_ELSEWHERE]
    )
    most = 0 if together else len(case.findings) if is_open else MOST_FINDINGS
    return CaseShown(
        case=case,
        steps=[_step(step, case, here) for step in case.steps],
        findings=case.findings[:most],
        unlisted=0 if together else len(case.findings) - len(case.findings[:most]),
        together=together,
        may_stand=may_stand[:MOST_FINDINGS],
        here=here,
        after=after,
        is_open=is_open,
        is_new=is_new,
    )


def _step(step: CaseStep, case: Case, here: str) -> StepShown:
    state = (
        told("Waits for {waits_for}", waits_for=step.waits_for)
        if step.state == "waits" and step.waits_for
        else told(STATES[step.state])
    )
    address, label = _place(step, case)
    beside, says = _planned(step, case) if step.state == "to_do" else ("", "")
    address, also = _coming_back(address, here), (_coming_back(beside, here), says)
    shown = StepShown(step, state, address, label, also=also)
    if step.state == "waits" and step.kind == "round" and step.reader and step.person and step.number:
        return replace(shown, form="off_round")
    if step.state != "to_do":
        return shown
    if step.kind == "give_punches" and step.person:
        return replace(shown, form="give")
    if step.kind == "round" and step.reader and step.person and step.number:
        return replace(shown, form="round")
    if step.kind == "ask_day" and step.person and step.day:
        finding = next((one for one in case.findings if (one.person, one.day) == (step.person, step.day)), None)
        if finding is not None and finding.code == "missing_punch":
            return replace(shown, form="add", offered=_offered(finding, step))
    return shown


def _coming_back(address: str, here: str) -> str:
    """Return an address that knows the case it is opened from."""
    place, mark, point = address.partition("#")
    asked = "&" if "?" in place else "?"
    return place and place + asked + urlencode({"back": here}) + mark + point


def _planned(step: CaseStep, case: Case) -> tuple[str, str]:
    """Return where the enrolments of a step are planned for a day, and what the link says; nothing for other steps."""
    look = {"look": "yes"}
    match step.kind:
        case "round" if case.kind == "not_enrolled" and step.person:
            return f"/enrolment/plan?{urlencode({'people': step.person} | look)}#seen", told("Plan their enrolment")
        case "hands" if step.person and any(one.code == "enrol_again" for one in case.findings):
            again = {"people": step.person, "again": step.person}
            return f"/enrolment/plan?{urlencode(again | look)}#seen", told("Plan their enrolment")
        case "reader_steps" if step.reader:
            there = urlencode({"reader": step.reader} | look)
            return f"/enrolment/plan?{there}#seen", told("Plan what is to be done at {reader}", reader=step.reader)
    return "", ""


def _place(step: CaseStep, case: Case) -> tuple[str, str]:
    """Return where a step is done, and what its link says."""
    person, reader = in_path(step.person or ""), in_path(step.reader or "")
    match step.kind:
        case "give_punches" if step.state == "done":
            return "/strays#decided", told("See what was given")
        case "give_punches" if step.reader and step.number:
            return f"/strays/{in_path(f'{step.reader}/{step.number}')}", told("See the evidence")
        case "give_punches":
            return "/strays", told("Open Strays")
        case "ask_day" if step.person and step.day:
            return f"/hours/{person}/{step.day.isoformat()}", told("See {day}", day=step.day)
        case "consent":
            return (f"/consent/people/{person}" if step.person else "/consent"), told("Open Consent")
        case "number" if step.person and step.number:
            asked = urlencode({"person": step.person, "number": step.number})
            return f"/change-number?{asked}", told("Give them {number}", number=step.number)
        case "hands" if step.person:
            return f"/hands/person/{person}", told("See the hand")
        case "leavers" if step.person:
            return f"/leavers/{person}", told("Open Leavers")
        case "round" if step.round and step.reader:
            return f"/rounds/{in_path(step.round)}/{reader}", told("Open the round at {reader}", reader=step.reader)
        case "settings" if site := next(filter(None, (one.details.get("site") for one in case.findings)), ""):
            if case.kind in UNDESCRIBED:
                return f"/settings/change?{urlencode({'table': 'site', 'site': site})}", told("Describe the site")
            return f"/settings/site/{in_path(site)}", told("See {name}", name=site)
        case "handoff" if case.kind == "period_passed_over":
            return f"/hand-off?period={case.findings[0].subject}", told("Open Hand-off")
        case "files" | "handoff" | "leavers" | "settings" | "signoff":
            return PLACES[step.kind]
        case _ if step.reader:
            return f"/readers/{reader}", told("See {name}", name=step.reader)
        case _ if step.person:
            return f"/people/{person}", told("See the person")
    return "", ""


def _offered(finding: Finding, step: CaseStep) -> OfferedPunch:
    """Return what the forms of a day begin with: the one time that is proposed, else no time, and what is doubted."""
    assert step.person is not None
    assert step.day is not None
    zone, ways = finding.details["zone"], finding.details["missing"]
    proposals: list[Mapping[str, Any]] = finding.details["proposals"]
    timed = [one for one in proposals if one["at"] is not None and one["way"] in ("in", "out")]
    only = ways[0] if len(set(ways)) == 1 else ""
    offered = OfferedPunch(step.person, step.day, "", step.day, only)
    if len(timed) == 1:
        at = datetime.fromtimestamp(timed[0]["at"], ZoneInfo(zone))
        which = "second" if at.fold else "first"
        offered = replace(offered, at=f"{at:%H:%M}", on=at.date(), way=timed[0]["way"], which=which)
    suspect = next((one for one in proposals if one["kind"] in ("wrong_way", "too_many")), None)
    if suspect is not None:
        doubted = [(suspect["suspect"], as_told(suspect["suspect_at"], zone, step.day))]
        is_wrong_way = suspect["kind"] == "wrong_way"
        return replace(offered, doubted=doubted, is_wrong_way=is_wrong_way, says_way=suspect["way"] or "")
    if len(ways) > 1 and only:  # two the same way in a row: one of them may say it wrongly
        punches = zip(finding.details["punches"], finding.details["at"], strict=True)
        doubted = [(punch, as_told(at, zone, step.day)) for punch, at in punches]
        return replace(offered, doubted=doubted, is_wrong_way=True, says_way=only)
    return offered


def _together(case: Case) -> AwayTogether:
    by_days: dict[tuple[date, date], list[Finding]] = {}
    listed = case.findings[:MOST_TOGETHER]
    for finding in listed:
        if finding.code == "no_punches" and finding.day is not None:
            until = date.fromisoformat(finding.details["until"])
            by_days.setdefault((finding.day, until), []).append(finding)
    days = [
        (told("{day}", day=first) if first == last else told("{days}", days=DaySpan(first, last)), theirs)
        for (first, last), theirs in sorted(by_days.items())
    ]
    return AwayTogether(days, len(case.findings) - len(listed))
