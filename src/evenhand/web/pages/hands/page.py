"""Routes of Hands: the overview, one person, the threshold explorer, and the data behind the pictures."""

from __future__ import annotations

from collections.abc import Mapping

from fastapi import APIRouter, Request
from starlette.responses import Response

from evenhand.jobs.hands import Hands, find_hands, person_hands, table_names, table_of
from evenhand.jobs.planned_test import SCORE_ORIGINS, Weighed, origin_in_words, parse_planned_test, weigh_thresholds
from evenhand.terms.languages import NAMES, sentence, told
from evenhand.terms.records import Unknown
from evenhand.web.csv_file import csv_file
from evenhand.web.desk import AtDesk, Desk
from evenhand.web.forms import Answers, IncompleteForm, answer
from evenhand.web.listing import ListQuery
from evenhand.web.pages.hands import view
from evenhand.web.show import MenuEntry, show
from evenhand.web.speaking import speech_at_desk

__all__ = ["MENU", "ROUTES"]

MENU = MenuEntry("Hands", "/hands", 23)
ROUTES = APIRouter()

ASKED_NUMBERS = {
    "presentations": sentence("presentations a week"),
    "minutes": sentence("minutes a refusal costs"),
    "wrong_hands": sentence("wrong hands tried in a year"),
    "match_minutes": sentence("minutes a false match is held to cost"),
    "present": sentence("the present threshold"),
}
"""What each number is that is asked for to weigh thresholds."""


def _hands(desk: Desk) -> Hands:
    return find_hands(desk.reckoning)


@ROUTES.get("/hands")
def hands(request: Request, desk: AtDesk, q: str = "", sort: str = "", order: str = "", page: int = 1) -> Response:
    """Show which hands and readers changed, and whom to enrol again."""
    asked = ListQuery("/hands", q.strip(), sort, order == "down", page)
    shown = view.overview(_hands(desk), asked, speech_at_desk(request))
    return show(request, "pages/hands/page.html", shown=shown)


@ROUTES.get("/hands/person/{person:name}")
def person(request: Request, desk: AtDesk, person: str) -> Response:
    """Show one person's scores with what changed."""
    who = str(desk.reckoning.snapshot.find_person(person)["person"])
    seen = _hands(desk)
    shown = view.one_hand(person_hands(seen, who), seen, speech_at_desk(request))
    return show(request, "pages/hands/person.html", shown=shown)


@ROUTES.get("/hands/person/{person:name}/scores.csv")
def scores_of(desk: AtDesk, person: str) -> Response:
    """Give the data behind one person's chart away as CSV."""
    who = str(desk.reckoning.snapshot.find_person(person)["person"])
    return csv_file("scores", person_hands(_hands(desk), who).daily)


@ROUTES.get("/hands/data/{name}")
def data(desk: AtDesk, name: str) -> Response:
    """Give the data behind a picture or table away as CSV."""
    if name not in table_names():
        raise Unknown(told('there is no table "{name}"; there are {tables:commas}.', name=name, tables=table_names()))
    return csv_file(name, table_of(_hands(desk), name))


@ROUTES.get("/hands/threshold")
def threshold(request: Request) -> Response:
    """Show the threshold explorer, empty."""
    return _explorer(request, None, {})


@ROUTES.post("/hands/threshold")
def weigh(request: Request, answers: Answers) -> Response:
    """Weigh thresholds by a planned test's scores; nothing is kept."""
    return _explorer(request, view.threshold_view(_weighed(answers), speech_at_desk(request)), answers)


@ROUTES.post("/hands/threshold/figures")
def weighed_figures(answers: Answers) -> Response:
    """Give away what every threshold seen in a planned test costs, as CSV; nothing is kept."""
    return csv_file("thresholds", _weighed(answers).curve)


def _weighed(answers: Mapping[str, str]) -> Weighed:
    text = answers.get("scores", "").strip()  # a file of its own, and no line
    if not text:
        raise IncompleteForm(told("paste the scores of a planned test; nothing was changed."))
    test = parse_planned_test(text.splitlines(), told("the scores pasted"))
    return weigh_thresholds(
        test,
        answers.get("origin", ""),
        presentations_a_week=_number(answers, "presentations"),
        minutes_a_refusal=_number(answers, "minutes"),
        wrong_hands_a_year=_number(answers, "wrong_hands"),
        minutes_a_false_match=_number(answers, "match_minutes"),
        present=_number(answers, "present") if answers.get("present", "").strip() else None,
    )


def _explorer(request: Request, shown: view.ThresholdView | None, answers: Answers) -> Response:
    origins = [(one, origin_in_words(one)) for one in SCORE_ORIGINS]
    return show(request, "pages/hands/threshold.html", shown=shown, answers=answers, origins=origins, languages=NAMES)


def _number(answers: Answers, name: str) -> float:
    what = told(ASKED_NUMBERS[name])
    written = answer(answers, name, told("say how many: {what}", what=what))
    try:
        number = float(written)
    except ValueError as fault:
        raise IncompleteForm(
            told('{what}: "{written}" is no number; nothing was changed.', what=what, written=written)
        ) from fault
    if not 0 <= number < 1e12:
        raise IncompleteForm(told("{what}: {written} cannot be; nothing was changed.", what=what, written=written))
    return number
