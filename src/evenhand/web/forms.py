"""Forms as they come back: signed by their session, with the answers they must hold."""

from __future__ import annotations

from collections.abc import AsyncIterator, Mapping, Sequence
from typing import Annotated, BinaryIO, Protocol, cast

from fastapi import Depends, Request

from evenhand.terms.languages import Sentence, said_of, told
from evenhand.terms.lines import as_line
from evenhand.terms.records import Refusal

__all__ = [
    "FORM_TOKEN",
    "Answers",
    "EveryAnswer",
    "IncompleteForm",
    "SentFiles",
    "answer",
    "check_signature",
    "number_answer",
    "way_back",
]

FORM_TOKEN = "form_token"


class IncompleteForm(Refusal):
    """A form that lacks an answer or holds one that cannot be read; nothing was changed."""


async def _answers(request: Request) -> Mapping[str, str]:
    return {name: value for name, value in (await request.form()).items() if isinstance(value, str)}


Answers = Annotated[Mapping[str, str], Depends(_answers)]


async def _every_answer(request: Request) -> Mapping[str, Sequence[str]]:
    form = await request.form()
    return {name: [one for one in form.getlist(name) if isinstance(one, str)] for name in form}


EveryAnswer = Annotated[Mapping[str, Sequence[str]], Depends(_every_answer)]
"""What was written under each name, for a form in which several may be marked under one."""


class SentFile(Protocol):
    """A file that came with a form: what its sender calls it, and its content, to be read block by block."""

    filename: str | None
    size: int | None
    file: BinaryIO


async def _sent_files(request: Request) -> Sequence[SentFile]:
    # a form whose file was left out sends one without a name
    sent = cast("list[SentFile | str]", [value for _, value in (await request.form()).multi_items()])
    return [one for one in sent if not isinstance(one, str) and (one.filename or one.size)]


SentFiles = Annotated[Sequence[SentFile], Depends(_sent_files)]


async def check_signature(request: Request) -> AsyncIterator[None]:
    """Refuse a form that no page of this session made, and let go of what came with it; every route runs this."""
    try:
        if request.method not in ("GET", "HEAD"):
            signature = (await _answers(request)).get(FORM_TOKEN, "")
            if not request.state.session.signs(signature):
                raise IncompleteForm(
                    told("this form is not from this session's pages, so nothing was changed; open the page again.")
                )
        yield
    finally:
        await request.close()


def answer(answers: Mapping[str, str], name: str, question: str) -> str:
    """Return what was written under `name` as one clean line; raises IncompleteForm with `question` where nothing was.

    So it does where characters are in it that do not show or that turn the text around them, and where it is too long.
    """
    try:
        written = as_line(answers.get(name, ""))
    except Refusal as refusal:
        raise IncompleteForm(said_of(refusal)) from refusal
    if not written:
        raise IncompleteForm(
            told(
                "{question}; nothing was changed.",
                question=question if isinstance(question, Sentence) else told(question),
            )
        )
    return written


def number_answer(answers: Mapping[str, str], name: str) -> int | None:
    """Return the whole number written under `name`; None where nothing was, IncompleteForm where it is none."""
    written = answers.get(name, "").strip()
    if written and not (written.isdecimal() and len(written) < 12):
        raise IncompleteForm(told('"{written}" is no number; nothing was changed.', written=written))
    return int(written) if written else None


def way_back(answers: Mapping[str, str], otherwise: str) -> str:
    """Return the page of ours that a form was sent from; never another site's."""
    back = answers.get("back", "")
    return back if back.startswith("/") and not back.startswith(("//", "/\\")) else otherwise
