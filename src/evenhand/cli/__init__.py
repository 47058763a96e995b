"""The command line: one module a command, imported only when it is called."""

from __future__ import annotations

import importlib
import os
import sys

import click

from evenhand import __version__
from evenhand.terms.characters import escaped
from evenhand.terms.fault_places import place_of
from evenhand.terms.records import Refusal

__all__ = ["main"]

# Written down rather than discovered: listing the commands must not import them.
COMMANDS = {
    "demo": "Take an invented workplace's files in and show what needs a person today.",
    "new": "Make a workspace for a workplace of your own.",
    "take": "Take files in: roster, readers, enrolment lists, punch logs, schedules, consent.",
    "takes": "List the files taken, take one back, read one again.",
    "layouts": "List the layouts kept for files, look at one, see by which a file would be read.",
    "today": "List what needs a person today, most at stake first.",
    "find": "Find people, numbers, readers, strays, files and days by a few words.",
    "people": "List people, their numbers and where they are enrolled.",
    "readers": "List readers, and the steps that make each agree with the roster.",
    "supervisors": "Show who may enrol others at each reader, and plan for one who leaves.",
    "teaching": "Show who of the supervisors practised, what became of their enrolments, whom to show again.",
    "hands": "Show which hands and readers changed, and whom to enrol again.",
    "hours": "Show paid hours, and why.",
    "pay": "Show a person's pay for a week, line by line.",
    "statement": "Print a person's statement of hours and pay, to be disputed line by line.",
    "signoff": "Confirm hours by the code on a statement, approve them, see who has not.",
    "dispute": "Keep what a person says is wrong in their record, and answer it.",
    "access": "Write everything held on one person, without anybody else in it.",
    "strays": "Find whose punches arrive under numbers nobody holds.",
    "numbers": "Design numbers so that a slip of the finger lands on nobody.",
    "correct": "Add a punch, leave one out, say which way it went; take a correction back.",
    "missing": "Ask supervisors about missing punches, and decide on what they say.",
    "premium": "Strike hours owed for a meal or the like, or enter them.",
    "settle": "Put a finding aside, with who decided and why, or open it again.",
    "settled": "List what is settled, by whom and why.",
    "rounding": "Show whether rounding averages out, for sites and people.",
    "handoff": "Write the period's file for payroll.",
    "consent": "Keep the policy on hands, and who agreed, refused, withdrew or chose another way.",
    "leavers": "List whose hand must be gone and whose records go when, from last day to erasure.",
    "hold": "Stop the disposal of somebody's time records while a suit, charge or audit is open.",
    "retention": "Print the public retention schedule.",
    "erase": "Erase somebody, once nothing wants their records kept.",
    "steps": "Write how things are done at each kind of reader, in your own words.",
    "enrol": "Plan an enrolment day, print it, change it while it runs, and prove it.",
    "serve": "Show the pages in a browser on this machine.",
    "watch": "Watch a folder, and take what a confirmed layout fits.",
    "twin": "Write an invented workplace's files, with the truth beside them.",
    "ledger": "Prove that nothing was altered, show what was done when and by whom.",
    "rebuild": "Make the store anew from the files taken and what was decided.",
    "schema": "Print a table's schema in an open format.",
}


class Commands(click.Group):
    """The commands, each imported when it is called."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Return the commands in the order of an administrator's week."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Return the command, imported now; None where there is none of that name."""
        if cmd_name not in COMMANDS:
            return None
        command = importlib.import_module(f"evenhand.cli.{cmd_name}").command
        assert isinstance(command, click.Command)
        return command

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
    help="The workspace; otherwise the nearest one at or above this folder.",
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
        click.echo(f"evenhand: {escaped(str(refusal))}", err=True)
        sys.exit(2)
    except click.ClickException as error:
        error.show()
        sys.exit(2)
    except (click.Abort, KeyboardInterrupt):
        click.echo("evenhand: stopped; nothing was left half written.", err=True)
        sys.exit(130)
    except BrokenPipeError:
        # The reader of our output has gone, as `| head` does; a second complaint at exit helps nobody.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(1)
    except Exception as fault:
        if os.environ.get("EVENHAND_TRACEBACK"):
            raise
        click.echo(
            f"evenhand: this is a fault in evenhand, not in your files: {place_of(fault)}. "
            "Nothing was left half written. Please report it with what EVENHAND_TRACEBACK=1 prints, "
            "without what that shows of people.",
            err=True,
        )
        sys.exit(1)
