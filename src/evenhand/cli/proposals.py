"""How a file that is to be taken is shown: its columns, its first rows, what would be refused, what would change."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import click

from evenhand.cli.printing import print_paragraph, print_table, say
from evenhand.cli.speaking import word
from evenhand.terms.characters import escaped
from evenhand.terms.languages import in_a_row, sentence, told
from evenhand.terms.sources import SOURCES
from evenhand.terms.words import as_likelihood

if TYPE_CHECKING:
    from evenhand.jobs.seen import ColumnUse, FirstRow, Question, RefusedRows, Seen

__all__ = ["how_to_answer", "print_seen"]

ROWS = 3  # first rows shown
OPTIONS = 4  # that answer a question, named
UNNAMED = {"table": "NAME", "dates": "ORDER", "reader": "NAME", "zone": "ZONE", "zeros": "DIGITS"}


def print_seen(seen: Seen, *, err: bool) -> None:
    """Print what a file seems to be and what taking it would do, on standard error or output."""
    layout = seen.proposal.layout
    by = told(", read by the kept layout {layout}", layout=seen.proposal.kept) if seen.proposal.kept else ""
    click.echo(err=err)
    say("{file} looks like {table}{by}", err=err, bold=True, file=escaped(seen.file), table=word(layout.table), by=by)
    print_paragraph(told("{title}.", title=told(SOURCES[layout.table].title)), err=err)
    if layout.reader:
        print_paragraph(told("Every row is taken as one of reader {reader}.", reader=layout.reader), err=err)
    if layout.zone:
        print_paragraph(told("Its times are read as written in {zone}.", zone=layout.zone), err=err)
    click.echo(err=err)
    _print_uses(seen.proposal.uses, err=err)
    if seen.first:
        on = told(", times on clocks in {zones:listed}", zones=seen.zones) if seen.zones else ""
        how = told("as written and as read") if any(row.read for row in seen.first) else told("as written")
        say("First rows, {how}{on}", lead="\n", err=err, bold=True, how=how, on=on)
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
                told("{columns:listed}", columns=[word(name.replace("_", " ")) for name in use.names]),
                word(as_likelihood(use.likelihood)),
                _samples(use),
            )
            for use in used
        ),
        err=err,
    )
    if unused:
        say("Not used", lead="\n", err=err, bold=True)
        print_table(("Column", "Such as"), ((_called(use), _samples(use)) for use in unused), err=err)


def _called(use: ColumnUse) -> str:
    return use.header or told("column {position}", position=use.position)


def _samples(use: ColumnUse) -> str:
    return " | ".join(text for text in use.samples if text.strip()) or told("nothing")


def _row(row: FirstRow) -> list[tuple[object, ...]]:
    written = " | ".join(row.written)
    lines: list[tuple[object, ...]] = [(told("line {line}", line=row.line), told("written"), written)]
    if row.reason:
        lines.append((None, told("refused"), row.reason))
    elif row.read:
        read = [
            told("{column} {value}", column=word(name.replace("_", " ")), value=value)
            for name, value in row.read.items()
            if value
        ]
        lines.append((None, told("read"), told("{read:commas}", read=read)))
    return lines


def _print_effect(seen: Seen, *, err: bool) -> None:
    if seen.refused:
        say("What would be refused", lead="\n", err=err, bold=True)
        for refusal in seen.refusals:
            print_paragraph(_refusal(refusal), err=err)
        shown_rows = sum(refusal.rows for refusal in seen.refusals)
        if shown_rows < seen.refused:
            print_paragraph(told("and {refused:,} more, for other reasons", refused=seen.refused - shown_rows), err=err)
    say("What would change", lead="\n", err=err, bold=True)
    if seen.changes is not None:
        changes = seen.changes
        counts = [
            (changes.new, sentence("{count:# new|# new}")),
            (changes.changed, sentence("{count:# changed|# changed}")),
            (changes.known, sentence("{count:# known already|# known already}")),
            (seen.refused, sentence("{count:# refused|# refused}")),
        ]
        parts = [told(what, count=count) for count, what in counts if count]
        print_paragraph(told("Of {rows:# row|# rows}: {parts:listed}.", rows=seen.read, parts=parts), err=err)
    for says in (*(seen.changes.says if seen.changes else ()), *seen.notices):
        print_paragraph(says, err=err)


def _refusal(refusal: RefusedRows) -> str:
    more = told(" and {rows:# row|# rows} more", rows=refusal.rows - 1) if refusal.rows > 1 else ""
    seen = told(' "{seen}"', seen=refusal.seen) if refusal.seen else ""
    return told(
        "line {line}{more}: {column}{seen}: {reason}",
        line=refusal.line,
        more=more,
        column=refusal.column,
        seen=seen,
        reason=refusal.reason,
    )


def how_to_answer(question: Question) -> str:
    """Return the options that answer a question when nobody is asked: all of a few, so that none is put first."""
    options = [_option(question, choice.answer) for choice in question.choices[:OPTIONS]]
    if len(question.choices) > OPTIONS:
        options.append(_option(question, "..."))
    if question.about == "column":
        options.append(f'--ignore "{question.subject}"')
    return in_a_row("{one} or {other}", dict.fromkeys(options)) or _option(
        question, UNNAMED.get(question.about, "COLUMN")
    )


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
            return told("--layout with the path of {layout}", layout=answer)
        case about:
            return f"--{about} {answer}"
