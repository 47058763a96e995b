"""Ask at the terminal what a file leaves open, one question at a time, and at last whether to take it."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import AbstractContextManager
from dataclasses import replace
from typing import TYPE_CHECKING

import click

from evenhand.cli.printing import print_paragraph, print_table
from evenhand.cli.proposals import print_seen
from evenhand.cli.speaking import ask, tell, word
from evenhand.terms.languages import said_of, told
from evenhand.terms.records import Refusal

if TYPE_CHECKING:
    from evenhand.jobs.seen import Answers, Question, Seen

__all__ = ["asking", "print_question"]


def asking(paused: Callable[[], AbstractContextManager[None]]) -> Callable[[Seen], Answers | bool]:
    """Return what asks a person about a file; while it does, whatever else is drawn is `paused`.

    A file is shown before the first question about it, and as a whole once none is left.
    """
    asked_about = ""

    def answer(seen: Seen) -> Answers | bool:
        from evenhand.jobs.take import Stopped

        nonlocal asked_about
        with paused():
            try:
                if not (seen.proposal.questions and seen.file == asked_about):
                    print_seen(seen, err=True)
                asked_about = seen.file
                if seen.fault:
                    print_paragraph(seen.fault, err=True)
                if seen.proposal.questions:
                    return _ask(seen.answers, seen.proposal.questions[0])
                if seen.proposal.offers:
                    return _offer(seen)
                click.echo(err=True)
                return ask(told("Take it?"), default=None)
            except click.Abort as abort:
                click.echo(err=True)
                raise Stopped from abort

    return answer


def print_question(question: Question, *, err: bool) -> None:
    """Print a question and what each answer would mean."""
    click.echo(err=err)
    print_paragraph(question.asks, err=err, title=True)
    if question.choices:
        print_table(("Answer", "Then"), ((one.answer, one.means) for one in question.choices), err=err)


def _ask(answers: Answers, question: Question) -> Answers:
    """Ask until the answer is one."""
    from evenhand.jobs.seen import answered

    print_question(question, err=True)
    while True:
        try:
            return answered(answers, question, click.prompt(tell(told("Your answer")), err=True))
        except Refusal as refusal:
            print_paragraph(said_of(refusal), err=True)


def _offer(seen: Seen) -> Answers:
    """Ask of each column that the kept layout leaves out whether it is what it seems to be; the answer is kept."""
    answers = seen.answers
    for offer in seen.proposal.offers:
        column, name = offer.header or str(offer.position), offer.names[0]
        samples = " | ".join(offer.samples)
        click.echo(err=True)
        print_paragraph(
            told(
                "{kept} leaves out {column} ({samples}), which seems to be {use}.",
                kept=seen.proposal.kept,
                column=column,
                samples=samples,
                use=word(name.replace("_", " ")),
            ),
            err=True,
        )
        if ask(told("Read it from now on?"), default=None):
            answers = replace(answers, maps={**answers.maps, column: name})
        else:
            answers = replace(answers, ignored=answers.ignored | {column})
    return answers
