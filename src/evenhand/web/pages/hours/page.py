"""Routes of Hours: everybody's week, a person's week, a person's day, and correcting it."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Annotated

from fastapi import APIRouter, Query, Request
from starlette.responses import RedirectResponse, Response

from evenhand.jobs.correct import Asked as Correction
from evenhand.jobs.correct import correct, foresee
from evenhand.jobs.hours import day_hours, person_week
from evenhand.jobs.pay import PersonPay, day_pay, pay_of_week
from evenhand.jobs.statement import statement, statement_pdf
from evenhand.terms.records import Refusal
from evenhand.terms.words import as_change
from evenhand.web import addresses  # noqa: F401  (routes below hold days)
from evenhand.web.desk import AtDesk, Desk
from evenhand.web.forms import Answers, answer
from evenhand.web.listing import Asked
from evenhand.web.pages.hours import correcting, day_view, money_view, view
from evenhand.web.show import MenuEntry, show, show_trouble
from evenhand.web.words import in_path

__all__ = ["MENU", "ROUTES"]

MENU = MenuEntry("Hours", "/hours", 6)
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
    """Show everybody's week: the one that holds the date asked for, or the last of the period payroll waits for."""
    today = desk.today()
    begins = view.week_begins(desk.workspace.settings.period.anchor, week or today.period.last)
    ends = begins + timedelta(days=6)
    rows = desk.kept("week rows", begins, lambda: view.week_rows(today.people, desk.weeks(begins, ends).weeks, begins))
    asked = Asked("/hours", q.strip(), sort, order == "down", page, (("week", begins.isoformat()),))
    return show(request, "pages/hours/page.html", shown=view.week(rows, asked, begins))


def _day(request: Request, desk: Desk, person: str, day: date) -> day_view.Shown:
    hours = desk.kept("day", (person, day), lambda: day_hours(desk.workspace, person, day))
    return day_view.day(hours, desk.corrections_on(hours))


@ROUTES.get("/hours/{person:path}/{day:day}")
def day(request: Request, desk: AtDesk, person: str, day: date) -> Response:
    """Show one day, from each punch to each paid second."""
    hours = desk.kept("day", (person, day), lambda: day_hours(desk.workspace, person, day))
    paid = desk.kept(
        "day pay", (person, day), lambda: day_pay(desk.workspace, pay_of_week(desk.workspace, hours.week), hours)
    )
    return show(request, "pages/hours/day.html", shown=_day(request, desk, person, day), worth=paid)


@ROUTES.get("/hours/{person:path}/{day:day}/correct")
def preview(request: Request, desk: AtDesk, person: str, day: date) -> Response:
    """Show what a correction would do, before anybody makes it."""
    shown = _day(request, desk, person, day)
    asked = correcting.read(request.query_params, shown.person["person"], shown.zone, UNSIGNED, UNSIGNED)
    foreseen = _foreseen(request, desk, asked)
    if isinstance(foreseen, Response):
        return foreseen
    return show(
        request,
        "pages/hours/confirm.html",
        shown=correcting.preview(foreseen, shown.zone),
        day=day,
        answers=dict(request.query_params),
    )


def _foreseen(request: Request, desk: Desk, asked: Correction) -> correcting.Foreseen | Response:
    try:
        return foresee(desk.workspace, asked, as_of=desk.now())
    except Refusal as refusal:
        return show_trouble(request, 409, "This cannot be done", str(refusal))


@ROUTES.post("/hours/{person:path}/{day:day}/correct")
def make(request: Request, desk: AtDesk, person: str, day: date, answers: Answers) -> Response:
    """Make a correction and go back to the day."""
    author = answer(answers, "author", "say who makes the correction")
    reason = answer(answers, "reason", "say why it is made")
    shown = _day(request, desk, person, day)
    asked = correcting.read(answers, shown.person["person"], shown.zone, author, reason)
    number, foreseen = correct(desk.workspace, asked, as_of=desk.now())
    moved = correcting.paid_after(foreseen) - correcting.paid_before(foreseen)
    request.state.session.author = author
    request.state.session.notice = f"Correction {number} made by {author}: paid time {as_change(moved)}."
    return RedirectResponse(f"/hours/{in_path(shown.person['person'])}/{day}", 303)


@ROUTES.get("/hours/{person:path}/statement.pdf")
def statement_of(desk: AtDesk, person: str, period: Annotated[date | None, Query()] = None) -> Response:
    """Give away a person's own statement for the pay period that holds a day."""
    made = statement(desk.workspace, person, as_of=desk.now(), period_day=period)
    name = f"statement-{made.first}-to-{made.last}.pdf"
    given = {"content-disposition": f'attachment; filename="{name}"'}
    return Response(statement_pdf(made), media_type="application/pdf", headers=given)


@ROUTES.get("/hours/{person:path}")
def persons_week(request: Request, desk: AtDesk, person: str, week: Annotated[date | None, Query()] = None) -> Response:
    """Show one person's week, day by day."""
    asked = week or desk.today().period.last
    hours = desk.kept("person week", (person, asked), lambda: person_week(desk.workspace, person, asked))
    paid: PersonPay = desk.kept("person pay", (person, asked), lambda: pay_of_week(desk.workspace, hours))
    return show(request, "pages/hours/person.html", shown=view.person_week(hours), money=money_view.money(paid))
