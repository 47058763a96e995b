"""Routes of the workplace's own steps: which kinds of reader there are, and writing what is done at one of them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from evenhand.jobs.at_turn import NAMES, TITLES
from evenhand.jobs.own_steps import (
    HEADINGS,
    SECONDS_MOST,
    add_own_steps,
    every_version,
    own_steps_now,
    steps_of,
    steps_sheet,
    written_as,
)
from evenhand.terms.languages import said_of, sentence, told
from evenhand.terms.records import Refusal
from evenhand.web.addresses import in_path
from evenhand.web.desk import AtDesk
from evenhand.web.forms import Answers, EveryAnswer, IncompleteForm, answer
from evenhand.web.show import show

__all__ = ["STEP_ROUTES"]

STEP_ROUTES = APIRouter()


@STEP_ROUTES.get("/rounds/steps")
def kinds(request: Request, desk: AtDesk) -> Response:
    """Show the kinds of reader that steps are written for, the readers without any, and a form for another kind."""
    now = own_steps_now(desk.workspace)
    told = {reader for kept in now.values() for reader in kept.steps.readers}
    readers = desk.reckoning.snapshot.readers["reader"].to_list()
    return show(
        request,
        "pages/rounds/steps.html",
        kinds=now,
        untold=[reader for reader in readers if reader not in told],
        languages=NAMES,
        zone=desk.zone,
    )


@STEP_ROUTES.get("/rounds/steps/{kind:name}")
def one_kind(request: Request, desk: AtDesk, kind: str) -> Response:
    """Show what is written for one kind, to be changed, and its earlier versions; a form to fill in for a new one."""
    versions = [kept for kept in every_version(desk.workspace) if kept.steps.kind == kind]
    return show(
        request,
        "pages/rounds/steps_kind.html",
        kind=kind,
        kept=versions[-1] if versions else None,
        earlier=versions[-2::-1],
        readers=_free_readers(desk, kind),
        headings=HEADINGS,
        titles=TITLES,
        languages=NAMES,
        most_seconds=SECONDS_MOST,
        zone=desk.zone,
    )


@STEP_ROUTES.get("/rounds/steps/{kind:name}/sheet.pdf")
def sheet(desk: AtDesk, kind: str) -> Response:
    """Give the steps as PDF for the wall."""
    pdf = steps_sheet(steps_of(desk.workspace, kind).steps, paper=desk.reckoning.snapshot.paper)
    return Response(pdf, media_type="application/pdf")


@STEP_ROUTES.post("/rounds/steps")
def begin(desk: AtDesk, answers: Answers) -> Response:
    """Go to the form of a kind that is named for the first time."""
    kind = answer(answers, "kind", sentence("give the kind of reader a name"))
    return RedirectResponse(f"/rounds/steps/{in_path(kind)}", 303)


@STEP_ROUTES.post("/rounds/steps/{kind:name}")
def write(request: Request, desk: AtDesk, kind: str, answers: Answers, every: EveryAnswer) -> Response:
    """Keep what was written as the kind's last version."""
    author = answer(answers, "author", sentence("say who writes it"))
    reason = answer(answers, "reason", sentence("say why"))
    try:
        steps = written_as(
            kind,
            every.get("reader", ()),
            {language: {one: _lines(answers, one, language) for one in HEADINGS} for language in NAMES},
            _quick(answers),
        )
        kept = add_own_steps(
            desk.workspace, steps, file=told("what was written"), author=author, reason=reason, as_of=desk.now()
        )
    except Refusal as refusal:
        raise IncompleteForm(
            told("{why} Nothing was changed: go back, what you wrote is still there.", why=said_of(refusal))
        ) from refusal
    request.state.session.author = author
    request.state.session.notice = told(
        "{kind}, version {number}, is what turns at its readers show now.", kind=kept.steps.kind, number=kept.number
    )
    return RedirectResponse(f"/rounds/steps/{in_path(kind)}", 303)


def _free_readers(desk: AtDesk, kind: str) -> Sequence[Mapping[str, Any]]:
    """Return the readers with their place, and which other kind has each."""
    taken = {reader: name for name, kept in own_steps_now(desk.workspace).items() for reader in kept.steps.readers}
    return [
        {"reader": reader, "place": place, "of": taken.get(reader) if taken.get(reader) != kind else None}
        for reader, place in desk.reckoning.snapshot.readers.select("reader", "place").iter_rows()
    ]


def _lines(answers: Mapping[str, str], heading: str, language: str) -> list[str]:
    return [line.strip() for line in answers.get(f"{heading}-{language}", "").splitlines() if line.strip()]


def _quick(answers: Mapping[str, str]) -> dict[str, tuple[int, int]]:
    found = {}
    for heading in HEADINGS:
        said = [answers.get(f"quick-{heading}-{part}", "").strip() for part in ("step", "seconds")]
        if not any(said):
            continue
        if not all(one.isdecimal() and len(one) < 6 for one in said):
            raise IncompleteForm(told("a step that must be quick has its number and its seconds; nothing was changed."))
        found[heading] = (int(said[0]), int(said[1]))
    return found
