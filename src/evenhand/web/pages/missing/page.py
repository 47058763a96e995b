"""Routes of Missing punches: the list by supervisor, what they say, and the page on a supervisor's phone."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import UTC, date, datetime
from typing import Annotated, Any
from urllib.parse import urlencode

from fastapi import APIRouter, Query, Request
from starlette.responses import RedirectResponse, Response

from evenhand.jobs.added_turns import spoken_languages
from evenhand.jobs.missing import OpenDay, as_csv, open_days
from evenhand.jobs.missing_answers import take_answers
from evenhand.jobs.suggestion_answers import answer_suggestion
from evenhand.jobs.suggestions import Suggested, suggest
from evenhand.terms.languages import DaySpan, pattern_of, sentence, told
from evenhand.terms.records import Refusal
from evenhand.terms.wall_clock import instant_shown, read_time
from evenhand.terms.zones import check_reckoned
from evenhand.web import addresses  # noqa: F401  (routes below hold names)
from evenhand.web.addresses import in_path
from evenhand.web.desk import AtDesk, Desk
from evenhand.web.forms import Answers, IncompleteForm, SentFiles, answer, number_answer
from evenhand.web.invitations import check_reached, invitation, is_reached
from evenhand.web.pages.missing.view import missing_view
from evenhand.web.show import MenuEntry, show
from evenhand.web.speaking import is_read_by, language_at

__all__ = ["MENU", "ROUTES"]

MENU = MenuEntry("Missing punches", "/missing", 12)
ROUTES = APIRouter()
ASK = sentence("say in words which of the two is meant")
Period = Annotated[date | None, Query()]
DECIDED = {
    "accepted": sentence("Suggestion {number} of {name} is accepted."),
    "declined": sentence("Suggestion {number} of {name} is declined."),
    "withdrawn": sentence("Suggestion {number} of {name} is taken back."),
}


@ROUTES.get("/missing")
def missing(request: Request, desk: AtDesk, period: Period = None, supervisor: str = "", page: int = 1) -> Response:
    """Show the days with open questions, of everybody or of one supervisor's people, and what was said of them."""
    shown = missing_view(desk.reckoning_of_period(period), period, supervisor, page)
    names, lets_in = desk.reckoning.snapshot.names, is_reached(request)
    return show(
        request,
        "pages/missing/page.html",
        shown=shown,
        names=names,
        lets_in=lets_in,
    )


@ROUTES.get("/missing/list.csv")
def as_file(desk: AtDesk, period: Period = None, supervisor: str = "") -> Response:
    """Give the list away as a file, to be filled in."""
    shown = missing_view(desk.reckoning_of_period(period), period, supervisor)
    given = {"content-disposition": f'attachment; filename="missing-{shown.first}-to-{shown.last}.csv"'}
    return Response(as_csv(shown.days).encode("utf-8-sig"), media_type="text/csv; charset=utf-8", headers=given)


@ROUTES.post("/missing/said")
def keep_said(request: Request, desk: AtDesk, answers: Answers) -> Response:
    """Keep what somebody says of a day, entered for them."""
    author = answer(answers, "author", sentence("say who enters it"))
    by = answers.get("supervisor", "") or None
    (made,) = suggest(desk.workspace, desk.reckoning, [_said(desk, answers, "desk", by, author)], as_of=desk.now())
    request.state.session.author = author
    request.state.session.notice = told(
        "Kept as suggestion {number}: {name}, {what}.", number=made.suggestion, name=made.name, what=made.told
    )
    return _back(answers)


@ROUTES.post("/missing/answers")
def hand_in(request: Request, desk: AtDesk, answers: Answers, sent: SentFiles) -> Response:
    """Keep what a list that was filled in says, all of it or none."""
    author = answer(answers, "author", sentence("say who hands it in"))
    if len(sent) != 1:
        raise IncompleteForm(told("choose the one file that was filled in; nothing was kept."))
    name = sent[0].filename or "the file"
    by = answer(answers, "supervisor", sentence("say whose answers they are"))
    content = sent[0].file.read()
    period = _day(answers, "period") if answers.get("period") else None
    reckoning = desk.reckoning_of_period(period)
    made = take_answers(desk.workspace, reckoning, content, name, supervisor=by, author=author, as_of=desk.now())
    request.state.session.author = author
    request.state.session.notice = told(
        pattern_of("Kept: {count} suggestion of {name}.", "Kept: {count:,} suggestions of {name}.", len(made)),
        count=len(made),
        name=made[0].said_by,
    )
    return _back(answers)


@ROUTES.post("/missing/decide")
def decide(request: Request, desk: AtDesk, answers: Answers) -> Response:
    """Decline a suggestion, or answer one in words with the correction that was made of it."""
    author = answer(answers, "author", sentence("say who decides"))
    reason = answer(answers, "reason", sentence("say why"))
    number, correction = number_answer(answers, "suggestion"), number_answer(answers, "correction")
    if number is None:
        raise IncompleteForm(told("the form does not say which suggestion; open the page again."))
    outcome = answer(answers, "outcome", sentence("say what becomes of it"))
    if outcome == "accepted" and correction is None:
        raise IncompleteForm(
            told("correct the day first, and give the number of that correction; nothing was changed.")
        )
    made = answer_suggestion(
        desk.workspace,
        desk.reckoning.snapshot,
        number,
        outcome,
        reason=reason,
        author=author,
        correction=correction,
        as_of=desk.now(),
    )
    request.state.session.author = author
    request.state.session.notice = told(DECIDED[made.state], number=number, name=made.name)
    return _back(answers)


@ROUTES.post("/missing/phone")
def let_in(request: Request, desk: AtDesk, answers: Answers) -> Response:
    """Show the one-time address that opens a supervisor's own list on their phone, and nothing else."""
    check_reached(request)
    of = desk.reckoning.snapshot
    who = of.find_person(answer(answers, "supervisor", sentence("say which supervisor")))
    if not who["is_supervisor"]:
        raise Refusal(told("{name} is no supervisor, as the roster says; nobody was let in.", name=who["name"]))
    return show(request, "pages/missing/let_in.html", name=who["name"], **invitation(request, _place(who["person"])))


@ROUTES.get("/missing/at/{supervisor:name}")
def at_hand(request: Request, desk: AtDesk, supervisor: str) -> Response:
    """Show a supervisor the open days of their own people, on their phone."""
    who = _supervisor(request, desk, supervisor)
    days = open_days(desk.reckoning, None, str(who["person"]))
    period = desk.reckoning.period()
    language = language_at(request)
    return show(
        request,
        "pages/missing/at.html",
        language=language,
        who=who,
        days=days,
        period=DaySpan(period.first, period.last),
    )


@ROUTES.post("/missing/at/{supervisor:name}")
def said_at_hand(request: Request, desk: AtDesk, supervisor: str, answers: Answers) -> Response:
    """Keep what a supervisor says of one of their people's days."""
    who = str(_supervisor(request, desk, supervisor)["person"])
    asked = {(one.person, one.day) for one in open_days(desk.reckoning, None, who)}
    if (answers.get("person"), _day(answers, "day")) not in asked:  # and nobody is named to whoever tries numbers
        raise Refusal(
            told(
                "this page asks about none of that: a supervisor answers for the open days of the people of their own "
                "department, and nobody for themselves; nothing was kept."
            )
        )
    said = _said(desk, answers, "phone", who, "")
    (made,) = suggest(desk.workspace, desk.reckoning, [said], as_of=desk.now())
    request.state.session.notice = told("Kept: {name}, {what}. The desk decides on it.", name=made.name, what=made.told)
    return RedirectResponse(f"{_place(who)}#d-{in_path(made.person)}-{made.day}", 303)


def _supervisor(request: Request, desk: Desk, supervisor: str) -> Mapping[str, Any]:
    """Return whose list is meant (a row of PEOPLE); the page, and what is refused on it, is in their language."""
    of = desk.reckoning.snapshot
    who = of.find_person(supervisor)
    is_read_by(request, spoken_languages(of).get(str(who["person"]), ""))
    return who


def _place(person: object) -> str:
    return f"/missing/at/{in_path(person)}"


def _said(desk: Desk, answers: Answers, way: str, supervisor: str | None, author: str) -> Suggested:
    """Return what a form says of a day."""
    person, day = answer(answers, "person", sentence("say of whom")), _day(answers, "day")
    of = desk.reckoning.snapshot
    zone = of.rules_of(of.find_person(person)["site"]).on(day).zone
    action, says = answers.get("do", "add"), answers.get("says", "")
    if action == "proposed":
        return _as_proposed(desk, answers, person, day, way, supervisor, author)
    at = None
    if suspect := number_answer(answers, "suspect") if action in ("leave_out", "direct") else None:
        at = datetime.fromtimestamp(suspect, UTC)
    elif action == "add" and answers.get("at"):
        on = _day(answers, "on") if answers.get("on") else day
        at = instant_shown(zone, datetime.combine(on, read_time(answers["at"])), ask=ASK)
    action = "look" if at is None else action
    direction = answers.get("direction") or None if action in ("add", "direct") else None
    return Suggested(person, day, action, way, at, direction, says, supervisor, author)


def _as_proposed(
    desk: Desk, answers: Answers, person: str, day: date, way: str, supervisor: str | None, author: str
) -> Suggested:
    """Return that what was proposed is so, as long as it is what the page showed."""
    days = open_days(desk.reckoning, day)
    found: OpenDay | None = next((one for one in days if one.person == person and one.day == day), None)
    offered = found.offered if found else None
    if offered is None or not offered.at or answers.get("shown") != f"{offered.on} {offered.at}":
        raise Refusal(told("what is proposed for this day has changed since it was shown; look at it again."))
    assert found is not None
    civil = datetime.combine(date.fromisoformat(offered.on), read_time(offered.at))
    at = instant_shown(found.zone, civil, offered.which, ask=ASK)
    return Suggested(person, day, "add", way, at, offered.way, answers.get("says", ""), supervisor, author)


def _back(answers: Answers) -> Response:
    kept = {name: answers[name] for name in ("period", "asked") if answers.get(name)}
    if "asked" in kept:
        kept["supervisor"] = kept.pop("asked")
    return RedirectResponse("/missing" + (f"?{urlencode(kept)}" if kept else ""), 303)


def _day(answers: Answers, name: str) -> date:
    written = answer(answers, name, sentence("say of which day"))
    try:
        return check_reckoned(date.fromisoformat(written))
    except ValueError as fault:
        raise IncompleteForm(
            told('"{written}" is no date; write it as 2026-11-09. Nothing was kept.', written=written)
        ) from fault
