"""What every command asks alike: which workspace, which instant counts as now, and text that people write."""

from __future__ import annotations

from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import click

from evenhand.cli.printing import notify
from evenhand.cli.speaking import ask, folder_asked, name_zones
from evenhand.terms.disk_faults import why_of
from evenhand.terms.languages import Sentence, told
from evenhand.terms.lines import as_line
from evenhand.terms.papers import PAPERS
from evenhand.terms.records import Refusal
from evenhand.terms.zones import check_reckoned

__all__ = [
    "LINE",
    "as_json",
    "as_of",
    "author",
    "clock_now",
    "confirm_or_leave",
    "day_asked",
    "now_or",
    "paper_asked",
    "refuse_later",
    "text_of",
    "workspace_asked",
]

as_json = click.option("--json", "as_json", is_flag=True, help="Print JSON instead of a table.")

paper_asked = click.option(
    "--paper", type=click.Choice(PAPERS), default=None, help="Print on this paper; otherwise on the workplace's."
)

as_of = click.option(
    "--as-of",
    metavar="TIME",
    help="Only look, as of this time instead of now, such as 2026-11-16T08:00-06:00.",
)


class _Line(click.ParamType[str]):
    """Text that is kept with a decision or printed: one clean line."""

    name = "text"

    def convert(self, value: str, param: click.Parameter | None, ctx: click.Context | None) -> str:
        """Return the text as one line; raises Refusal as `as_line` does."""
        return as_line(value, param.opts[0] if param else "")


LINE = _Line()

author = click.option(
    "--author", envvar="EVENHAND_AUTHOR", metavar="NAME", type=LINE, help="Who decides; kept with the decision."
)


def confirm_or_leave(ctx: click.Context, question: str) -> None:
    """Ask a yes/no question on standard error; where the answer is no, say that nothing was done and exit with 1."""
    if not ask(question if isinstance(question, Sentence) else told(question), default=False):
        notify("nothing was done.")
        ctx.exit(1)


def workspace_asked(ctx: click.Context) -> Any:
    """Open the workspace named by --workspace, or the nearest one at or above this folder.

    Where the command is asked --as-of another time than now, it only looks (`Workspace.looking`).
    """
    from evenhand.jobs.workspace import do_zones_meet, open_workspace

    here = Path.cwd()
    folder = folder_asked(ctx.find_root().obj, here)
    if folder is None:
        raise Refusal(
            told(
                "{folder} is not in a workspace; make one with `evenhand new DIR`, or name one with --workspace DIR.",
                folder=here,
            )
        )
    workspace = open_workspace(folder)
    name_zones(do_zones_meet(workspace))
    for notice in workspace.notices:
        notify("{notice}", notice=notice)
    return workspace.looking() if _is_as_of(ctx) else workspace


def _is_as_of(ctx: click.Context) -> bool:
    above: click.Context | None = ctx
    while above is not None:
        if above.params.get("as_of") is not None:
            return True
        above = above.parent
    return False


def clock_now() -> datetime:
    """Return the instant that the machine's clock tells, to the second."""
    return datetime.now(UTC).replace(microsecond=0)  # noqa: TID251  the commands' clock


def now_or(text: str | None) -> datetime:
    """Return the instant asked for, or now; raises Refusal where the text is no time with its offset."""
    if text is None:
        return clock_now()
    try:
        instant = datetime.fromisoformat(text)
    except ValueError as error:
        raise Refusal(told('--as-of "{text}" is no time; write it as 2026-11-16T08:00-06:00.', text=text)) from error
    if instant.tzinfo is None:
        said = instant.isoformat(timespec="minutes")
        raise Refusal(
            told(
                '--as-of "{text}" does not say its offset from UTC; write it as {said}-06:00 or {said}Z.',
                text=text,
                said=said,
            )
        )
    check_reckoned(instant.date())
    return instant


def refuse_later(instant: datetime, what: str) -> None:
    """Raise Refusal where what cannot be undone is asked for as of a time that has not come."""
    if instant > clock_now():
        raise Refusal(
            told(
                "--as-of is later than now, and {what} cannot be undone; preview it, or do it when that day comes.",
                what=what,
            )
        )


def day_asked(text: str | None, option: str) -> date | None:
    """Return the day asked for; raises Refusal where the text is no date."""
    if text is None:
        return None
    try:
        return check_reckoned(date.fromisoformat(text))
    except ValueError as error:
        raise Refusal(
            told('{option} "{text}" is no date; write it as 2026-11-09.', option=option, text=text)
        ) from error


LARGEST_TEXT = 200_000


def text_of(file: Path, what: str) -> str:
    """Return the text of a file that holds `what`; raises Refusal where it cannot be read, or is too large for that."""
    try:
        content = file.read_bytes()
    except OSError as fault:
        raise Refusal(
            told(
                "{file} cannot be read ({why}); name the file that holds {what}.",
                file=file,
                why=why_of(fault),
                what=what,
            )
        ) from fault
    if len(content) > LARGEST_TEXT:
        raise Refusal(
            told("{file} is too large for {what}; give the TOML file that holds its text.", file=file, what=what)
        )
    try:
        return content.decode("utf-8")
    except UnicodeDecodeError as fault:
        raise Refusal(
            told("{file} is not text in UTF-8 (byte {byte}); save it as UTF-8.", file=file, byte=fault.start)
        ) from fault
