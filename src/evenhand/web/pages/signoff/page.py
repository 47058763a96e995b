"""Routes of Sign-off: progress, approvals, papers keyed back, disputes, and the page held at a reader."""

from __future__ import annotations

from datetime import date
from typing import Annotated
from urllib.parse import urlencode

from fastapi import APIRouter, Query, Request
from starlette.responses import RedirectResponse, Response

from evenhand.jobs.added_turns import spoken_languages
from evenhand.jobs.approving import approve
from evenhand.jobs.dispute_answers import answer_dispute
from evenhand.jobs.disputes import open_dispute
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.signing import confirm, take_sign_off_back
from evenhand.jobs.statement_codes import CodeFound, find_code, find_own_code
from evenhand.terms.languages import DaySpan, pattern_of, said_of, sentence, told
from evenhand.terms.records import Refusal
from evenhand.terms.signing import DISPUTED_IN_WORDS
from evenhand.terms.zones import check_reckoned
from evenhand.web.desk import AtDesk, Desk
from evenhand.web.forms import Answers, EveryAnswer, IncompleteForm, answer, number_answer
from evenhand.web.invitations import check_reached, invitation, is_reached
from evenhand.web.pages.signoff import view
from evenhand.web.show import MenuEntry, show
from evenhand.web.speaking import language_at

__all__ = ["MENU", "ROUTES"]

MENU = MenuEntry("Sign-off", "/signoff", 15)
ROUTES = APIRouter()
NO_MACHINE = sentence(
    "no other machine reaches these pages, since they are served to this one alone; stop `evenhand serve` and start it "
    "with --host, --certificate and --key."
)
ANSWERED = {
    "accepted": sentence("Dispute {number} of {name} is accepted."),
    "rejected": sentence("Dispute {number} of {name} is rejected."),
    "withdrawn": sentence("Dispute {number} of {name} is withdrawn."),
    "extended": sentence("Dispute {number} of {name} is extended."),
}
AT_READER = "/signoff/reader"
NO_CODE = sentence("Key the code on your statement of hours.")
TOO_MANY = sentence("Too many codes were keyed wrong here; wait a quarter of an hour, or hand your paper in.")


@ROUTES.get("/signoff")
def signed(request: Request, desk: AtDesk, period: Annotated[date | None, Query()] = None, group: str = "") -> Response:
    """Show who confirmed and approved which hours, and what is disputed."""
    shown = view.period_view(_over(desk, period), period, group)
    outside = is_reached(request)
    return show(request, "pages/signoff/page.html", shown=shown, kinds=DISPUTED_IN_WORDS, lets_in=outside)


@ROUTES.post("/signoff/approve")
def approve_people(request: Request, desk: AtDesk, answers: Answers, every: EveryAnswer) -> Response:
    """Keep that a supervisor approves the hours of the people marked, as they were shown."""
    author, day = answer(answers, "author", sentence("say who enters it")), _day(answers)
    people = list(every.get("person", ()))
    if not people:
        raise IncompleteForm(told("nobody was marked; nothing was changed."))
    reckoning, by = _over(desk, day), answer(answers, "supervisor", sentence("say which supervisor approves"))
    # their own hours stand among those marked, and are left to somebody else
    made = approve(
        desk.workspace,
        reckoning,
        by,
        [one for one in people if one != by] or people,
        day=day,
        seen={name.removeprefix("seen:"): said for name, said in answers.items() if name.startswith("seen:")},
        author=author,
        as_of=desk.now(),
    )
    request.state.session.author = author
    approved = told(
        pattern_of(
            "Approved: the hours of {count} person, {days}.",
            "Approved: the hours of {count:,} people, {days}.",
            len(made.people),
        ),
        count=len(made.people),
        days=DaySpan(made.first, made.last),
    )
    own = told("Those of {by} are for somebody else to approve.", by=by)
    request.state.session.notice = told("{before} {after}", before=approved, after=own) if by in people else approved
    return _back(day, answers.get("group", ""))


@ROUTES.post("/signoff/confirm")
def key_back(request: Request, desk: AtDesk, answers: Answers) -> Response:
    """Keep that whoever signed the paper with a code confirms the hours printed on it."""
    author = answer(answers, "author", sentence("say who keys it back"))
    found = find_code(desk.workspace, answer(answers, "code", sentence("key the code on the paper")), as_of=desk.now())
    made = confirm(desk.workspace, _of(desk, found), found, way="paper", author=author, as_of=desk.now())
    request.state.session.author = author
    request.state.session.notice = told("{name} confirms {days}.", name=made.name, days=DaySpan(made.first, made.last))
    return _back(made.first)


@ROUTES.post("/signoff/withdraw")
def take_back(request: Request, desk: AtDesk, answers: Answers) -> Response:
    """Take a sign-off back."""
    author, number = answer(answers, "author", sentence("say who decides")), number_answer(answers, "number")
    if number is None:
        raise IncompleteForm(told("say which sign-off; nothing was changed."))
    reason = answer(answers, "reason", sentence("say why"))
    made = take_sign_off_back(desk.workspace, number, author=author, reason=reason, as_of=desk.now())
    request.state.session.author = author
    request.state.session.notice = told(
        "Sign-off {number} of {person} counts no longer.", number=made.signoff, person=made.person
    )
    return _back(made.first)


@ROUTES.post("/signoff/disputes")
def keep_dispute(request: Request, desk: AtDesk, answers: Answers) -> Response:
    """Keep what a person says is wrong, entered for them."""
    author = answer(answers, "author", sentence("say who enters it"))
    made = open_dispute(
        desk.workspace,
        desk.reckoning,
        answer(answers, "person", sentence("say whose record it is")),
        kind=answer(answers, "kind", sentence("say what is disputed")),
        says=answer(answers, "says", sentence("say what it should say")),
        day=_day_or_none(answers, "day"),
        line=answers.get("line", ""),
        way="desk",
        author=author,
        as_of=desk.now(),
    )
    request.state.session.author = author
    request.state.session.notice = told(
        "Dispute {number} of {name}, to be answered by {day}.",
        number=made.dispute,
        name=made.name,
        day=made.answer_by,
    )
    return RedirectResponse("/signoff#done", 303)


@ROUTES.post("/signoff/disputes/answer")
def answer_one(request: Request, desk: AtDesk, answers: Answers) -> Response:
    """Answer a dispute."""
    number = number_answer(answers, "dispute")
    if number is None:
        raise IncompleteForm(told("the form does not say which dispute; open the page again."))
    author = answer(answers, "author", sentence("say who answers"))
    made = answer_dispute(
        desk.workspace,
        desk.reckoning,
        number,
        answer(answers, "outcome", sentence("say whether the person is right")),
        reason=answer(answers, "reason", sentence("say why, in words for the person")),
        author=author,
        correction=number_answer(answers, "correction"),
        decision=number_answer(answers, "decision"),
        as_of=desk.now(),
    )
    request.state.session.author = author
    request.state.session.notice = told(ANSWERED[made.state], number=number, name=made.name)
    return RedirectResponse("/signoff#done", 303)


@ROUTES.post("/signoff/at-reader")
def let_in(request: Request) -> Response:
    """Show the one-time address that opens the page at a reader, and nothing else."""
    check_reached(request, NO_MACHINE)
    return show(request, "pages/signoff/let_in.html", **invitation(request, AT_READER))


@ROUTES.get("/signoff/reader")
def at_reader(request: Request) -> Response:
    """Show where a person keys the code on their statement, and what whoever was here before has just done."""
    language, session = language_at(request), request.state.session
    if session.notice:  # of somebody who is done: the next one's own language counts
        session.language = ""
    return _to_key(request, language)


@ROUTES.post("/signoff/reader")
def sign_at_reader(request: Request, desk: AtDesk, answers: Answers) -> Response:
    """Show a person their own hours, and keep that they confirm them or dispute a line."""
    keeper, session = request.app.state.keeper, request.state.session
    language = language_at(request, chosen=answers.get("speak", ""))
    if not keeper.may_try(session):
        return _to_key(request, language, 429, TOO_MANY)
    if not answers.get("code", "").strip():  # nothing was tried
        return _to_key(request, language, 400, NO_CODE)
    try:
        found = find_own_code(desk.workspace, answers.get("code", ""), answers.get("number", ""), as_of=desk.now())
    except Refusal as refusal:
        keeper.tried_wrong(session)
        return _to_key(request, language, 404, said_of(refusal))
    reckoning, period = _of(desk, found), DaySpan(found.first, found.last)
    if answers.get("do") == "confirm":
        seen = answer(answers, "seen", sentence("key the code again"))
        confirm(desk.workspace, reckoning, found, seen=seen, way="reader", as_of=desk.now())
        session.notice = told("Confirmed: {days}. Thank you.", days=period)
        return _done(request, reckoning, found, answers)
    if answers.get("do") == "dispute":
        try:
            made = open_dispute(
                desk.workspace,
                reckoning,
                found.person,
                kind=answer(answers, "kind", sentence("say what is wrong")),
                says=answer(answers, "says", sentence("say what it should say")),
                day=_day_or_none(answers, "day"),
                way="reader",
                as_of=desk.now(),
            )
        except Refusal as refusal:  # with what was written and keyed still there
            return _own(request, reckoning, found, answers, said_of(refusal))
        session.notice = told(
            "Kept as dispute {number}. You are answered by {day}.", number=made.dispute, day=made.answer_by
        )
        return _done(request, reckoning, found, answers)
    return _own(request, reckoning, found, answers)


def _own(request: Request, reckoning: Reckoning, found: CodeFound, answers: Answers, why: str = "") -> Response:
    """Show a person their own hours, and why what they disputed could not be kept as they said it."""
    return show(
        request,
        "pages/signoff/reader.html",
        status=409 if why else 200,
        language=_language_of(request, reckoning, found, answers),
        own=view.own_hours(reckoning, found),
        code=answers.get("code", ""),
        number=answers.get("number", ""),
        says=why,
        kinds=DISPUTED_IN_WORDS,
        disputed={name: answers.get(name, "") for name in ("kind", "day", "says")},
    )


def _language_of(request: Request, reckoning: Reckoning, found: CodeFound, answers: Answers) -> str:
    spoken = spoken_languages(reckoning.snapshot).get(found.person, "")
    return language_at(request, own=spoken, chosen=answers.get("speak", ""))


def _done(request: Request, reckoning: Reckoning, found: CodeFound, answers: Answers) -> Response:
    """Lead back to where a code is keyed, which tells in the person's language what was kept."""
    return RedirectResponse(f"{AT_READER}?speak={_language_of(request, reckoning, found, answers)}", 303)


def _to_key(request: Request, language: str, status: int = 200, says: str = "") -> Response:
    """Show where a code is keyed, and what was wrong with the one before."""
    page = "pages/signoff/reader.html"
    return show(request, page, status=status, language=language, own=None, code="", says=says, kinds={})


def _over(desk: Desk, day: date | None) -> Reckoning:
    period = desk.reckoning.period(day)
    return desk.reckoning_over(period.first, period.last)


def _of(desk: Desk, found: CodeFound) -> Reckoning:
    return desk.reckoning_over(found.first, found.last)


def _back(day: date, group: str = "") -> Response:
    return RedirectResponse(f"/signoff?{urlencode({'period': day, 'group': group} if group else {'period': day})}", 303)


def _day(answers: Answers) -> date:
    day = _day_or_none(answers, "period")
    if day is None:
        raise IncompleteForm(told("the form does not say of which period; open the page again."))
    return day


def _day_or_none(answers: Answers, name: str) -> date | None:
    written = answers.get(name, "").strip()
    try:
        return check_reckoned(date.fromisoformat(written)) if written else None
    except ValueError as fault:
        raise IncompleteForm(
            told('"{written}" is no date; write it as 2026-11-09. Nothing was changed.', written=written)
        ) from fault
