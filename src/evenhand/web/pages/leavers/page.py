"""Routes of Leavers: the list, one person's way, rounds of removals, holds, erasing; and the retention schedule."""

from __future__ import annotations

from typing import cast
from zoneinfo import ZoneInfo

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from evenhand.jobs.cutting import What
from evenhand.jobs.erasable import Erasable
from evenhand.jobs.erasure import erase
from evenhand.jobs.foreseen_erasure import look_at_erasure
from evenhand.jobs.holds import HOLDS_NO_HAND, decide_hold, holds_of
from evenhand.jobs.leavers import WAY_STANDS, clocked_of, leaver_of, leavers_of
from evenhand.jobs.removal_rounds import plan_removals
from evenhand.jobs.schedule import ALWAYS, PARTS, schedule_of
from evenhand.terms.languages import sentence, told
from evenhand.terms.records import Refusal
from evenhand.web.addresses import in_path
from evenhand.web.desk import AtDesk
from evenhand.web.forms import Answers, EveryAnswer, IncompleteForm, answer
from evenhand.web.pages.leavers import view
from evenhand.web.show import MenuEntry, show

__all__ = ["MENU", "ROUTES"]

MENU = MenuEntry("Leavers", "/leavers", 33)
ROUTES = APIRouter()


@ROUTES.get("/leavers")
def leavers(request: Request, desk: AtDesk) -> Response:
    """Show everybody whose purpose has ended, by what is next."""
    found = leavers_of(clocked_of(desk.reckoning))
    return show(
        request,
        "pages/leavers/page.html",
        shown=view.listed(found),
        hands_by_day=view.hands_by_day,
        day=desk.reckoning.day,
    )


@ROUTES.get("/retention")
def schedule(request: Request, desk: AtDesk) -> Response:
    """Show the public retention schedule, to print and hang up."""
    made = schedule_of(desk.reckoning.snapshot, as_of=desk.now())
    return show(request, "pages/leavers/schedule.html", made=made, titles=PARTS, always=ALWAYS)


@ROUTES.post("/leavers/round")
def plan_round(request: Request, desk: AtDesk, answers: Answers) -> Response:
    """Make a round of removals for today."""
    author = answer(answers, "author", sentence("say who makes the round"))
    now = desk.now()
    made = plan_removals(desk.workspace, now.astimezone(ZoneInfo(desk.zone)).date(), author=author, as_of=now)
    request.state.session.author = author
    if not made.name:
        raise Refusal(told("{why} Nothing else is due.", why=made.left_out[0]))
    notice = told(
        "Round {round} takes off {count:# hand|# hands}. What proves it is a list of each reader, taken afterwards.",
        round=made.name,
        count=made.items.height,
    )
    if made.left_out:
        notice = told("{says} Not in it: {left:row}", says=notice, left=made.left_out)
    request.state.session.notice = notice
    return RedirectResponse(f"/rounds/{made.name}", 303)


@ROUTES.get("/leavers/{person:name}")
def leaver(request: Request, desk: AtDesk, person: str) -> Response:
    """Show one person's whole way."""
    one = leaver_of(clocked_of(desk.reckoning), person)
    return show(
        request,
        "pages/leavers/leaver.html",
        one=one,
        zone=desk.zone,
        says=WAY_STANDS,
        holds=holds_of(desk.reckoning.snapshot.holds, person),
        no_hand=HOLDS_NO_HAND,
        others=view.other_laws,
    )


@ROUTES.post("/leavers/{person:name}/hold")
def hold(request: Request, desk: AtDesk, person: str, answers: Answers) -> Response:
    """Place a hold on somebody's time records, or lift the one whose number is sent."""
    author = answer(answers, "author", sentence("say who decides"))
    reason = answer(answers, "reason", sentence("say why"))
    lifts = answers.get("hold", "")
    made = decide_hold(
        desk.workspace,
        person,
        is_lifted=bool(lifts),
        author=author,
        reason=reason,
        as_of=desk.now(),
        hold=int(lifts) if lifts.isascii() and lifts.isdigit() and len(lifts) < 16 else None,
    )
    request.state.session.author = author
    said = told("Hold {number} is lifted by {name}.", number=made.hold, name=author)
    if not lifts:
        said = told("Hold {number} is placed by {name}.", number=made.hold, name=author)
    request.state.session.notice = said
    return RedirectResponse(f"/leavers/{in_path(person)}", 303)


@ROUTES.get("/leavers/{person:name}/erase")
def look(request: Request, desk: AtDesk, person: str, what: str = "") -> Response:
    """Show what erasing somebody would do, before anybody does it."""
    seen = look_at_erasure(desk.workspace, person, as_of=desk.now(), what=_what(what))
    request.state.session.keep_shown(seen.shown, seen)
    return show(request, "pages/leavers/erase.html", seen=seen)


@ROUTES.post("/leavers/{person:name}/erase")
def do_erase(request: Request, desk: AtDesk, person: str, answers: Answers, every: EveryAnswer) -> Response:
    """Erase somebody, as it was shown."""
    desk.refuse_later(told("an erasure"))
    author = answer(answers, "author", sentence("say who erases"))
    reason = answer(answers, "reason", sentence("say why"))
    what = _what(answer(answers, "what", sentence("say what is to be erased")))
    seen = request.state.session.looked_at.get(answers.get("would", ""))
    if not isinstance(seen, Erasable) or (seen.person, seen.what) != (person, what):
        seen = look_at_erasure(desk.workspace, person, as_of=desk.now(), what=what)
        _refuse_unseen(seen, answers)
    done = erase(
        desk.workspace,
        person,
        author=author,
        reason=reason,
        as_of=desk.now(),
        what=what,
        despite_others=bool(seen.others) and answers.get("others") == "seen",
        despite_hold=answers.get("hold") == "seen",
        reword=every.get("reword", ()) if not seen.texts or answers.get("texts") == "seen" else None,
        seen=seen,
    )
    request.state.session.looked_at.clear()
    request.state.session.author = author
    request.state.session.notice = done.says
    return RedirectResponse("/leavers", 303)


def _what(text: str) -> What | None:
    if text not in ("", "hand", "all"):
        raise IncompleteForm(told('"{text}" is nothing that is erased; it is hand or all.', text=text))
    return cast("What", text) if text else None


def _refuse_unseen(seen: Erasable, answers: Answers) -> None:
    if answers.get("would") != seen.shown:
        raise Refusal(told("what this would erase is no longer what was shown; nothing was erased, look at it again."))
