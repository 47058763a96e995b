"""Routes of Hand-off: what blocks it, writing the files, and taking them away."""

from __future__ import annotations

from datetime import date

from fastapi import APIRouter, Request
from starlette.responses import FileResponse, RedirectResponse, Response

from evenhand.jobs.closed import Adjusted
from evenhand.jobs.handoff import hand_off, settle_closed
from evenhand.jobs.payroll_sample import MOST_BYTES, SampleChecked, check_sample
from evenhand.terms.records import Unknown
from evenhand.terms.zones import check_reckoned
from evenhand.web.desk import AtDesk, Desk
from evenhand.web.forms import Answers, IncompleteForm, SentFiles, answer
from evenhand.web.pages.handoff import view
from evenhand.web.show import MenuEntry, show

__all__ = ["MENU", "ROUTES"]

MENU = MenuEntry("Hand-off", "/hand-off", 16)
ROUTES = APIRouter()


@ROUTES.get("/hand-off")
def show_handoff(request: Request, desk: AtDesk, period: date | None = None) -> Response:
    """Show what keeps a period from payroll, the one it waits for or another, and what was handed off before."""
    return _show(request, desk, period)


@ROUTES.post("/hand-off/check")
def check(request: Request, desk: AtDesk, answers: Answers, sent: SentFiles) -> Response:
    """Hold a sample of payroll's own against its import definition; nothing of it is kept."""
    if not sent:
        raise IncompleteForm("no sample was chosen; nothing was changed.")
    content = sent[0].file.read(MOST_BYTES + 1)
    checked = check_sample(desk.reckoning.snapshot, sent[0].filename or "", content, answers.get("payroll", ""))
    return _show(request, desk, _period_meant(answers), checked)


@ROUTES.post("/hand-off")
def write(request: Request, desk: AtDesk, answers: Answers) -> Response:
    """Write the files for payroll; despite open findings only where the form says so."""
    author = answer(answers, "author", "say who hands the period off")
    meant = _period_meant(answers)
    made = hand_off(
        desk.workspace,
        desk.reckoning_of_period(meant),
        as_of=desk.now(),
        period_day=meant,
        despite=answers.get("despite") == "yes",
        author=author,
    )
    request.state.session.author = author
    *files, note = [path.name for path in made.paths]
    request.state.session.notice = f"Written: {', '.join(files)} and {note}."
    return RedirectResponse("/hand-off" + (f"?period={meant}" if meant else ""), 303)


@ROUTES.post("/hand-off/changes")
def settle_changes(request: Request, desk: AtDesk, answers: Answers) -> Response:
    """Make good what changed in a period that was handed off, in the way that the form says."""
    author = answer(answers, "author", "say who decides")
    reason = answer(answers, "reason", "say why")
    way = answer(answers, "way", "say how it is to be made good")
    people = [name.removeprefix("person:") for name, said in answers.items() if name.startswith("person:") and said]
    made = settle_closed(
        desk.workspace,
        desk.reckoning,
        _day(answers),
        way=way,
        people=() if way == "replace" or str(len(people)) == answers.get("of") else people,
        seen=answer(answers, "seen", "open the page again"),
        despite=answers.get("despite") == "yes",
        author=author,
        reason=reason,
        as_of=desk.now(),
    )
    request.state.session.author = author
    if isinstance(made, Adjusted):
        where = (
            "The next period's file carries it" if made.way == "next_file" else "Made good outside of payroll's files"
        )
        request.state.session.notice = f"{where}: {made.first} to {made.last}, {', '.join(made.people)}."
    else:
        request.state.session.notice = f"Written: {made.csv.name}, in place of {made.replaces}."
    return RedirectResponse("/hand-off", 303)


def _show(request: Request, desk: Desk, period: date | None, checked: SampleChecked | None = None) -> Response:
    reckoning = desk.reckoning_of_period(period)
    shown = view.view(reckoning, desk.today_of(period), checked)
    return show(
        request, "pages/handoff/page.html", shown=shown, turns=view.turns(desk.reckoning, shown.first, shown.last)
    )


def _period_meant(answers: Answers) -> date | None:
    """Return the first day of the period that a form was sent from, None for the one payroll waits for."""
    return _day(answers) if answers.get("period") else None


def _day(answers: Answers) -> date:
    try:
        return check_reckoned(date.fromisoformat(answers.get("period", "")))
    except ValueError as fault:
        raise IncompleteForm("the form does not say of which period; open the page again.") from fault


@ROUTES.get("/hand-off/{number:int}/{form}")
def download(desk: AtDesk, number: int, form: str) -> Response:
    """Give one written file away; only files that the store knows, under the names it knows."""
    for before in view.handed_off(desk.reckoning.snapshot.handoffs):
        name = before.name_of(form) if before.number == number and before.is_latest else None
        if name is not None and (path := desk.workspace.handoff / name).is_file():
            kind = next(kind for ending, kind in view.MEDIA_TYPES.items() if name.endswith(ending))
            return FileResponse(path, media_type=kind, filename=name)
    raise Unknown("this file is no longer in the workspace's handoff folder; write it again.")
