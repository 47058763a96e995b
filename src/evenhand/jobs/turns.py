"""Several files in one go: those first that others are placed by, and one that is refused does not stop the rest."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import TypeVar

from evenhand.jobs.incoming import Incoming, Opened
from evenhand.jobs.keep import taken_before
from evenhand.jobs.known import Known
from evenhand.jobs.seen import Answers, Question
from evenhand.layouts import Layout
from evenhand.terms.languages import said_of, told
from evenhand.terms.records import Refusal

__all__ = ["ORDER", "LeftOpen", "RefusedFile", "Stopped", "in_turn"]

T = TypeVar("T")

ORDER = ("readers", "people", "enrolments", "schedules", "consent", "rates", "earnings", "punches")
"""In which order files are taken: punches are placed in time by their readers, schedules by their people's sites."""


@dataclass(frozen=True)
class RefusedFile:
    """A file of which nothing was taken, and why; `question` is the first that it leaves open, where that is why."""

    file: str
    reason: str
    question: Question | None = None


class Stopped(Exception):  # noqa: N818  (a person's choice, no error)
    """Raised by a confirmation to leave this file and those after it alone."""


class LeftOpen(Refusal):
    """Refuses a file that leaves a question open."""

    def __init__(self, question: Question) -> None:
        super().__init__(question.asks)
        self.question = question


def in_turn(
    known: Known,
    files: Iterable[Path | str | Incoming],
    answers: Answers,
    layout: Layout | None,
    do: Callable[[Incoming], T],
) -> list[T | RefusedFile]:
    """Do something with each file, those first that others are placed by; return what came of each, as given."""
    given = [file if isinstance(file, Incoming) else Path(file) for file in files]
    order = list(range(len(given)))
    opened = Opened()
    if not answers.table and layout is None and len(given) > 1:
        order.sort(key=_turns(known, given, answers, opened).__getitem__)
    results: dict[int, T | RefusedFile] = {}
    is_stopped = False
    for place in order:
        file = given[place]
        name = file.name if isinstance(file, Incoming) else str(file)
        if is_stopped:
            results[place] = RefusedFile(name, told("{name} was not taken, since you stopped before it.", name=name))
            continue
        try:
            results[place] = do(file if isinstance(file, Incoming) else opened.take(file))
        except LeftOpen as refusal:
            results[place] = RefusedFile(name, said_of(refusal), refusal.question)
        except Refusal as refusal:
            results[place] = RefusedFile(name, said_of(refusal))
        except Stopped:
            is_stopped = True
            results[place] = RefusedFile(name, told("{name} was not taken, since you stopped at it.", name=name))
    return [results[place] for place in range(len(given))]


def _turns(known: Known, files: Iterable[Path | Incoming], answers: Answers, opened: Opened) -> list[int]:
    """Return when each file's turn is; one that is refused now may be understood once the others are taken."""
    turns = []
    for file in files:
        turns.append(len(ORDER))
        with suppress(Refusal):
            incoming = file if isinstance(file, Incoming) else opened.look_at(file)
            before = taken_before(known, incoming)
            table = before.table if before else known.propose(incoming, answers).layout.table
            turns[-1] = ORDER.index(table)
    return turns
