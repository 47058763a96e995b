"""Routes of Together: what may be decided at once, what that would do, making it, and taking all of it back."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Annotated

from fastapi import APIRouter, Query, Request
from starlette.responses import RedirectResponse, Response

from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.stray_decisions import undo_strays
from evenhand.jobs.strays_together import StraysChanged, foresee_strays, give_strays, plain_strays
from evenhand.jobs.together import (
    ProposedCorrection,
    chosen_of,
    correct_together,
    foresee_together,
    open_proposals,
    take_back_together,
)
from evenhand.terms.languages import pattern_of, said_of, sentence, told
from evenhand.terms.records import Refusal
from evenhand.terms.zones import check_reckoned
from evenhand.web.desk import AtDesk, Desk
from evenhand.web.doorkeeper import Undo
from evenhand.web.effects import by_standing
from evenhand.web.forms import Answers, EveryAnswer, IncompleteForm, answer
from evenhand.web.pages.together.view import corrected_in_words, view
from evenhand.web.show import MenuEntry, show

__all__ = ["MENU", "ROUTES"]

MENU = MenuEntry("Together", "/together", 19, is_listed=False)
ROUTES = APIRouter()
GIVEN = "/together/strays"
"""The form that gives strays together, to which a reason that was typed in vain comes back."""


@ROUTES.get("/together")
def together(request: Request, desk: AtDesk, period: Annotated[date | None, Query()] = None) -> Response:
    """Show what may be decided together, in the period payroll waits for or that which holds a date."""
    return _show(request, desk, period)


def _show(request: Request, desk: Desk, period: date | None, refused: Refusal | None = None) -> Response:
    """Show what may be decided together, and why what was asked for there was `refused`."""
    if refused:
        request.state.session.notice = told("{says:begun}", says=said_of(refused))
    names = desk.reckoning.snapshot.names
    shown = view(desk.today_of(period), plain_strays(desk.reckoning))
    status = 409 if refused else 200
    return show(request, "pages/together/page.html", status=status, shown=shown, period=period, names=names)


@ROUTES.get("/together/look")
def look(request: Request, desk: AtDesk, mark: Annotated[Sequence[str], Query()] = (), period: str = "") -> Response:
    """Show what the corrections that were marked would do, before anybody makes them.

    The address holds the marks: whoever comes back to it, after a refusal too, finds them as they were.
    """
    of_period, reckoning, chosen = _chosen(desk, period, mark)
    foreseen = foresee_together(reckoning, [one.asked for one in chosen], as_of=desk.now())
    still_open, handed_off = by_standing(foreseen.changes)
    return show(
        request,
        "pages/together/confirm.html",
        period=of_period,
        names=reckoning.snapshot.names,
        chosen=[(one, corrected_in_words(one)) for one in chosen],
        foreseen=foreseen,
        still_open=still_open,
        handed_off=handed_off,
    )


@ROUTES.post("/together")
def make(request: Request, desk: AtDesk, answers: Answers, every: EveryAnswer) -> Response:
    """Make the corrections that were looked at, all or none."""
    author = answer(answers, "author", sentence("say who makes the corrections"))
    reason = answer(answers, "reason", sentence("say why they are made"))
    period, reckoning, chosen = _chosen(desk, answers.get("period", ""), every.get("mark", ()))
    made = correct_together(
        desk.workspace, reckoning, [one.asked for one in chosen], author=author, reason=reason, as_of=desk.now()
    )
    session = request.state.session
    session.author = author
    session.notice = told(
        pattern_of("{count} correction made by {author}.", "{count:,} corrections made by {author}.", len(made)),
        count=len(made),
        author=author,
    )
    back = (("period", period.isoformat()),) if period else ()
    session.undo = Undo(session.notice, "/together/back", (*(("correction", str(one)) for one in made), *back))
    return _to(period)


@ROUTES.post("/together/back")
def take_back(request: Request, desk: AtDesk, answers: Answers, every: EveryAnswer) -> Response:
    """Take corrections back that were made together, all or none."""
    author = answer(answers, "author", sentence("say who takes them back"))
    reason = answer(answers, "reason", sentence("say why they are taken back"))
    numbers = [int(one) for one in every.get("correction", ()) if one.isdecimal() and len(one) < 12]
    if not numbers:
        raise IncompleteForm(told("no correction was named; nothing was changed."))
    period = _period(answers.get("period", ""))
    made = take_back_together(
        desk.workspace, desk.reckoning_of_period(period), numbers, author=author, reason=reason, as_of=desk.now()
    )
    request.state.session.author = author
    request.state.session.notice = told(
        pattern_of("{count} correction taken back.", "{count:,} corrections taken back.", len(made)), count=len(made)
    )
    return _to(period)


@ROUTES.get("/together/strays")
def look_at_strays(
    request: Request, desk: AtDesk, stray: Annotated[Sequence[str], Query()] = (), period: str = ""
) -> Response:
    """Show what giving the strays that were marked to their likeliest owners would do, before anybody does."""
    try:
        foreseen = foresee_strays(desk.reckoning, stray)
    except StraysChanged as refused:
        return _show(request, desk, _period(period), refused)
    still_open, handed_off = by_standing(foreseen.changes)
    return show(
        request,
        "pages/together/strays.html",
        form=GIVEN,
        period=_period(period),
        foreseen=foreseen,
        still_open=still_open,
        handed_off=handed_off,
    )


@ROUTES.post("/together/strays")
def give(request: Request, desk: AtDesk, answers: Answers, every: EveryAnswer) -> Response:
    """Give the strays that were looked at, all or none."""
    author = answer(answers, "author", sentence("say who confirms"))
    reason = answer(answers, "reason", sentence("say why"))
    period, asked = _period(answers.get("period", "")), every.get("stray", ())
    session = request.state.session
    session.author = author
    try:
        made = give_strays(desk.workspace, desk.reckoning, asked, author=author, reason=reason, as_of=desk.now())
    except StraysChanged as refused:
        session.typed = GIVEN, reason
        return _show(request, desk, period, refused)
    session.notice = told(
        "{count:# stray|# strays} confirmed by {author}. Their next punches go astray until the readers are put "
        "right: the steps stand with each case.",
        count=len(made.given),
        author=author,
    )
    back = (("period", period.isoformat()),) if period else ()
    given = (("stray", one.stray) for one in made.given)
    session.undo = Undo(session.notice, "/together/strays/back", (*given, *back))
    return _to(period)


@ROUTES.post("/together/strays/back")
def return_strays(request: Request, desk: AtDesk, answers: Answers, every: EveryAnswer) -> Response:
    """Return strays to nobody that were given together, all or none."""
    author = answer(answers, "author", sentence("say who undoes it"))
    reason = answer(answers, "reason", sentence("say why"))
    strays = every.get("stray", ())
    undo_strays(desk.workspace, desk.reckoning, strays, author=author, reason=reason, as_of=desk.now())
    request.state.session.author = author
    request.state.session.notice = told(
        "{count:# stray|# strays} returned by {author}.", count=len(strays), author=author
    )
    return _to(_period(answers.get("period", "")))


def _chosen(
    desk: Desk, written: str, marks: Sequence[str]
) -> tuple[date | None, Reckoning, Sequence[ProposedCorrection]]:
    """Return of which period a form is, what follows from the store, and the proposals that were marked in it."""
    period = _period(written)
    offered = open_proposals(desk.today_of(period).cases)
    return period, desk.reckoning_of_period(period), chosen_of(offered, marks)


def _period(written: str) -> date | None:
    try:
        return check_reckoned(date.fromisoformat(written)) if written else None
    except ValueError as fault:
        raise IncompleteForm(told("the form does not say of which period; open the page again.")) from fault


def _to(period: date | None) -> Response:
    return RedirectResponse("/together" + (f"?period={period}" if period else ""), 303)
