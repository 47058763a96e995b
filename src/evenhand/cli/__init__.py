"""The command line: one module a command, imported only when it is called."""

from __future__ import annotations

import importlib
import os
import sys

import click

from evenhand import __version__
from evenhand.cli.printing import folded, notify
from evenhand.cli.speaking import Context, chosen, show_error, speak_help, tell
from evenhand.terms.characters import escaped
from evenhand.terms.fault_places import place_of
from evenhand.terms.languages import LANGUAGES, said_of, sentence
from evenhand.terms.records import Refusal

__all__ = ["main"]

# Written down rather than discovered: listing the commands must not import them.
COMMANDS = {
    "demo": sentence("Take an invented workplace's files in and show what needs a person today."),
    "new": sentence("Make a workspace for a workplace of your own."),
    "take": sentence("Take files in: roster, readers, enrolment lists, punch logs, schedules, consent."),
    "takes": sentence("List the files taken, take one back, read one again."),
    "layouts": sentence("List the layouts kept for files, look at one, see by which a file would be read."),
    "today": sentence("List what needs a person today, most at stake first."),
    "find": sentence("Find people, numbers, readers, strays, files and days by a few words."),
    "people": sentence("List people, their numbers and where they are enrolled."),
    "readers": sentence("List readers, and the steps that make each agree with the roster."),
    "supervisors": sentence("Show who may enrol others at each reader, and plan for one who leaves."),
    "teaching": sentence("Show who of the supervisors practised, what became of their enrolments, whom to show again."),
    "hands": sentence("Show which hands and readers changed, and whom to enrol again."),
    "hours": sentence("Show paid hours, and why."),
    "pay": sentence("Show a person's pay for a week, line by line."),
    "statement": sentence("Print a person's statement of hours and pay, to be disputed line by line."),
    "signoff": sentence("Confirm hours by the code on a statement, approve them, see who has not."),
    "dispute": sentence("Keep what a person says is wrong in their record, and answer it."),
    "access": sentence("Write everything held on one person, without anybody else in it."),
    "strays": sentence("Find whose punches arrive under numbers nobody holds."),
    "numbers": sentence("Design numbers so that a slip of the finger lands on nobody."),
    "correct": sentence("Add a punch, leave one out, say which way it went; take a correction back."),
    "missing": sentence("Ask supervisors about missing punches, and decide on what they say."),
    "premium": sentence("Strike hours owed for a meal or the like, or enter them."),
    "settle": sentence("Put a finding aside, with who decided and why, or open it again."),
    "settled": sentence("List what is settled, by whom and why."),
    "rounding": sentence("Show whether rounding averages out, for sites and people."),
    "handoff": sentence("Write the period's file for payroll."),
    "consent": sentence("Keep the policy on hands, and who agreed, refused, withdrew or chose another way."),
    "leavers": sentence("List whose hand must be gone and whose records go when, from last day to erasure."),
    "hold": sentence("Stop the disposal of somebody's time records while a suit, charge or audit is open."),
    "retention": sentence("Print the public retention schedule."),
    "erase": sentence("Erase somebody, once nothing wants their records kept."),
    "steps": sentence("Write how things are done at each kind of reader, in your own words."),
    "enrol": sentence("Plan an enrolment day, print it, change it while it runs, and prove it."),
    "serve": sentence("Show the pages in a browser on this machine."),
    "watch": sentence("Watch a folder, and take what a confirmed layout fits."),
    "twin": sentence("Write an invented workplace's files, with the truth beside them."),
    "ledger": sentence("Prove that nothing was altered, show what was done when and by whom."),
    "rebuild": sentence("Make the store anew from the files taken and what was decided."),
    "schema": sentence("Print a table's schema in an open format."),
}


class Commands(click.Group):
    """The commands, each imported when it is called."""

    context_class = Context

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Return the commands in the order of an administrator's week."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Return the command, imported now; None where there is none of that name."""
        if cmd_name not in COMMANDS:
            return None
        command = importlib.import_module(f"evenhand.cli.{cmd_name}").command
        assert isinstance(command, click.Command)
        speak_help(command)
        return command

    def format_help(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write the help in the language that is spoken, which may not be known before it is asked for."""
        speak_help(self)
        super().format_help(ctx, formatter)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write the list of commands without importing any."""
        with formatter.section("Commands"):
            formatter.write_dl(list(COMMANDS.items()))


@click.group(cls=Commands, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 110})
@click.version_option(__version__, prog_name="evenhand")
@click.option(
    "--workspace",
    "-w",
    metavar="DIR",
    envvar="EVENHAND_WORKSPACE",
    is_eager=True,
    callback=chosen,
    help="The workspace; otherwise the nearest one at or above this folder.",
)
@click.option(
    "--speak",
    type=click.Choice(LANGUAGES),
    envvar="EVENHAND_SPEAK",
    is_eager=True,
    expose_value=False,
    callback=chosen,
    help="The language to speak; otherwise the workplace's, else this machine's.",
)
@click.pass_context
def evenhand(ctx: click.Context, workspace: str | None) -> None:
    """Keep roster, readers, punches and paid hours in agreement.

    A calculation aid, not legal advice: local codes, agreements and licensed counsel decide.
    """
    ctx.obj = workspace


def main() -> None:
    """Run a command; a refusal is one sentence on standard error and exit code 2."""
    # Several people are served at once: a library that splits one small system over all cores makes all of them wait.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    # Whatever a command writes, and wherever, is its user's alone until that user shares it.
    os.umask(0o077)
    try:
        code = evenhand(prog_name="evenhand", standalone_mode=False)
        sys.exit(code if isinstance(code, int) else 0)
    except Refusal as refusal:
        click.echo(folded(f"evenhand: {escaped(tell(said_of(refusal)))}", err=True), err=True)
        sys.exit(2)
    except click.ClickException as error:
        show_error(error)
        sys.exit(2)
    except (click.Abort, KeyboardInterrupt):
        notify("stopped; nothing was left half written.")
        sys.exit(130)
    except BrokenPipeError:
        # The reader of our output has gone, as `| head` does; a second complaint at exit helps nobody.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(1)
    except Exception as fault:
        if os.environ.get("EVENHAND_TRACEBACK"):
            raise
        notify(
            "this is a fault in evenhand, not in your files: {place}. Nothing was left half written. Please "
            "report it with what EVENHAND_TRACEBACK=1 prints, without what that shows of people.",
            place=place_of(fault),
        )
        sys.exit(1)
