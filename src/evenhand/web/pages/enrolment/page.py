"""Routes of Enrolment day: how it stands, planning one, changing it while it runs, and the line at several readers."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Annotated, Any
from urllib.parse import urlencode

from fastapi import APIRouter, Depends, Request
from starlette.responses import RedirectResponse, Response

from evenhand.jobs.day_seen import change_day, look_at_change, look_at_day, plan_as_shown, prove_rounds_now
from evenhand.jobs.enrolment_day import AskedDay
from evenhand.jobs.queues import QueueSeen, see_coverage, see_queue
from evenhand.jobs.rounds import RoundSeen, see_round
from evenhand.jobs.seen import NotAsSeen
from evenhand.jobs.teaching_cover import lacking_in_plan
from evenhand.terms.languages import said_of, sentence, told
from evenhand.terms.records import Refusal
from evenhand.web.addresses import in_path
from evenhand.web.csv_file import csv_file
from evenhand.web.desk import AtDesk, Desk
from evenhand.web.forms import EveryAnswer, IncompleteForm, answer
from evenhand.web.pages.enrolment import view
from evenhand.web.pages.enrolment.asking import DAY_FIELDS, asked_day, first_of
from evenhand.web.show import MenuEntry, show

__all__ = ["MENU", "ROUTES"]

MENU = MenuEntry("Enrolment day", "/enrolment", 24)
ROUTES = APIRouter()
CHANGED = sentence("The plan would be another by now than the one you were shown; nothing was kept: look again.")


@ROUTES.get("/enrolment")
def enrolment(request: Request, desk: AtDesk) -> Response:
    """Show whom each reader strands, how full they are, and what the punches prove of the rounds."""
    reckoning = desk.reckoning
    seen = see_coverage(desk.workspace, as_of=reckoning.day)
    return show(
        request,
        "pages/enrolment/page.html",
        lines=view.coverage(seen),
        extra=seen.covered.extra.height,
        lacking=[seen.names.get(person, person) for person in seen.covered.lacking],
        rounds=prove_rounds_now(reckoning, desk.workspace, desk.now()),
        zone=desk.zone,
    )


@ROUTES.get("/enrolment/plan")
def preview(request: Request, desk: AtDesk) -> Response:
    """Show the form of a day, and the plan that follows from what is asked; nothing is kept."""
    asked = {"day": [(desk.reckoning.day + timedelta(days=1)).isoformat()], **_asked(request)}
    problem, shown, lacking, zone = "", None, list[str](), desk.zone
    if first_of(asked, "look"):
        try:
            day = _day_to_come(asked_day(asked, desk.reckoning.snapshot), desk)
            planned = look_at_day(desk.workspace, day, as_of=desk.now())
            shown, zone = view.plan(planned), planned.zone
            lacking = lacking_in_plan(desk.reckoning, planned)
        except Refusal as refusal:
            problem = said_of(refusal)
    fields = {name: first_of(asked, name) for name in DAY_FIELDS}
    return show(
        request,
        "pages/enrolment/plan.html",
        fields=fields,
        marked=list(asked.get("reader", ())),
        readers=sorted(desk.reckoning.snapshot.readers["reader"].to_list()),
        problem=problem,
        shown=shown,
        lacking=lacking,
        zone=zone,
    )


@ROUTES.post("/enrolment/plan")
def keep(request: Request, desk: AtDesk, answers: EveryAnswer) -> Response:
    """Keep the plan that was shown, as a round."""
    author = answer(_single(answers), "author", sentence("say who plans the day"))
    session = request.state.session
    session.author = author
    try:
        made = plan_as_shown(
            desk.workspace,
            _day_to_come(asked_day(answers, desk.reckoning.snapshot), desk),
            seen=first_of(answers, "seen"),
            author=author,
            as_of=desk.now(),
        )
    except NotAsSeen:
        session.notice = told(CHANGED)
        kept = {name: list(answers.get(name, ())) for name in (*DAY_FIELDS, "reader")} | {"look": ["yes"]}
        return RedirectResponse(f"/enrolment/plan?{urlencode(kept, doseq=True)}", 303)
    session.notice = told(
        "Round {round} was made by {name}. Its sheets, slips and cards are below, to be printed.",
        round=made.name,
        name=author,
    )
    return RedirectResponse(f"/rounds/{in_path(made.name)}", 303)


@ROUTES.get("/enrolment/change/{name}")
def preview_change(request: Request, desk: AtDesk, name: str) -> Response:
    """Show who is still to come in a round, and the rest of it planned again without whoever is absent."""
    seen = see_round(desk.workspace, name)
    absent = request.query_params.getlist("absent")
    problem, shown, lacking, zone = "", None, list[str](), desk.zone
    if request.query_params.get("look"):
        try:
            planned = look_at_change(desk.workspace, name, absent, as_of=desk.now())
            shown, zone = view.plan(planned), planned.zone
            lacking = lacking_in_plan(desk.reckoning, planned)
        except Refusal as refusal:
            problem = said_of(refusal)
    return show(
        request,
        "pages/enrolment/change.html",
        header=seen.header,
        coming=_still_to_come(seen),
        absent=absent,
        problem=problem,
        shown=shown,
        lacking=lacking,
        zone=zone,
    )


@ROUTES.post("/enrolment/change/{name}")
def change(request: Request, desk: AtDesk, name: str, answers: EveryAnswer) -> Response:
    """Move the rest of a round as it was shown."""
    absent, session = list(answers.get("absent", ())), request.state.session
    author = answer(_single(answers), "author", sentence("say who plans the day"))
    session.author = author
    try:
        change_day(desk.workspace, name, absent, seen=first_of(answers, "seen"), author=author, as_of=desk.now())
    except NotAsSeen:
        session.notice = told(CHANGED)
        asked = urlencode({"absent": absent, "look": ["yes"]}, doseq=True)
        return RedirectResponse(f"/enrolment/change/{in_path(name)}?{asked}", 303)
    session.notice = told(
        "The rest of round {round} was planned again; print its sheets anew, and tell whoever moved.", round=name
    )
    return RedirectResponse(f"/rounds/{in_path(name)}", 303)


@dataclass(frozen=True)
class LineAsked:
    """Which readers share one line, over which days, and what is known of it [s]; the last four weeks unless said."""

    readers: Sequence[str]
    first: date
    last: date
    wait: int
    takes: float
    groups: int


def _line_asked(
    request: Request,
    desk: AtDesk,
    first: date | None = None,
    last: date | None = None,
    wait: int = 120,
    takes: float = 0,
    groups: int = 2,
) -> LineAsked:
    until = last or desk.reckoning.day
    since = first or until - timedelta(days=27)
    if not (0 < wait <= 86_400 and 0 <= takes <= 86_400 and 0 < groups <= 100 and since <= until):
        raise IncompleteForm(
            told("a wait, what one person takes and the groups are above 0, and the first day comes first.")
        )
    return LineAsked(request.query_params.getlist("reader"), since, until, wait, takes, groups)


AskedLine = Annotated[LineAsked, Depends(_line_asked)]


@ROUTES.get("/enrolment/queue")
def queue(request: Request, desk: AtDesk, asked: AskedLine) -> Response:
    """Show the line at readers that share one, over the days asked for."""
    problem, seen = "", None
    if asked.readers:
        try:
            seen = _line(desk, asked)
        except Refusal as refusal:
            problem = said_of(refusal)
    return show(
        request,
        "pages/enrolment/queue.html",
        **vars(asked),
        all_readers=sorted(desk.reckoning.snapshot.readers["reader"].to_list()),
        seen=seen,
        problem=problem,
        asked=urlencode(request.query_params.multi_items()),
    )


@ROUTES.get("/enrolment/queue/times.csv")
def queue_file(desk: AtDesk, asked: AskedLine) -> Response:
    """Give away who waits how long at readers that share one line, by the time of day, as CSV."""
    return csv_file("times", _line(desk, asked).by_time)


def _line(desk: Desk, asked: LineAsked) -> QueueSeen:
    return see_queue(
        desk.workspace,
        asked.readers,
        first=asked.first,
        last=asked.last,
        limit_s=asked.wait,
        service_s=asked.takes or None,
        groups=asked.groups,
    )


def _day_to_come(asked: AskedDay, desk: Desk) -> AskedDay:
    """Return the day that is asked for; raises IncompleteForm where it is over."""
    if asked.day < desk.reckoning.day:
        raise IncompleteForm(told("{day} is over; choose today or a day to come. Nothing was planned.", day=asked.day))
    return asked


def _still_to_come(seen: RoundSeen) -> list[dict[str, Any]]:
    waits = {"try_again", "did_not_come", "passed_over", "undone", None}
    rows = [
        row
        for row in seen.states.iter_rows(named=True)
        if row["action"] != "remove" and row["person"] and row["result"] in waits
    ]
    return list({row["person"]: row for row in sorted(rows, key=lambda row: row["name"] or "")}.values())


def _asked(request: Request) -> Mapping[str, Sequence[str]]:
    return {
        name: request.query_params.getlist(name)
        for name in (*DAY_FIELDS, "reader", "look")
        if name in request.query_params
    }


def _single(answers: Mapping[str, Sequence[str]]) -> dict[str, str]:
    return {name: values[0] for name, values in answers.items() if values}
