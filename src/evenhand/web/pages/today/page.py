"""Routes of Today: the findings, settling them, what is settled, and opening it again."""

from __future__ import annotations

from datetime import date
from typing import Annotated

from fastapi import APIRouter, Query, Request
from starlette.responses import RedirectResponse, Response

from evenhand.jobs.settling import open_again, settle, settled_findings
from evenhand.jobs.today import standing_of_period
from evenhand.terms.words import counted
from evenhand.web import addresses  # noqa: F401  (routes below hold days)
from evenhand.web.desk import AtDesk
from evenhand.web.forms import Answers, EveryAnswer, IncompleteForm, answer, way_back
from evenhand.web.pages.today import view
from evenhand.web.show import MenuEntry, show

__all__ = ["MENU", "ROUTES"]

MENU = MenuEntry("Today", "/", 1)
ROUTES = APIRouter()


@ROUTES.get("/")
def today(
    request: Request,
    desk: AtDesk,
    show_only: str = "",
    kind: str = "",
    reader: str = "",
    period: Annotated[date | None, Query()] = None,
) -> Response:
    """Show what needs a person, in the period payroll waits for or that which holds a date.

    At most one of the other three parameters narrows it.
    """
    reckoning, found = desk.reckoning_of_period(period), desk.today_of(period)
    is_awaited = found.period == desk.reckoning.period()
    narrowed = view.FindingFilter(show_only == "pay", kind, reader, None if is_awaited else found.period.first)
    shown = view.view(found, narrowed, desk.reckoning, standing_of_period(reckoning, found))
    return show(request, "pages/today/page.html", shown=shown)


@ROUTES.post("/settle")
def settle_findings(request: Request, desk: AtDesk, answers: Answers, every: EveryAnswer) -> Response:
    """Put each finding that is named aside, with who decided and why."""
    author = answer(answers, "author", "say who settles the finding")
    reason = answer(answers, "reason", "say why the finding may stand")
    keys = [key for key in every.get("key", ()) if key]
    if not keys:
        raise IncompleteForm("no finding was named or marked; nothing was changed.")
    day = _period(answers)
    reckoning = desk.reckoning_of_period(day)
    found = settle(desk.workspace, reckoning, keys, author=author, reason=reason, as_of=desk.now(), period_day=day)
    request.state.session.author = author
    says = found[0].says if len(found) == 1 else f"{counted(len(found), 'finding')}; each is opened again by itself."
    request.state.session.notice = f"Settled by {author}: {says}"
    return RedirectResponse(way_back(answers, "/"), 303)


def _period(answers: Answers) -> date | None:
    """Return the first day of the pay period that a form is about; None for the one payroll waits for."""
    written = answers.get("period", "")
    try:
        return date.fromisoformat(written) if written else None
    except ValueError as fault:
        raise IncompleteForm(f'"{written}" is no day of a pay period; open the page again.') from fault


@ROUTES.get("/settled")
def settled(request: Request, desk: AtDesk, period: Annotated[date | None, Query()] = None) -> Response:
    """Show what was settled, with every answer given; `period` leads back to where it was come from."""
    listed = settled_findings(desk.reckoning.snapshot.settled)
    return show(request, "pages/today/settled.html", listed=listed, zone=desk.zone, period=period)


@ROUTES.post("/settled/open")
def open_settled(request: Request, desk: AtDesk, answers: Answers) -> Response:
    """Open a settled finding again, with who decided and why."""
    author = answer(answers, "author", "say who opens the finding again")
    reason = answer(answers, "reason", "say why it is opened again")
    key = answer(answers, "key", "no finding was named")
    opened = open_again(desk.workspace, key, author=author, reason=reason, as_of=desk.now())
    request.state.session.author = author
    request.state.session.notice = f"Opened again by {author}: {opened.says or opened.key}"
    return RedirectResponse(way_back(answers, "/settled"), 303)
