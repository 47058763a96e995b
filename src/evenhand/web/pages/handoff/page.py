"""Routes of Hand-off: what blocks it, writing the files, and taking them away."""

from __future__ import annotations

from datetime import date

from fastapi import APIRouter, Request
from starlette.responses import FileResponse, RedirectResponse, Response

from evenhand.jobs.handoff import hand_off
from evenhand.jobs.making_good import ChangeMadeGood, make_good
from evenhand.jobs.payroll_sample import MOST_BYTES, SampleChecked, check_sample
from evenhand.terms.languages import sentence, told
from evenhand.terms.records import Unknown
from evenhand.terms.zones import check_reckoned
from evenhand.web.desk import AtDesk, Desk
from evenhand.web.forms import Answers, EveryAnswer, IncompleteForm, SentFiles, answer
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
        raise IncompleteForm(told("no sample was chosen; nothing was changed."))
    content = sent[0].file.read(MOST_BYTES + 1)
    checked = check_sample(desk.reckoning.snapshot, sent[0].filename or "", content, answers.get("payroll", ""))
    return _show(request, desk, _period_meant(answers), checked)


@ROUTES.post("/hand-off")
def write(request: Request, desk: AtDesk, answers: Answers) -> Response:
    """Write the files for payroll; despite open findings only where the form says so."""
    author = answer(answers, "author", sentence("say who hands the period off"))
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
    request.state.session.notice = told("Written: {files} and {note}.", files=", ".join(files), note=note)
    return RedirectResponse("/hand-off" + (f"?period={meant}" if meant else ""), 303)


@ROUTES.post("/hand-off/changes")
def settle_changes(request: Request, desk: AtDesk, answers: Answers, every: EveryAnswer) -> Response:
    """Make good what changed in periods that were handed off, each in the way that the form says, for one reason."""
    author = answer(answers, "author", sentence("say who decides"))
    reason = answer(answers, "reason", sentence("say why"))
    asked = [_made_good(answers, period) for period in dict.fromkeys(every.get("period", ()))]
    asked = [one for one in asked if one.way != "later"]
    if not asked:
        raise IncompleteForm(told("say of a period how what changed in it is made good; nothing was changed."))
    made = make_good(desk.workspace, desk.reckonings.current, asked, author=author, reason=reason, as_of=desk.now())
    request.state.session.author = author
    request.state.session.notice = view.all_made_good(made)
    return RedirectResponse("/hand-off", 303)


def _made_good(answers: Answers, period: str) -> ChangeMadeGood:
    """Return how a form makes good what changed in a period, which is named by its first day."""
    way = answer(answers, f"way:{period}", sentence("say how it is to be made good"))
    named = f"person:{period}:"
    people = [name.removeprefix(named) for name, said in answers.items() if name.startswith(named) and said]
    of = answers.get(f"of:{period}", "")
    if not people and of != "all" and way not in ("replace", "later"):
        raise IncompleteForm(told("mark somebody whose change is made good; nothing was changed."))
    return ChangeMadeGood(
        day=_day(period),
        way=way,
        seen=answer(answers, f"seen:{period}", sentence("open the page again")),
        people=() if way == "replace" or of in ("all", str(len(people))) else people,
        despite=answers.get(f"despite:{period}") == "yes",
    )


def _show(request: Request, desk: Desk, period: date | None, checked: SampleChecked | None = None) -> Response:
    reckoning = desk.reckoning_of_period(period)
    shown = view.view(reckoning, desk.today_of(period), checked)
    return show(
        request, "pages/handoff/page.html", shown=shown, turns=view.turns(desk.reckoning, shown.first, shown.last)
    )


def _period_meant(answers: Answers) -> date | None:
    """Return the first day of the period that a form was sent from, None for the one payroll waits for."""
    written = answers.get("period", "")
    return _day(written) if written else None


def _day(written: str) -> date:
    try:
        return check_reckoned(date.fromisoformat(written))
    except ValueError as fault:
        raise IncompleteForm(told("the form does not say of which period; open the page again.")) from fault


@ROUTES.get("/hand-off/{number:int}/{form}")
def download(desk: AtDesk, number: int, form: str) -> Response:
    """Give one written file away; only files that the store knows, under the names it knows."""
    for before in view.handed_off(desk.reckoning.snapshot.handoffs):
        name = before.name_of(form) if before.number == number and before.is_latest else None
        if name is not None and (path := desk.workspace.handoff / name).is_file():
            kind = next(kind for ending, kind in view.MEDIA_TYPES.items() if name.endswith(ending))
            return FileResponse(path, media_type=kind, filename=name)
    raise Unknown(told("this file is no longer in the workspace's handoff folder; write it again."))
