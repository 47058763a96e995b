"""One file of the corpus at the door: proposed, its questions answered by the truth, read, and compared row by row."""

from __future__ import annotations

import re
import time
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from bench.corpus.records import AnyOf, Around, CorpusFile, Row, agrees

from evenhand.layouts import (
    NO_COLUMN,
    Answers,
    KnownCells,
    Proposal,
    Question,
    Rows,
    SourceFile,
    answered,
    propose,
    read,
)
from evenhand.terms.records import Refusal

__all__ = ["GOOD", "VERDICTS", "WORST", "Outcome", "known_cells", "meet", "true_text"]

ROUNDS = 8
"""So many questions may be asked one after the other before that counts as never ending."""

VERDICTS = {
    "right": "read right at the first proposal",
    "asked": "asked, though the file says it; right once answered",
    "refused": "refused, though it can be read",
    "rows refused": "read, but rows that can be read were refused",
    "left out": "read, but a column that it has was left out",
    "asked amiss": "asked, but the right answer was not to be chosen or did not lead to the right rows",
    "asked rightly": "asked what had to be, or may be, asked; right once answered",
    "refused rightly": "refused what had to be asked or is no table of ours",
    "guessed": "read right, though it had to be asked",
    "wrong table": "taken for another table",
    "wrong rows": "rows read wrongly without a word",
    "crashed": "ended in an error",
}
GOOD = {"right", "asked rightly", "refused rightly"}
WORST = {"wrong rows", "wrong table", "crashed"}


@dataclass
class Outcome:
    """What became of a file: a verdict, its cause in few words, and rows wrong, left out and refused."""

    number: int
    name: str
    expects: str
    dimensions: Mapping[str, str]
    verdict: str = ""
    cause: str = ""
    rows: int = 0
    wrong: int = 0
    left_out: int = 0
    refused: int = 0
    taken: int = 0
    asked: tuple[str, ...] = ()
    seconds: float = 0.0
    notes: list[str] = field(default_factory=list)


class _NoAnswerError(Exception):
    """The right answer to a question is not among its choices."""


def meet(file: CorpusFile) -> Outcome:
    """Return what became of the file at the door."""
    outcome = Outcome(file.number, file.name, file.expects, file.dimensions, rows=len(file.rows))
    begun = time.process_time()
    try:
        _meet(file, outcome)
    except Exception as error:  # noqa: BLE001  (a crash at the door is one of the outcomes that is counted)
        outcome.verdict, outcome.cause = "crashed", f"{type(error).__name__}: {error}"
    outcome.seconds = time.process_time() - begun
    return outcome


def _meet(file: CorpusFile, outcome: Outcome) -> None:
    source = SourceFile(file.name, file.content)
    try:
        proposal = _proposed(file, source, outcome)
        if not file.table and proposal.questions:
            outcome.verdict = "asked rightly"
            return
        rows = read(
            source,
            proposal.layout,
            zones=file.around.reader_zones,
            site_zones=file.around.site_zones,
            person_zones=file.around.person_zones,
        )
    except Refusal as refusal:
        outcome.verdict = "refused rightly" if file.expects in {"ask", "refuse"} and not outcome.asked else "refused"
        if outcome.asked:
            outcome.verdict = "asked rightly" if _needs_readers(file) else "asked amiss"
        outcome.cause = _short(str(refusal))
        outcome.notes.append(str(refusal))
        return
    except _NoAnswerError as missing:
        # without a reader known no answer can lead to rows: that it was asked is all that can be
        outcome.verdict = "asked rightly" if _needs_readers(file) else "asked amiss"
        outcome.cause = str(missing)
        return
    _judge(file, rows, outcome)


def known_cells(around: Around) -> KnownCells:
    """Return what a store in these surroundings would know."""
    return KnownCells(
        readers=list(around.reader_zones),
        numbers=sorted(around.numbers),
        people=list(around.person_zones),
        names=list(around.names.values()),
        sites=list(around.site_zones),
        today=around.today,
        orders=around.orders,
    )


def _needs_readers(file: CorpusFile) -> bool:
    return file.table in {"punches", "schedules"} and not file.around.reader_zones


def _proposed(file: CorpusFile, source: SourceFile, outcome: Outcome) -> Proposal:
    """Return the proposal once nothing is open in it; each question is answered by the truth."""
    around, answers = file.around, Answers()
    known = known_cells(around)
    for _ in range(ROUNDS):
        proposal = propose(source, answers, known)
        if not proposal.questions or not file.table:
            outcome.asked = outcome.asked or tuple(one.about for one in proposal.questions)
            return proposal
        for question in proposal.questions:
            outcome.asked += (question.about,)
            outcome.notes.append(f"asked about {question.about} {question.subject}: {question.asks}")
            try:
                answers = answered(answers, question, _answer(file, question))
            except (Refusal, _NoAnswerError) as amiss:
                as_table = proposal.layout.table
                seen_as = "" if as_table == file.table else f", seen as {as_table or 'no table'}"
                raise _NoAnswerError(f"asked about {question.about}{seen_as}: {_short(str(amiss))}") from amiss
    raise _NoAnswerError("questions never end")


def _answer(file: CorpusFile, question: Question) -> str:
    choices = [choice.answer for choice in question.choices]
    about, subject = question.about, question.subject
    if about == "column":
        uses = next((file.uses[at] for at in _places(file, subject)), ())
        wanted = [*uses, NO_COLUMN] if not uses else list(uses)
    elif about == "field":
        held = [at for at, uses in enumerate(file.uses) if subject in uses]
        wanted = [str(at + 1) for at in held] + [file.headers[at] for at in held if file.headers]
        wanted = wanted or [NO_COLUMN]
    elif about == "words":
        wanted = [file.words.get(subject, NO_COLUMN)]
    else:
        wanted = [
            {
                "table": file.table,
                "dates": file.dates,
                "reader": file.reader,
                "zone": file.zone,
                "zeros": str(file.zeros),
            }.get(about, "")
        ]
    if not wanted[0]:
        raise _NoAnswerError("the file says it, or is of another table")
    if about in {"zone", "reader", "zeros"} or not choices:
        return wanted[0]
    for answer in wanted:
        if answer in choices:
            return answer
    folded = {" ".join(choice.split()).casefold(): choice for choice in choices}
    for answer in wanted:
        if (key := " ".join(answer.split()).casefold()) in folded:
            return folded[key]
    raise _NoAnswerError(f"{subject if about == 'field' else ''} {wanted[0]} is not to be chosen".strip())


def _places(file: CorpusFile, subject: str) -> list[int]:
    """Return where the column is that a question names by header or by position from 1."""

    def plain(text: str) -> str:
        return " ".join(text.split()).casefold()

    if file.headers and (found := [at for at, one in enumerate(file.headers) if plain(one) == plain(subject)]):
        return found
    return [int(subject) - 1] if subject.isdigit() and 0 < int(subject) <= len(file.uses) else []


def _judge(file: CorpusFile, rows: Rows, outcome: Outcome) -> None:
    outcome.taken = rows.frame.height
    if rows.table.name != file.table:
        outcome.verdict = "wrong table" if rows.frame.height else "refused rightly"
        if file.table and not rows.frame.height:
            outcome.verdict = "refused"
        outcome.cause = f"{file.table or 'no table'} taken for {rows.table.name}"
        return
    differences: Counter[str] = Counter()
    lacking: Counter[str] = Counter()
    for row, found in _paired(file.rows, rows):
        _compare(row, found, rows, outcome, differences, lacking)
    if outcome.wrong:
        outcome.verdict, outcome.cause = "wrong rows", ", ".join(sorted(differences))
    elif _needs_readers(file) and not rows.frame.height:
        outcome.verdict = "refused rightly"
    elif outcome.left_out:
        outcome.verdict, outcome.cause = "left out", ", ".join(sorted(lacking))
    elif outcome.refused:
        outcome.verdict = "rows refused"
        reason = rows.rejects["reason"].to_list()
        outcome.cause = _short(Counter(reason).most_common(1)[0][0]) if reason else "rows are missing"
        if outcome.asked:
            outcome.verdict = "asked amiss"
    elif outcome.asked:
        outcome.verdict = "asked rightly" if file.expects in {"ask", "either"} else "asked"
        outcome.cause = "about " + ", ".join(sorted(set(outcome.asked)))
    else:
        outcome.verdict = "guessed" if file.expects == "ask" else "right"
        outcome.cause = file.why if file.expects == "ask" else ""


Found = Mapping[str, object] | None


def _paired(truth: tuple[Row, ...], rows: Rows) -> Iterator[tuple[Row | None, Found]]:
    """Yield each true row with the row taken for it, or none where it was refused; and rows taken that are not there.

    Rows are paired by their line. Where lines are counted in another way, they are paired in order, if there are as
    many rows as in truth.
    """
    taken = list(zip((int(line) for line in rows.lines), rows.frame.iter_rows(named=True), strict=True))
    # A title above a file without a header is refused as a row, and is none in truth.
    first = min((row.line for row in truth), default=0)
    refused = [int(line) for line in rows.rejects["line"].to_list() if line >= first]
    every: list[tuple[int, Found]] = sorted([*taken, *((line, None) for line in refused)], key=lambda one: one[0])
    lines = [line for line, _ in every]
    if lines == [row.line for row in truth] or (
        len(set(lines)) == len(lines) and set(lines) <= {row.line for row in truth}
    ):
        by_line = dict(every)
        for row in truth:
            yield row, by_line.get(row.line)
    elif len(every) == len(truth):
        for row, (_, found) in zip(truth, every, strict=True):
            yield row, found
    else:
        by_line = {line: found for line, found in every if found is not None}
        for row in truth:
            yield row, by_line.pop(row.line, None)
        for found in by_line.values():
            yield None, found


def _compare(
    row: Row | None, found: Found, rows: Rows, outcome: Outcome, differences: Counter[str], lacking: Counter[str]
) -> None:
    if row is None or row.kind == "noise":
        if found is not None:
            outcome.wrong += 1
            differences[f"a row that is {row.kind if row else 'not there'} was taken"] += 1
            outcome.notes.append(f"line {row.line if row else '?'}: taken as {_brief(found)}")
        return
    if row.kind == "bad":
        if found is None:
            return
        # a column left out takes its faults with it: then the column is what is missing, not the refusal
        if not row.fault or rows.table.column(row.fault).required or found[row.fault] is not None:
            outcome.wrong += 1
            differences["a bad row was taken"] += 1
            outcome.notes.append(f"line {row.line}: bad, taken as {_brief(found)}")
            return
        lacking[row.fault] += 1
        outcome.left_out += 1
        return
    if found is None:
        outcome.refused += 1
        return
    wrong = [
        column
        for column in rows.table.names
        if not agrees(column, row.values.get(column), found[column]) and found[column] is not None
    ]
    left = [
        column
        for column in rows.table.names
        if found[column] is None and not agrees(column, row.values.get(column), None)
    ]
    for column in wrong:
        differences[column] += 1
    for column in left:
        lacking[column] += 1
    if wrong:
        outcome.wrong += 1
        told = "; ".join(f"{column} {found[column]!r} for {true_text(row.values.get(column))}" for column in wrong)
        outcome.notes.append(f"line {row.line}: {told}")
    elif left:
        outcome.left_out += 1


def true_text(value: object) -> str:
    """Return a true value, or those that are equally right, for a person to read."""
    return " or ".join(repr(one) for one in value.values) if isinstance(value, AnyOf) else repr(value)


def _brief(found: Mapping[str, object]) -> str:
    return ", ".join(f"{name} {value!r}" for name, value in found.items() if value is not None)


def _short(sentence: str) -> str:
    """Return a sentence without what differs from file to file, so that like causes count together."""
    text = sentence.split(": ", 1)[-1]
    text = re.sub(r"'[^']*'|\"[^\"]*\"|“[^”]*”|\([^)]*\)", "…", text)
    return re.sub(r"\d+", "#", text)[:110]
