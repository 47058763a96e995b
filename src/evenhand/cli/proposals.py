"""How a file that is to be taken is shown: its columns, its first rows, what would be refused, what would change."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import click

from evenhand.cli.printing import print_paragraph, print_table
from evenhand.terms.characters import escaped
from evenhand.terms.sources import SOURCES
from evenhand.terms.words import as_likelihood, counted, listed

if TYPE_CHECKING:
    from evenhand.jobs.seen import ColumnUse, FirstRow, Question, RefusedRows, Seen

__all__ = ["how_to_answer", "print_seen"]

ROWS = 3  # first rows shown
OPTIONS = 4  # that answer a question, named
UNNAMED = {"table": "NAME", "dates": "ORDER", "reader": "NAME", "zone": "ZONE", "zeros": "DIGITS"}


def print_seen(seen: Seen, *, err: bool) -> None:
    """Print what a file seems to be and what taking it would do, on standard error or output."""
    layout = seen.proposal.layout
    by = f", read by the kept layout {seen.proposal.kept}" if seen.proposal.kept else ""
    click.echo(err=err)
    click.secho(f"{escaped(seen.file)} looks like {layout.table}{by}", bold=True, err=err)
    print_paragraph(f"{SOURCES[layout.table].title}.", err=err)
    if layout.reader:
        print_paragraph(f"Every row is taken as one of reader {layout.reader}.", err=err)
    if layout.zone:
        print_paragraph(f"Its times are read as written in {layout.zone}.", err=err)
    click.echo(err=err)
    _print_uses(seen.proposal.uses, err=err)
    if seen.first:
        on = f", times on clocks in {listed(seen.zones)}" if seen.zones else ""
        how = "as written and as read" if any(row.read for row in seen.first) else "as written"
        click.secho(f"\nFirst rows, {how}{on}", bold=True, err=err)
        print_table(("", "", ""), (line for row in seen.first[:ROWS] for line in _row(row)), err=err)
    if seen.read:
        _print_effect(seen, err=err)


def _print_uses(uses: Sequence[ColumnUse], *, err: bool) -> None:
    used, unused = [use for use in uses if use.names], [use for use in uses if not use.names]
    print_table(
        ("Column", "Used as", "That is", "Such as"),
        (
            (
                _called(use),
                listed([name.replace("_", " ") for name in use.names]),
                as_likelihood(use.likelihood),
                _samples(use),
            )
            for use in used
        ),
        err=err,
    )
    if unused:
        click.secho("\nNot used", bold=True, err=err)
        print_table(("Column", "Such as"), ((_called(use), _samples(use)) for use in unused), err=err)


def _called(use: ColumnUse) -> str:
    return use.header or f"column {use.position}"


def _samples(use: ColumnUse) -> str:
    return " | ".join(text for text in use.samples if text.strip()) or "nothing"


def _row(row: FirstRow) -> list[tuple[object, ...]]:
    written = " | ".join(row.written)
    if not (row.reason or row.read):
        return [(f"line {row.line}", "written", written)]
    if row.reason:
        return [(f"line {row.line}", "written", written), (None, "refused", row.reason)]
    read = ", ".join(f"{name.replace('_', ' ')} {value}" for name, value in row.read.items() if value)
    return [(f"line {row.line}", "written", written), (None, "read", read)]


def _print_effect(seen: Seen, *, err: bool) -> None:
    if seen.refused:
        click.secho("\nWhat would be refused", bold=True, err=err)
        for refusal in seen.refusals:
            print_paragraph(_refusal(refusal), err=err)
        shown_rows = sum(refusal.rows for refusal in seen.refusals)
        if shown_rows < seen.refused:
            print_paragraph(f"and {seen.refused - shown_rows:,} more, for other reasons", err=err)
    click.secho("\nWhat would change", bold=True, err=err)
    if seen.changes is not None:
        changes = seen.changes
        counts = [
            (changes.new, "new"),
            (changes.changed, "changed"),
            (changes.known, "known already"),
            (seen.refused, "refused"),
        ]
        rows = listed([f"{count:,} {what}" for count, what in counts if count])
        print_paragraph(f"Of {counted(seen.read, 'row')}: {rows}.", err=err)
    for sentence in (*(seen.changes.says if seen.changes else ()), *seen.notices):
        print_paragraph(sentence, err=err)


def _refusal(refusal: RefusedRows) -> str:
    more = f" and {counted(refusal.rows - 1, 'row')} more" if refusal.rows > 1 else ""
    seen = f' "{refusal.seen}"' if refusal.seen else ""
    return f"line {refusal.line}{more}: {refusal.column}{seen}: {refusal.reason}"


def how_to_answer(question: Question) -> str:
    """Return the options that answer a question when nobody is asked: all of a few, so that none is put first."""
    options = [_option(question, choice.answer) for choice in question.choices[:OPTIONS]]
    if len(question.choices) > OPTIONS:
        options.append(_option(question, "..."))
    if question.about == "column":
        options.append(f'--ignore "{question.subject}"')
    return " or ".join(dict.fromkeys(options)) or _option(question, UNNAMED.get(question.about, "COLUMN"))


def _option(question: Question, answer: str) -> str:
    from evenhand.jobs.seen import NO_COLUMN

    subject = question.subject
    match question.about:
        case "column":
            return f'--ignore "{subject}"' if answer == NO_COLUMN else f'--map "{subject}={answer}"'
        case "field":
            return f'--map "{answer}={subject}"'
        case "words":
            return f'--word "{subject}={answer}"'
        case "layout":
            return f"--layout with the path of {answer}"
        case about:
            return f"--{about} {answer}"
