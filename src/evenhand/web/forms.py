"""Forms as they come back: signed by their session, with the answers they must hold."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated

from fastapi import Depends, Request

from evenhand.terms.records import Refusal

__all__ = ["FORM_TOKEN", "Answers", "IncompleteForm", "answer", "check_signature", "way_back"]

FORM_TOKEN = "form_token"


class IncompleteForm(Refusal):
    """A form that lacks an answer or holds one that cannot be read; nothing was changed."""


async def _answers(request: Request) -> Mapping[str, str]:
    return {name: value for name, value in (await request.form()).items() if isinstance(value, str)}


Answers = Annotated[Mapping[str, str], Depends(_answers)]


async def check_signature(request: Request) -> None:
    """Refuse a form that no page of this session made; every route runs this."""
    if request.method in ("GET", "HEAD"):
        return
    if not request.state.session.signs((await _answers(request)).get(FORM_TOKEN, "")):
        raise IncompleteForm("this form is not from this session's pages, so nothing was changed; open the page again.")


def answer(answers: Mapping[str, str], name: str, question: str) -> str:
    """Return what was written under `name`; raises IncompleteForm with `question` where nothing was."""
    written = answers.get(name, "").strip()
    if not written:
        raise IncompleteForm(f"{question}; nothing was changed.")
    return written


def way_back(answers: Mapping[str, str], otherwise: str) -> str:
    """Return the page of ours that a form was sent from; never another site's."""
    back = answers.get("back", "")
    return back if back.startswith("/") and not back.startswith(("//", "/\\")) else otherwise
