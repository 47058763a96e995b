"""What a file seems to be, column by column, and what has to be asked before a row of it is taken."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Any, Literal

from evenhand.layouts.layout import Layout
from evenhand.terms.languages import told
from evenhand.terms.records import Refusal

__all__ = ["NO_COLUMN", "OWN_CLOCK", "Answers", "Choice", "ColumnUse", "KnownCells", "Proposal", "Question", "answered"]

NO_COLUMN = "none"
"""The answer that a column of the file is no declared one."""

OWN_CLOCK = "none"
"""The answer that times are written in no zone of the file's own, but on the clock of the reader or the site."""


@dataclass(frozen=True)
class Answers:
    """What a person has said about a file; what is empty was not said.

    `zone` is the IANA zone in which the file's times are written, or OWN_CLOCK; `dates` is their order ("dmy", "mdy",
    "ymd"), `zeros` how many digits keyed numbers are padded to (0: leave them as they are). `maps` names for columns
    of the file, by header or position from 1, the declared column they are; `ignored` names those that are none.
    `layout` is the key of the kept layout that is to be used. `words` says what a word of the file stands for ("WEJ":
    "in"), or NO_COLUMN.
    `roster` says whether a list of people is the "whole" roster or a "part" of it.
    """

    table: str = ""
    reader: str = ""
    zone: str = ""
    dates: str = ""
    zeros: int | None = None
    maps: Mapping[str, str] = field(default_factory=dict)
    ignored: frozenset[str] = frozenset()
    layout: str = ""
    words: Mapping[str, str] = field(default_factory=dict)
    roster: str = ""


@dataclass(frozen=True)
class KnownCells:
    """What a workplace's store knows already, and what cells of a file may therefore be.

    `numbers` are those that people key, `people` their identifiers. `today` is the day on which the file is looked at;
    no log tells of a later one. `orders` gives the order of dates that was seen before, by where that was: the name of
    a kept layout, or of a reader, or `Layout.origin`.
    """

    readers: Collection[str] = ()
    numbers: Collection[str] = ()
    people: Collection[str] = ()
    names: Collection[str] = ()
    sites: Collection[str] = ()
    today: date | None = None
    orders: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class ColumnUse:
    """One column of the file, what it is used as (nothing: `names` is empty), and some of its cells as written.

    `position` counts from 1; `likelihood`, from 0 to 1, says how likely this use is under all that the file shows.
    """

    position: int
    header: str
    names: tuple[str, ...]
    likelihood: float
    samples: tuple[str, ...]


@dataclass(frozen=True)
class Choice:
    """One possible answer: what is to be given (`dmy`), and what it would mean ("03/04/2026 is 3 April 2026")."""

    answer: str
    means: str


@dataclass(frozen=True)
class Question:
    """What the file does not decide.

    About a "column", `subject` is a column of the file (header or position from 1) and the answer the declared column
    it is, or NO_COLUMN; about a "field", `subject` is a declared column and the answer the column of the file that
    holds it; about "words", `subject` is a cell as it is written and the answer what it stands for, or NO_COLUMN. The
    other answers stand in the field of `Answers` of that name. Where there are no choices any text may be the answer;
    those of "zone" and "zeros" are suggestions.
    """

    about: Literal["table", "column", "field", "dates", "reader", "zone", "zeros", "layout", "words", "roster"]
    asks: str
    choices: tuple[Choice, ...]
    subject: str = ""


@dataclass(frozen=True)
class Proposal:
    """How a file would be read: `layout`, the use of each of its columns, and what stays open.

    Rows may be taken only once `questions` is empty. `kept` is the key of the kept layout that is used, '' where
    the layout is a fresh one or one that answers have changed. `offers` are columns that a kept layout leaves out and
    that seem to be declared ones; `notices` say what else the file holds, and why a kept layout is not used.
    """

    layout: Layout
    uses: tuple[ColumnUse, ...]
    questions: tuple[Question, ...] = ()
    offers: tuple[ColumnUse, ...] = ()
    kept: str = ""
    notices: tuple[str, ...] = ()


def answered(answers: Answers, question: Question, answer: str) -> Answers:
    """Return what was said before together with this answer; raises Refusal where it is none to the question."""
    said = answer.strip()
    is_open = not question.choices or question.about in ("zone", "zeros")
    allowed = {choice.answer.casefold(): choice.answer for choice in question.choices}
    said = allowed.get(said.casefold(), said if is_open else "")
    if not said or (question.about == "zeros" and not (said.isascii() and said.isdigit())):
        expected = ", ".join(choice.answer for choice in question.choices) or told("a text")
        raise Refusal(
            told('"{answer}" is no answer to this; give one of {expected}.', answer=answer, expected=expected)
        )
    match question.about:
        case "column":
            return _used(answers, question.subject, said)
        case "field":
            return _used(answers, said, question.subject)
        case "words":
            return replace(answers, words={**answers.words, question.subject: said})
        case "zeros":
            return replace(answers, zeros=int(said))
        case about:
            given: dict[str, Any] = {about: said}
            return replace(answers, **given)


def _used(answers: Answers, column: str, name: str) -> Answers:
    """Return the answers with a column of the file used as the declared `name`, or as none."""
    maps = {source: used for source, used in answers.maps.items() if source != column}
    if name == NO_COLUMN:
        return replace(answers, maps=maps, ignored=answers.ignored | {column})
    return replace(answers, maps={**maps, column: name}, ignored=answers.ignored - {column})
