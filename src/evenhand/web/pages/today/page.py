"""Routes of Today: the cases with their findings, putting steps on a round, settling and opening again."""

from __future__ import annotations

from datetime import date
from typing import Annotated

from fastapi import APIRouter, Query, Request
from starlette.responses import RedirectResponse, Response

from evenhand.jobs.listed_before import compare_with_earlier
from evenhand.jobs.off_a_round import steps_on_round, take_off_round
from evenhand.jobs.on_a_round import put_on_round
from evenhand.jobs.settling import open_all_again, settle, settled_findings
from evenhand.jobs.today import standing_of_period
from evenhand.terms.languages import pattern_of, sentence, told
from evenhand.web import hubs
from evenhand.web.addresses import in_path  # and routes below hold days
from evenhand.web.desk import AtDesk
from evenhand.web.doorkeeper import Leads, Undo
from evenhand.web.forms import Answers, EveryAnswer, IncompleteForm, answer, way_back
from evenhand.web.pages.today import begin, view
from evenhand.web.show import MenuEntry, show

__all__ = ["MENU", "ROUTES"]

MENU = MenuEntry("Today", "/", 11)
ROUTES = APIRouter()


@ROUTES.get("/")
def today(
    request: Request,
    desk: AtDesk,
    show_only: str = "",
    kind: str = "",
    reader: str = "",
    period: Annotated[date | None, Query()] = None,
    page: Annotated[int, Query(ge=0, le=100_000)] = 1,
    opened: Annotated[str, Query(alias="open")] = "",
    then: str = "",
    hub: str = "",
) -> Response:
    """Show what needs a person, in the period payroll waits for or that which holds a date.

    At most one of `show_only`, `kind` and `reader` narrows it. The case `open` stands open; where it is done, `then`.
    It was opened from the page `hub`. Page 0 holds all of them, to print.
    """
    reckoning, found = desk.reckoning_of_period(period), desk.today_of(period)
    if not found.people.height and not found.readers.height:
        return show(request, "pages/today/begin.html", steps=begin.steps(reckoning.snapshot))
    is_awaited = found.period == desk.reckoning.period()
    first = None if is_awaited else found.period.first
    narrowed = view.CaseFilter(show_only == "pay", kind, reader, first, page, opened, then, hubs.among(hub))
    changed = compare_with_earlier(desk.workspace, found) if is_awaited else None
    shown = view.view(found, narrowed, desk.reckoning, standing_of_period(reckoning, found), changed)
    return show(request, "pages/today/page.html", shown=shown)


@ROUTES.post("/settle")
def settle_findings(request: Request, desk: AtDesk, answers: Answers, every: EveryAnswer) -> Response:
    """Put each finding that is named aside, with who decided and why."""
    author = answer(answers, "author", sentence("say who settles the finding"))
    reason = answer(answers, "reason", sentence("say why the finding may stand"))
    session, back = request.state.session, way_back(answers, "/")
    keys = [key for key in every.get("key", ()) if key]
    if not keys:
        session.author, session.typed = author, (back, reason)
        session.notice = told("Nothing was marked, so nothing was settled: mark what may stand. Your reason is kept.")
        return RedirectResponse(back, 303)
    day = _period(answers)
    reckoning = desk.reckoning_of_period(day)
    found = settle(desk.workspace, reckoning, keys, author=author, reason=reason, as_of=desk.now(), period_day=day)
    session.author = author
    says = (
        found[0].says
        if len(found) == 1
        else told("{count:# finding|# findings}; each is opened again by itself.", count=len(found))
    )
    session.notice = told("Settled by {author}: {says}", author=author, says=says)
    session.undo = Undo(session.notice, "/settled/open", (*(("key", key) for key in keys), ("back", back)))
    return RedirectResponse(back, 303)


@ROUTES.post("/round")
def put_on_a_round(request: Request, desk: AtDesk, answers: Answers) -> Response:
    """Put a reader's steps for one hand on its next round, and come back."""
    author = answer(answers, "author", sentence("say who puts it on the round"))
    reader = answer(answers, "reader", sentence("say at which reader"))
    number = answer(answers, "number", sentence("say which number is to be taken off"))
    person = answer(answers, "person", sentence("say whose hand it is"))
    put = put_on_round(desk.workspace, desk.reckoning, reader, number, person, author=author, as_of=desk.now())
    request.state.session.author = author
    made = told("made for it") if put.is_new else told("that was planned")
    request.state.session.notice = told(
        "Put on round {name}, {made}, for {day}: {count:# step|# steps} at {reader}.",
        name=put.name,
        made=made,
        day=put.day,
        count=put.items.height,
        reader=reader,
    )
    back = way_back(answers, "/")
    items = (("item", item) for item in put.items["item"])
    notice = request.state.session.notice
    request.state.session.undo = Undo(notice, "/round/off", (("round", put.name), *items, ("back", back)))
    at_reader = f"/rounds/{in_path(put.name)}/{in_path(reader)}"
    ways = (at_reader, told("Open the round at {reader}", reader=reader)), (hubs.round_of(put.name), told("Print it"))
    request.state.session.leads = Leads(notice, ways)
    return RedirectResponse(back, 303)


@ROUTES.post("/round/off")
def take_off_a_round(request: Request, desk: AtDesk, answers: Answers, every: EveryAnswer) -> Response:
    """Take steps back off a round that nobody has begun: those named, or all of a person or number at a reader."""
    author = answer(answers, "author", sentence("say who takes it off the round"))
    if answers.get("item"):
        name, items = answer(answers, "round", sentence("say which round")), list(every["item"])
    else:
        reader = answer(answers, "reader", sentence("say at which reader"))
        name, items = steps_on_round(desk.reckoning, reader, answers.get("number", ""), answers.get("person", ""))
    off = take_off_round(desk.workspace, desk.reckoning, name, items, author=author, as_of=desk.now())
    request.state.session.author = author
    request.state.session.notice = told(
        pattern_of(
            "Taken off round {name} by {author}: {count} step.",
            "Taken off round {name} by {author}: {count:,} steps.",
            off.height,
        ),
        name=name,
        author=author,
        count=off.height,
    )
    if off.height > len(set(items)):
        names = "; ".join(dict.fromkeys(name or number for name, number in off.select("name", "number").iter_rows()))
        request.state.session.notice += " " + told(
            "Hands under each other's numbers come in one visit or not at all, so all of these are off it: {names}.",
            names=names,
        )
    return RedirectResponse(way_back(answers, "/"), 303)


def _period(answers: Answers) -> date | None:
    """Return the first day of the pay period that a form is about; None for the one payroll waits for."""
    written = answers.get("period", "")
    try:
        return date.fromisoformat(written) if written else None
    except ValueError as fault:
        raise IncompleteForm(
            told('"{written}" is no day of a pay period; open the page again.', written=written)
        ) from fault


@ROUTES.get("/settled")
def settled(request: Request, desk: AtDesk, period: Annotated[date | None, Query()] = None) -> Response:
    """Show what was settled, with every answer given; `period` leads back to where it was come from."""
    listed = settled_findings(desk.reckoning.snapshot.settled)
    return show(request, "pages/today/settled.html", listed=listed, zone=desk.zone, period=period)


@ROUTES.post("/settled/open")
def open_settled(request: Request, desk: AtDesk, answers: Answers, every: EveryAnswer) -> Response:
    """Open settled findings again, with who decided and why."""
    author = answer(answers, "author", sentence("say who opens the finding again"))
    reason = answer(answers, "reason", sentence("say why it is opened again"))
    answer(answers, "key", sentence("no finding was named"))
    keys = list(dict.fromkeys(key for key in every["key"] if key))
    opened = open_all_again(desk.workspace, keys, author=author, reason=reason, as_of=desk.now())
    says = (
        (opened[0].says or opened[0].key)
        if len(opened) == 1
        else told("{count:# finding|# findings}", count=len(opened))
    )
    request.state.session.author = author
    request.state.session.notice = told("Opened again by {author}: {says}", author=author, says=says)
    return RedirectResponse(way_back(answers, "/settled"), 303)
