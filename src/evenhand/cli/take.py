"""Take files in: roster, readers, enrolment lists, punch logs, schedules, consent."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from evenhand.cli.answers import answers_of, asks_about_a_file
from evenhand.cli.asked import LINE, as_json, now_or, workspace_asked
from evenhand.cli.printing import notify, print_json, print_paragraph, print_table, say
from evenhand.cli.proposals import how_to_answer, print_seen
from evenhand.cli.questions import asking, print_question
from evenhand.cli.speaking import tell, word
from evenhand.terms.languages import told
from evenhand.terms.records import Refusal

if TYPE_CHECKING:
    from evenhand.jobs.take import Receipt, RefusedFile, Seen

__all__ = ["command", "print_receipts", "taking"]


@click.command()
@click.argument("files", nargs=-1, required=True, type=click.Path(path_type=Path))
@asks_about_a_file
@click.option("--yes", is_flag=True, help="Accept what is proposed; what is open is still refused.")
@click.option(
    "--author",
    envvar="EVENHAND_AUTHOR",
    default="",
    metavar="NAME",
    type=LINE,
    help="Who takes the files in, of whom the ledger tells; may be left out.",
)
@click.option("--try", "is_try", is_flag=True, help="Show what would be taken, and take nothing.")
@as_json
@click.pass_context
def command(
    ctx: click.Context,
    /,
    files: tuple[Path, ...],
    layout: Path | None,
    yes: bool,
    author: str,
    is_try: bool,
    as_json: bool,
    **said: Any,
) -> None:
    """Take FILES in, in whatever layout they come: readers first, then people, then what refers to them.

    How a new kind of file would be read is shown and asked once; the layout is kept with the workspace. The exit code
    is 0 where every row is taken or known, 3 where some were refused, 2 where nothing was taken.
    """
    from evenhand.jobs.kept_layouts import read_layout
    from evenhand.jobs.take import look_at_files, take_files

    workspace, today = workspace_asked(ctx), now_or(None).date()
    answers = answers_of(**said)
    written = read_layout(layout) if layout else None
    if is_try:
        seen = look_at_files(workspace, files, answers, layout=written, today=today)
        if as_json:
            print_json(seen)
        else:
            _print_tried(seen)
        ctx.exit(_code(seen))
    with taking() as bar:
        receipts = take_files(
            workspace,
            files,
            answers=answers,
            layout=written,
            confirm=None if yes else asking(bar.paused) if sys.stdin.isatty() else _nobody,
            progress=bar,
            today=today,
            is_unseen=yes,
            author=author,
        )
    if as_json:
        print_json(receipts)
    else:
        print_receipts(receipts)
    ctx.exit(_code(receipts))


def _nobody(seen: Seen) -> bool:
    if seen.proposal.questions:
        return True  # which has the question refused
    raise Refusal(
        told(
            "{file}: nobody is at the terminal to confirm how it is read as {table}; look at it with --try, and give "
            "--yes to accept that.",
            file=seen.file,
            table=word(seen.proposal.layout.table),
        )
    )


def _code(results: Sequence[Receipt | Seen | RefusedFile]) -> int:
    """Return 0 where every row is taken or known, 2 where none is, 3 between."""
    from evenhand.jobs.take import Receipt, RefusedFile

    read = refused = whole = 0
    for one in results:
        if isinstance(one, Receipt):
            read, refused = read + one.read, refused + one.rejected
        elif isinstance(one, RefusedFile) or one.proposal.questions:
            whole += 1
        else:
            read, refused = read + one.read, refused + one.refused
    if not refused + whole:
        return 0
    return 3 if read > refused else 2


def _print_tried(results: Sequence[Seen | RefusedFile]) -> None:
    from evenhand.jobs.take import RefusedFile

    for one in results:
        if isinstance(one, RefusedFile):
            notify("{why}", why=_why(one))
            continue
        print_seen(one, err=False)
        for question in one.proposal.questions:
            print_question(question, err=False)
            print_paragraph(told("Answer it by an option, such as {options}.", options=how_to_answer(question)))
    say("Nothing was taken.", lead="\n")


def _why(file: RefusedFile) -> str:
    if not file.question:
        return file.reason
    answer = told("Answer it by an option, such as {options}.", options=how_to_answer(file.question))
    return told("{reason} {answer}", reason=file.reason, answer=answer)


class Bar:
    """A bar on standard error that shows how far a file has come; called with a stage and its fraction."""

    def __init__(self) -> None:
        from rich.console import Console
        from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn

        columns = TextColumn("{task.description:<14}"), BarColumn(), TimeElapsedColumn()
        is_drawn = sys.stderr.isatty()
        self._drawn = Progress(*columns, console=Console(stderr=True), transient=True, disable=not is_drawn)
        self._task = self._drawn.add_task(tell(told("reading")), total=1.0)

    def __call__(self, stage: str, fraction: float) -> None:
        """Draw the stage of the work and how much of it is done."""
        self._drawn.update(self._task, description=tell(word(stage)), completed=fraction)

    @contextmanager
    def drawn(self) -> Iterator[None]:
        """Draw the bar while the block runs."""
        with self._drawn:
            yield

    @contextmanager
    def paused(self) -> Iterator[None]:
        """Take the bar away while the block runs, so that it never overwrites a question."""
        self._drawn.stop()
        try:
            yield
        finally:
            self._drawn.start()


@contextmanager
def taking() -> Iterator[Bar]:
    """Yield a progress callback that draws a bar on standard error, while it is a terminal."""
    bar = Bar()
    with bar.drawn():
        yield bar


def print_receipts(receipts: Sequence[Receipt | RefusedFile]) -> None:
    """Print what became of each file: its counts, what to know about it, and where rejected rows stand."""
    from evenhand.jobs.take import Receipt, RefusedFile

    taken = [receipt for receipt in receipts if isinstance(receipt, Receipt)]
    if taken:
        print_table(
            ("File", "Is", "Read", "Taken", "Known", "Rejected", "No longer listed"),
            (
                (one.file, word(one.table), one.read, one.taken, one.known, one.rejected, one.gone or None)
                for one in taken
            ),
            right=(2, 3, 4, 5, 6),
        )
    for one in taken:
        for notice in one.notices:
            say("{file}: {notice}", file=one.file, notice=notice)
        if one.rejected_path and one.rejected < one.read:
            say(
                "{file}: {rows:# row|# rows} rejected, each with its reason in {rejected_path}",
                file=one.file,
                rows=one.rejected,
                rejected_path=one.rejected_path,
            )
        elif one.rejected_path:
            notify(
                "{file}: nothing of it could be taken; the reason of each of its {read} rows stands in "
                "{rejected_path}.",
                file=one.file,
                read=one.read,
                rejected_path=one.rejected_path,
            )
    for file in receipts:
        if isinstance(file, RefusedFile):
            notify("{why}", why=_why(file))
