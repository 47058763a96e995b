"""Routes of Numbers: how they stand, new ones with their slips, and the move to safer ones."""

from __future__ import annotations

import secrets
from collections.abc import Mapping, Sequence
from urllib.parse import urlencode

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from evenhand.jobs.numbering import ProposedNumber, as_file, numbers_of, print_numbers, propose, see_numbers
from evenhand.jobs.numbers import plan_migration
from evenhand.jobs.renumbering import foresee_number, give_number
from evenhand.terms.languages import said_of, sentence, told
from evenhand.terms.records import Refusal
from evenhand.web.desk import AtDesk, Desk
from evenhand.web.forms import Answers, EveryAnswer, IncompleteForm, answer, way_back
from evenhand.web.pages.numbers import view
from evenhand.web.show import MenuEntry, show

__all__ = ["MENU", "ROUTES"]

MENU = MenuEntry("Numbers", "/numbers", 27)
ROUTES = APIRouter()
MOST_PAIRS = 30
WAITS = sentence("Nobody has a number of it before it is taken, and it can be taken back as other files can.")
SEEDS = 1_000_000_000
Asked = Mapping[str, Sequence[str]]


@ROUTES.get("/numbers")
def numbers(request: Request, desk: AtDesk) -> Response:
    """Show how safe the numbers are, who has none, and which rest, clash or are easily confused."""
    seen = see_numbers(desk.reckoning, desk.today)
    names = desk.reckoning.snapshot.names
    return show(
        request,
        "pages/numbers/page.html",
        seen=seen,
        schemes=view.choices(seen.design),
        share=view.share,
        pairs=[
            pair
            | {"name": names.get(pair["person"], pair["person"]), "other_name": names.get(pair["other"], pair["other"])}
            for pair in seen.confusable.head(MOST_PAIRS).to_dicts()
        ],
        sites=sorted(filter(None, desk.reckoning.snapshot.here(desk.reckoning.day)["site"].unique().to_list())),
        seed=secrets.randbelow(SEEDS),
        zone=desk.zone,
    )


@ROUTES.get("/new-numbers")
def preview(request: Request, desk: AtDesk) -> Response:
    """Show numbers for whoever was marked; nothing is given yet."""
    asked = _asked(request)
    return show(
        request,
        "pages/numbers/given.html",
        proposed=_proposed(desk, asked),
        asked=asked,
        slips=f"/new-numbers/slips.pdf?{urlencode(asked, doseq=True)}",
        again=f"/new-numbers?{urlencode({**asked, 'seed': [str(secrets.randbelow(SEEDS))]}, doseq=True)}",
    )


@ROUTES.post("/new-numbers")
def keep(request: Request, desk: AtDesk, answers: EveryAnswer) -> Response:
    """Have the numbers that were shown wait on Files, to be taken there."""
    proposed = _proposed(desk, answers)
    if [one.number for one in proposed] != list(answers.get("shown", ())):
        raise Refusal(told("numbers were taken or given meanwhile, so that others would be given now; look again."))
    given = [(one.person, one.name, one.number) for one in proposed if one.person]
    waits = as_file(desk.workspace, given, desk.now())
    request.state.session.notice = told("{file} waits here. {what}", file=waits.file, what=told(WAITS))
    return RedirectResponse(f"/files/waiting/{waits.key}?roster=part", 303)


@ROUTES.get("/new-numbers/slips.pdf")
def slips(request: Request, desk: AtDesk, speak: str = "en") -> Response:
    """Give tear-off slips with the numbers that were shown."""
    proposed = _proposed(desk, _asked(request))
    pdf = print_numbers(
        desk.reckoning,
        [(one.name, one.site, one.number) for one in proposed],
        language="es" if speak == "es" else "en",
    )
    return Response(pdf, media_type="application/pdf")


@ROUTES.get("/number-slips.pdf")
def slips_of_site(request: Request, desk: AtDesk, site: str = "", person: str = "", speak: str = "en") -> Response:
    """Give tear-off slips with the numbers that people have: those of a site, or one person's."""
    rows = numbers_of(desk.reckoning, site=site, person=person)
    pdf = print_numbers(desk.reckoning, rows, language="es" if speak == "es" else "en")
    return Response(pdf, media_type="application/pdf")


@ROUTES.get("/change-number")
def foresee_change(request: Request, desk: AtDesk, person: str = "", number: str = "", back: str = "") -> Response:
    """Show what giving somebody a number, or another one, would mean; nothing is given yet.

    `back` is the page to come back to where it is left as it is.
    """
    problem, foreseen = "", None
    if person.strip() and number.strip():
        try:
            foreseen = foresee_number(desk.reckoning, person, number)
        except Refusal as refusal:
            problem = said_of(refusal)
    return show(
        request,
        "pages/numbers/change.html",
        person=foreseen.person if foreseen else person.strip(),
        number=number.strip(),
        foreseen=foreseen,
        problem=problem,
        asked_from=way_back({"back": back}, ""),
    )


@ROUTES.post("/change-number")
def change(request: Request, desk: AtDesk, answers: Answers) -> Response:
    """Have the number that was shown wait on Files, to be taken there."""
    person, number = (
        answer(answers, "person", sentence("say who gets it")),
        answer(answers, "number", sentence("say which number")),
    )
    author = answer(answers, "author", sentence("say who gives it"))
    foreseen = foresee_number(desk.reckoning, person, number)
    request.state.session.author = author  # under which Files takes it
    waits = give_number(desk.workspace, foreseen, desk.now())
    request.state.session.notice = told(
        "{file} waits here: {name} gets {number} once it is taken, and it can be taken back.",
        file=waits.file,
        name=foreseen.name,
        number=foreseen.number,
    )
    return RedirectResponse(f"/files/waiting/{waits.key}?roster=part", 303)


@ROUTES.get("/moving-numbers")
def moving(request: Request, desk: AtDesk, scheme: str = "") -> Response:
    """Show who would change number in a move to safer ones; a plan changes nothing."""
    moved = plan_migration(desk.workspace, desk.now(), scheme=view.scheme_of(scheme), seed=0)
    return show(request, "pages/numbers/moving.html", moved=moved, share=view.share)


def _asked(request: Request) -> Asked:
    return {name: request.query_params.getlist(name) for name in ("person", "more", "scheme", "seed")}


def _proposed(desk: Desk, asked: Asked) -> tuple[ProposedNumber, ...]:
    more, seed = (next(iter(asked.get(name, ())), "") or "0" for name in ("more", "seed"))
    if not (more.isdecimal() and seed.isdecimal()) or len(more) > 4 or len(seed) > 12:
        raise IncompleteForm(told("how many more numbers are wanted is told in figures; nothing was changed."))
    scheme = view.scheme_of(next(iter(asked.get("scheme", ())), ""))
    return propose(desk.reckoning, list(asked.get("person", ())), int(more), scheme=scheme, seed=int(seed))
