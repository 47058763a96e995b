"""Adding a version of the policy: its text, when it is in force, and what that asks of whom, before it is added."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from fastapi import Request
from starlette.responses import RedirectResponse, Response

from evenhand.jobs.consent_policies import PolicyAsked, PolicyForeseen, add_policy, example_policy, preview_policy
from evenhand.terms.languages import said_of, sentence, told
from evenhand.terms.records import Refusal
from evenhand.web.desk import AtDesk, Desk
from evenhand.web.forms import Answers, IncompleteForm, answer
from evenhand.web.show import show

__all__ = ["add", "form"]

FILE = "policy.toml"


def form(request: Request, desk: AtDesk) -> Response:
    """Show the form, with an example of a text to begin with."""
    return _show(request, desk, {"text": example_policy(), "from": desk.reckoning.day.isoformat()})


def add(request: Request, desk: AtDesk, answers: Answers) -> Response:
    """Show what the version would ask of whom, or add it if that is what was shown."""
    session, problem, foreseen = request.state.session, "", None
    try:
        asked = _asked(answers)
        foreseen = preview_policy(desk.reckoning.snapshot, asked)
    except Refusal as refusal:
        problem = said_of(refusal)
    else:
        session.author = asked.author
        if answers.get("do") == "add" and answers.get("seen") == foreseen.digest:
            made = add_policy(desk.workspace, asked, as_of=desk.now())
            if foreseen.policy is not None:
                said = told(
                    "{policy} is there already; its sheets, which people sign, are printed below.", policy=made.called
                )
            else:
                said = told(
                    "{policy} was added by {name}; its sheets, which people sign, are printed below.",
                    policy=made.called,
                    name=asked.author,
                )
            session.notice = said
            return RedirectResponse(f"/consent/policies/{made.policy}", 303)
    return _show(request, desk, answers, problem, foreseen)


def _show(
    request: Request, desk: Desk, said: Mapping[str, str], problem: str = "", foreseen: PolicyForeseen | None = None
) -> Response:
    fields = {name: said.get(name, "") for name in ("text", "from", "renew_by", "go_on")}
    return show(
        request,
        "pages/consent/adding.html",
        fields=fields,
        problem=problem,
        foreseen=foreseen,
        has_earlier=not desk.reckoning.snapshot.consent_policies.is_empty(),
    )


def _asked(answers: Mapping[str, str]) -> PolicyAsked:
    author = answer(answers, "author", sentence("say who adds the policy"))
    begins = _day(answers, "from")
    if begins is None:
        raise IncompleteForm(told("say from which day the policy is in force; nothing was added."))
    text = answers.get("text", "").replace("\r\n", "\n")  # forms end lines in CRLF
    return PolicyAsked(text, FILE, begins, author, _day(answers, "renew_by"), answers.get("go_on") == "yes")


def _day(answers: Mapping[str, str], name: str) -> date | None:
    said = answers.get(name, "").strip()
    try:
        return date.fromisoformat(said) if said else None
    except ValueError as fault:
        raise IncompleteForm(
            told('"{written}" is no date; write it as 2026-01-04. Nothing was added.', written=said)
        ) from fault
