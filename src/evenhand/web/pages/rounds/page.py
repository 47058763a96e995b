"""Routes of Round: the rounds, one round, letting a phone in, the page held at a reader, and what the phone sends."""

from __future__ import annotations

import json
import secrets
from collections.abc import Collection
from datetime import timedelta
from pathlib import Path
from typing import Annotated, Any
from zoneinfo import ZoneInfo

from fastapi import APIRouter, Query, Request
from starlette.responses import FileResponse, JSONResponse, RedirectResponse, Response

from evenhand.jobs.added_turns import add_turn
from evenhand.jobs.at_reader import hold_round, items_at
from evenhand.jobs.at_turn import NAMES, said_at_turn
from evenhand.jobs.languages import say_in
from evenhand.jobs.own_steps import steps_at
from evenhand.jobs.queues import QueueSeen, TooQuiet, see_queue
from evenhand.jobs.releases_at_reader import NotTheirs, policy_to_read, sign_at_reader, unreleased_items
from evenhand.jobs.round_sheets import heading_of, print_sheet, steps_of_round, with_stays
from evenhand.jobs.round_turns import see_turns
from evenhand.jobs.rounds import (
    RoundSeen,
    done_at,
    judge_round,
    list_rounds,
    record_now,
    record_outcomes,
    see_round,
)
from evenhand.jobs.supervision import may_stand_by
from evenhand.jobs.taking_off import TakingOff, taking_off, until_decided
from evenhand.terms.characters import escaped
from evenhand.terms.languages import said_of, sentence, told
from evenhand.terms.records import Refusal, Unknown
from evenhand.web.addresses import in_path
from evenhand.web.commands import on_pages
from evenhand.web.csv_file import csv_file
from evenhand.web.desk import AtDesk, Desk
from evenhand.web.forms import Answers, IncompleteForm, answer
from evenhand.web.invitations import check_reached, invitation, is_reached
from evenhand.web.pages.rounds import view
from evenhand.web.pages.rounds.steps import STEP_ROUTES
from evenhand.web.show import MenuEntry, show
from evenhand.web.speaking import language_at

__all__ = ["MENU", "ROUTES"]

MENU = MenuEntry("Round", "/rounds", 25)
ROUTES = APIRouter()
ROUTES.routes.extend(STEP_ROUTES.routes)  # before a round of any name
MOST_AT_ONCE = 100
# The last tap can be taken back on the phone for as long.
TAKING_BACK_S = 15 * 60


@ROUTES.get("/rounds")
def rounds(request: Request, desk: AtDesk) -> Response:
    """Show the rounds, latest first."""
    readers = [seen.reader for seen in desk.readers() if seen.accepted]
    return show(
        request,
        "pages/rounds/page.html",
        rounds=list_rounds(desk.workspace).to_dicts(),
        readers=readers,
    )


@ROUTES.get("/rounds/worker.js")
def worker() -> Response:
    """Give the script that keeps pages at hand without a connection; it may act under /rounds/ only."""
    return FileResponse(Path(__file__).parent / "worker.js", media_type="text/javascript")


@ROUTES.get("/rounds/queues/{reader:name}")
def queue(
    request: Request, desk: AtDesk, reader: str, takes: Annotated[float | None, Query(gt=0, le=86_400)] = None
) -> Response:
    """Show how long people wait at one reader, over the last four weeks; `takes` is what one person takes [s].

    Where the punches do not tell that and nobody has said it, it is asked for.
    """
    asks, seen = "", None
    try:
        seen = _line_at(desk, reader, takes)
    except TooQuiet as quiet:
        asks = said_of(quiet)
    times = view.lost_times(seen) if seen else ()
    return show(
        request,
        "pages/rounds/queue.html",
        seen=seen,
        times=times,
        reader=reader,
        asks=asks,
        takes=takes,
    )


@ROUTES.get("/rounds/queues/{reader:name}/times.csv")
def times_of_day(desk: AtDesk, reader: str, takes: Annotated[float | None, Query(gt=0, le=86_400)] = None) -> Response:
    """Give away who waits how long at one reader by the time of day, as CSV."""
    return csv_file("times", _line_at(desk, reader, takes).by_time)


def _line_at(desk: Desk, reader: str, takes: float | None) -> QueueSeen:
    last = desk.now().astimezone(ZoneInfo(desk.zone)).date()
    return see_queue(desk.workspace, [reader], first=last - timedelta(days=27), last=last, service_s=takes)


@ROUTES.get("/rounds/{name}")
def one_round(request: Request, desk: AtDesk, name: str) -> Response:
    """Show how far a round is at each reader."""
    seen = see_round(desk.workspace, name)
    turns: dict[str, list[dict[str, Any]]] = {}
    for turn in see_turns(desk.reckoning, seen):
        turns.setdefault(turn.reader, []).append(view.in_words(turn))
    return show(
        request,
        "pages/rounds/round.html",
        header=seen.header,
        readers=seen.at_readers(),
        turns=turns,
        zones=heading_of(desk.workspace, seen, None).zones,
        judged=view.judged(seen, judge_round(desk.workspace, name)),
        lets_phones_in=is_reached(request),
    )


@ROUTES.post("/rounds/{name}")
def let_phone_in(request: Request, desk: AtDesk, name: str, answers: Answers) -> Response:
    """Show the one-time address that opens this round at one reader to a phone, and nothing else."""
    reader = answer(answers, "reader", sentence("say at which reader"))
    seen, _ = _at(desk, name, reader)
    check_reached(request)
    if seen.waiting(reader).is_empty():
        raise Refusal(told("nothing is left to do at this reader, so no phone is let in."))

    workspace = desk.workspace

    def is_over() -> bool:
        done = done_at(workspace, name, reader)
        return done is not None and desk.now().timestamp() - done >= TAKING_BACK_S

    invited = invitation(request, f"/rounds/{in_path(name)}/{in_path(reader)}", is_over)
    return show(
        request,
        "pages/rounds/phone.html",
        header=seen.header,
        reader=reader,
        **invited,
    )


@ROUTES.get("/rounds/{name}/print/{sheet}.pdf")
def sheet(request: Request, desk: AtDesk, name: str, sheet: str, speak: str = "en") -> Response:
    """Give a sheet of the round as PDF."""
    seen = see_round(desk.workspace, name)
    heading = heading_of(
        desk.workspace,
        seen,
        request.app.state.address,  # no phone reaches this machine by another, so no code is printed that leads nowhere
        as_of=desk.now(),
    )
    steps, language = steps_of_round(desk.workspace, seen), view.language_of(speak)
    heading = with_stays(heading, desk.reckoning, seen, language)
    pdf = print_sheet(seen, heading, sheet, language=language, steps=steps, paper=desk.reckoning.snapshot.paper)
    return Response(pdf, media_type="application/pdf")


@ROUTES.get("/rounds/{name}/{reader:name}")
def at_reader(request: Request, desk: AtDesk, name: str, reader: str, read: str = "", tell: str = "") -> Response:
    """Show whose turn it is at a reader, or what one person is to `read` and sign before theirs.

    What is read out is in the person's language, or in the one that is chosen there (`tell`).
    """
    language = language_at(request, is_kept=not read)
    if read:
        return _to_read(request, desk, _at(desk, name, reader)[0], reader, read, language)
    return _held(request, desk, name, reader, language, tell)


def _held(
    request: Request,
    desk: Desk,
    name: str,
    reader: str,
    language: str,
    tell: str = "",
    *,
    wrong: tuple[str, int] = ("", 200),
    stranger: str = "",
) -> Response:
    """Show whose turn it is; what was `wrong` with the `stranger` keyed is told there, where the way on is."""
    seen, zone = _at(desk, name, reader)
    unreleased = unreleased_items(desk.workspace, seen.states, as_of=desk.now())
    steps = steps_at(desk.workspace, reader)
    off, meet = _off(desk, seen, reader, unreleased), desk.reckonings.zones_meet
    held = hold_round(seen, reader, zone, language, unreleased, off, steps, names_zones=meet)
    return show(
        request,
        "pages/rounds/held.html",
        status=wrong[1],
        held=held,
        reader=reader,
        name=name,
        outcome=secrets.token_hex(16),
        wrong=wrong[0],
        stranger=stranger,
        **view.of_turn(said_at_turn(held.turn, steps, language, tell), held.turn),
    )


def _off(desk: Desk, seen: RoundSeen, reader: str, unreleased: Collection[str]) -> TakingOff:
    here = seen.states.filter(seen.states["reader"] == reader)
    return until_decided(taking_off(desk.reckoning, here), here, unreleased)


def _to_read(request: Request, desk: Desk, seen: RoundSeen, reader: str, item: str, language: str) -> Response:
    """Show the policy in the person's language, with what they can say to it."""
    here = seen.states.filter(seen.states["reader"] == reader)
    read = policy_to_read(desk.workspace, here, item, language, as_of=desk.now())
    return show(
        request,
        "pages/rounds/read.html",
        read=read,
        reader=reader,
        item=item,
        language=language,
        languages=NAMES,
        say=say_in(language),
        stood_by=request.state.session.author,
    )


def _sign(request: Request, desk: Desk, seen: RoundSeen, reader: str, answers: Answers, language: str) -> None:
    """Record what the person signed; whoever says no is done at this reader, by the other way that is offered."""
    item, said = (
        answer(answers, "read", sentence("open the policy again")),
        answer(answers, "said", sentence("press one of the buttons")),
    )
    signature, now = answer(answers, "signature", sentence("write your name, as your signature")), desk.now()
    here = seen.states.filter(seen.states["reader"] == reader)
    read = policy_to_read(desk.workspace, here, item, language, as_of=now)
    if answers.get("policy") != str(read.version.policy):
        raise Refusal(
            told("the policy is another than the one you read; nothing was kept: go back, read it, and sign again.")
        )
    keeper, session = request.app.state.keeper, request.state.session
    if said == "agree" and not keeper.may_try(session):
        raise Refusal(
            told("too many codes were keyed wrong here; wait a quarter of an hour, or sign the sheet on paper.")
        )
    try:
        stood_by = answers.get("stood_by", "")
        code = answers.get("code", "")
        sign_at_reader(
            desk.workspace,
            desk.reckoning.snapshot,
            read,
            said,
            signature,
            code,
            stood_by,
            supervisors=may_stand_by(desk.reckoning, reader) if said == "agree" else (),
            as_of=now,
        )
    except NotTheirs:
        keeper.tried_wrong(session)
        raise
    request.state.session.author = stood_by.strip() or request.state.session.author
    if said != "agree":
        done = view.said_no(item, secrets.token_hex(16), signature)
        record_now(desk.workspace, seen.header["round"], done, as_of=now, reader=reader)


def _take_from_phone(desk: Desk, name: str, reader: str, answers: Answers, language: str) -> Response:
    """Take in what a phone kept, once each, and answer with how the reader stands."""
    try:
        said = json.loads(answers.get("outcomes", ""))
    except ValueError as fault:
        raise IncompleteForm(told("the outcomes cannot be read; nothing was changed.")) from fault
    if not isinstance(said, list) or len(said) > MOST_AT_ONCE or not all(isinstance(one, dict) for one in said):
        raise IncompleteForm(
            told("the outcomes are no list of at most {most}; nothing was changed.", most=MOST_AT_ONCE)
        )
    seen, zone = _at(desk, name, reader)
    taken = record_outcomes(desk.workspace, name, said, as_of=desk.now(), reader=reader)
    seen = see_round(desk.workspace, name)
    unreleased = unreleased_items(desk.workspace, seen.states, as_of=desk.now())
    say = say_in(language)
    rejected = {outcome: on_pages(say.said(why), say) for outcome, why in taken.rejected}
    kept = [one.get("outcome") for one in said if escaped(str(one.get("outcome"))) not in rejected]
    off = _off(desk, seen, reader, unreleased)
    items = items_at(seen.states, reader, zone, unreleased, off, names_zones=desk.reckonings.zones_meet)
    return JSONResponse({"kept": kept, "rejected": rejected, "items": items, "room": off.room(reader)})


@ROUTES.post("/rounds/{name}/{reader:name}")
def take_outcomes(request: Request, desk: AtDesk, name: str, reader: str, answers: Answers) -> Response:
    """Take in what a phone kept, what a person signed, or one outcome; the same sent again changes nothing."""
    language = language_at(request, chosen=answers.get("speak", ""), is_kept="read" not in answers)
    if "outcomes" in answers:
        return _take_from_phone(desk, name, reader, answers, language)
    if "read" in answers:
        _sign(request, desk, _at(desk, name, reader)[0], reader, answers, language)
        return RedirectResponse(f"/rounds/{in_path(name)}/{in_path(reader)}", 303)
    author = answer(answers, "author", sentence("say who stands at the reader"))
    if "stranger" in answers:
        try:
            _add(request, desk, name, reader, answers, author)
        except Refusal as refusal:
            why = escaped(say_in(language).said(said_of(refusal)))
            wrong, keyed = (why, 404 if isinstance(refusal, Unknown) else 409), answers["stranger"]
            return _held(request, desk, name, reader, language, wrong=wrong, stranger=keyed)
        return RedirectResponse(f"/rounds/{in_path(name)}/{in_path(reader)}", 303)
    said = view.of_choice(answers) | {"author": author}
    taken = record_now(desk.workspace, name, said, as_of=desk.now(), reader=reader)
    for _, why in taken.rejected:
        raise IncompleteForm(why)
    request.state.session.author = author
    return RedirectResponse(f"/rounds/{in_path(name)}/{in_path(reader)}", 303)


def _add(request: Request, desk: Desk, name: str, reader: str, answers: Answers, author: str) -> None:
    """Add whoever is named by a whole number or name to the round here, as the next turn."""
    _at(desk, name, reader)
    session, keeper = request.state.session, request.app.state.keeper
    # A phone is not to find out the roster by trying; the desk sees all of it.
    if session.visit and not keeper.may_try(session):
        raise Refusal(
            told("too many names and numbers were nobody's; wait a quarter of an hour, or let the desk add them.")
        )
    said = answer(answers, "stranger", sentence("key the number or the whole name of the person who is here"))
    try:
        add_turn(desk.workspace, desk.reckoning, name, reader, said, author=author)
    except Unknown:
        if session.visit:
            keeper.tried_wrong(session)
        raise
    session.author = author


def _at(desk: Desk, name: str, reader: str) -> tuple[RoundSeen, str]:
    seen = see_round(desk.workspace, name)
    if reader not in seen.readers:
        raise Unknown(
            told(
                'nothing is to be done at a reader "{reader}" in this round; the round lists its readers.',
                reader=reader,
            )
        )
    return seen, heading_of(desk.workspace, seen, None).zones[reader]
