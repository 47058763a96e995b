"""Routes of Hours: everybody's week, a person's week, a person's day, and correcting it."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from typing import Annotated

from fastapi import APIRouter, Query, Request
from starlette.responses import RedirectResponse, Response

from evenhand.jobs.correct import correct, preview_correction
from evenhand.jobs.correction_rows import CorrectionRequest
from evenhand.jobs.history import day_history
from evenhand.jobs.premiums import PREMIUM_KINDS, decide_premium, decided_on, last_decided, preview_premium
from evenhand.jobs.proposed import proposals_of_day, reason_proposed
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.statement import statement, statement_pdf
from evenhand.jobs.statement_codes import issue_code
from evenhand.jobs.suggestion_answers import correct_as_suggested
from evenhand.terms.languages import sentence, told
from evenhand.terms.weeks import weeks_holding
from evenhand.web import addresses  # noqa: F401  (routes below hold days)
from evenhand.web.addresses import in_path
from evenhand.web.desk import AtDesk
from evenhand.web.doorkeeper import Undo
from evenhand.web.forms import Answers, answer, way_back
from evenhand.web.listing import ListQuery
from evenhand.web.pages.hours import correcting, day_view, money_view, owed, view
from evenhand.web.show import MenuEntry, show
from evenhand.web.speaking import speech_at_desk

__all__ = ["MENU", "ROUTES"]

MENU = MenuEntry("Hours", "/hours", 14)
ROUTES = APIRouter()

# A preview is asked for before anybody has signed it; what is written then never reaches the store.
UNSIGNED = "not signed yet"


@ROUTES.get("/hours")
def week(
    request: Request,
    desk: AtDesk,
    week: Annotated[date | None, Query()] = None,
    q: str = "",
    sort: str = "",
    order: str = "",
    page: int = 1,
) -> Response:
    """Show everybody's workweek that holds the date asked for, or the last day of the period payroll waits for."""
    current = desk.reckoning
    held = week or current.period().last
    begins = view.week_begins(current.snapshot.settings.period.anchor, held)
    first, last = weeks_holding(held)
    reckoning = desk.reckoning_over(first, last)
    hours = reckoning.hours_between(first, last)
    rows = reckoning.part(("week rows", held), lambda: view.week_rows(reckoning.snapshot.people, hours.weeks, begins))
    asked = ListQuery("/hours", q.strip(), sort, order == "down", page, (("week", held.isoformat()),))
    not_shown = hours.says_failing if hours.failing.height else ""
    return show(request, "pages/hours/page.html", shown=view.week(rows, asked, held, begins), not_shown=not_shown)


@ROUTES.get("/hours/{person:name}/{day:day}")
def day(request: Request, desk: AtDesk, person: str, day: date) -> Response:
    """Show one day, from each punch to each paid second."""
    reckoning = desk.reckoning_of(day)
    hours = reckoning.person_day(person, day)
    shown = day_view.day(
        hours, day_history(reckoning, hours), proposals_of_day(reckoning, hours), speech_at_desk(request)
    )
    decided = decided_on(reckoning.snapshot, str(hours.week.person["person"]), day)
    return show(
        request,
        "pages/hours/day.html",
        shown=shown,
        worth=reckoning.day_pay(hours),
        decided=decided,
        kinds=PREMIUM_KINDS,
        rules=correcting.RULES,
    )


@ROUTES.get("/hours/{person:name}/{day:day}/correct")
def preview(request: Request, desk: AtDesk, person: str, day: date) -> Response:
    """Show what a correction would do, before anybody makes it."""
    reckoning = desk.reckoning_of(day)
    who, zone = _whose(reckoning, person, day)
    asked = correcting.read(request.query_params, who, zone, UNSIGNED, UNSIGNED)
    foreseen = preview_correction(reckoning, asked, as_of=desk.now())
    history = day_history(reckoning, reckoning.person_day(who, day)) if asked.correction is not None else ()
    return show(
        request,
        "pages/hours/confirm.html",
        shown=correcting.preview(foreseen, zone, history),
        day=day,
        deciding="correct",
        reason=_reason(reckoning, who, day, asked, request.query_params),
        answers=dict(request.query_params),
        last_seen=reckoning.snapshot.last_correction,
        asked_from=way_back(request.query_params, ""),
    )


def _reason(reckoning: Reckoning, person: str, day: date, asked: CorrectionRequest, answers: Mapping[str, str]) -> str:
    """Return the reason that speaks for a correction already, for whoever makes it to keep or to write over."""
    said = correcting.suggestion_of(answers, reckoning, person)
    if said is not None:
        so = told("{name} says so", name=said.said_by)
        return told("{what}: {words}", what=so, words=said.says) if said.says else so
    return reason_proposed(reckoning, person, day, asked)


def _whose(reckoning: Reckoning, person: str, day: date) -> tuple[str, str]:
    """Return who is meant and the zone of their site on that day; Refusal where nobody is `person`."""
    who = reckoning.snapshot.find_person(person)
    return who["person"], reckoning.snapshot.rules_of(who["site"]).on(day).zone


@ROUTES.post("/hours/{person:name}/{day:day}/correct")
def make(request: Request, desk: AtDesk, person: str, day: date, answers: Answers) -> Response:
    """Make a correction and go back to the day."""
    author = answer(answers, "author", sentence("say who makes the correction"))
    reason = answer(answers, "reason", sentence("say why it is made"))
    reckoning = desk.reckoning_of(day)
    who, zone = _whose(reckoning, person, day)
    asked, last_seen = correcting.read(answers, who, zone, author, reason), correcting.last_seen(answers)
    said = correcting.suggestion_of(answers, reckoning, who)
    if said is None:
        made = correct(desk.workspace, reckoning, asked, as_of=desk.now(), last_seen=last_seen)
        desk.reckonings.decided(reckoning, made.after)
    else:
        made = correct_as_suggested(desk.workspace, reckoning, said, asked, as_of=desk.now(), last_seen=last_seen)
    moved = correcting.paid_after(made.foreseen) - correcting.paid_before(made.foreseen)
    request.state.session.author = author
    request.state.session.notice = told(
        "Correction {number} made by {author}: paid time {time:change}.", number=made.number, author=author, time=moved
    )
    own = f"/hours/{in_path(who)}/{day}"
    back = way_back(answers, "/missing" if said is not None else own)
    taking_back = (("action", "withdraw"), ("correction", str(made.number)), ("back", back))
    request.state.session.undo = Undo(request.state.session.notice, f"{own}/correct", taking_back)
    return RedirectResponse(back, 303)


@ROUTES.get("/hours/{person:name}/{day:day}/premium")
def preview_owed(request: Request, desk: AtDesk, person: str, day: date) -> Response:
    """Show what a decision about hours owed would do, before anybody makes it."""
    reckoning = desk.reckoning_of(day)
    asked = owed.read(request.query_params, person, day, UNSIGNED, UNSIGNED)
    foreseen = preview_premium(reckoning, asked, as_of=desk.now())
    decision, correction = last_decided(reckoning.snapshot)
    return show(
        request,
        "pages/hours/confirm.html",
        shown=owed.preview(foreseen, reckoning.snapshot.find_person(person), asked.hours),
        day=day,
        deciding="premium",
        answers=dict(request.query_params),
        last_seen=f"{decision}-{correction}",
        asked_from="",
        reason="",
    )


@ROUTES.post("/hours/{person:name}/{day:day}/premium")
def decide_owed(request: Request, desk: AtDesk, person: str, day: date, answers: Answers) -> Response:
    """Decide about hours owed beside the time worked, and go back to the day."""
    author = answer(answers, "author", sentence("say who decides"))
    reason = answer(answers, "reason", sentence("say why"))
    asked, last_seen = owed.read(answers, person, day, author, reason), owed.last_seen(answers)
    reckoning = desk.reckoning_of(day)
    made = decide_premium(desk.workspace, reckoning, asked, as_of=desk.now(), last_seen=last_seen)
    desk.reckonings.decided(reckoning, made.after)
    request.state.session.author = author
    request.state.session.notice = owed.said(made, author)
    return RedirectResponse(f"/hours/{in_path(made.foreseen.person)}/{day}", 303)


@ROUTES.get("/hours/{person:name}/statement.pdf")
def statement_of(desk: AtDesk, person: str, period: Annotated[date | None, Query()] = None) -> Response:
    """Give away a person's own statement for the pay period that holds a day."""
    current = desk.reckoning
    meant = current.period(period)
    reckoning = desk.reckoning_over(meant.first - timedelta(days=7), meant.last)
    code = issue_code(desk.workspace, reckoning, person, period, as_of=desk.now())
    made = statement(reckoning, person, period_day=period, code=code)
    name = f"statement-{made.first}-to-{made.last}.pdf"
    given = {"content-disposition": f'attachment; filename="{name}"'}
    return Response(statement_pdf(made), media_type="application/pdf", headers=given)


@ROUTES.get("/hours/{person:name}")
def persons_week(request: Request, desk: AtDesk, person: str, week: Annotated[date | None, Query()] = None) -> Response:
    """Show one person's week, day by day."""
    day = week or desk.reckoning.period().last
    paid = desk.reckoning_of(day).person_pay(person, day)
    shown = view.person_week(paid.week, speech_at_desk(request))
    return show(request, "pages/hours/person.html", shown=shown, money=money_view.money(paid))
