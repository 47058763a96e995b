"""Write everything held on one person, for them and nobody else."""

from __future__ import annotations

from pathlib import Path

import click

from evenhand.cli.asked import as_json, as_of, now_or, paper_asked, workspace_asked
from evenhand.cli.printing import print_json, print_paragraph, say
from evenhand.terms import cautions
from evenhand.terms.languages import told

__all__ = ["command"]


@click.command()
@click.argument("person")
@click.option(
    "--out",
    required=True,
    type=click.Path(path_type=Path, dir_okay=False),
    help="The file to write, for its owner alone: .pdf to read, .json for a machine.",
)
@paper_asked
@as_of
@as_json
@click.pass_context
def command(ctx: click.Context, person: str, out: Path, paper: str | None, as_of: str | None, as_json: bool) -> None:
    """Write everything held on PERSON (an identifier, a number or a name), and nothing of anybody else."""
    from evenhand.jobs.access_printed import write_access

    made = write_access(workspace_asked(ctx), person, out, as_of=now_or(as_of), paper=paper or "")
    if as_json:
        print_json(made)
        return
    say(
        "{file}: {name}, {rows:# row|# rows} in {parts:# part|# parts}.",
        file=made.file,
        name=made.name,
        rows=made.rows,
        parts=made.parts,
    )
    blanked = (
        told("{mentions:# mention|# mentions} of others left out. ", mentions=made.blanked) if made.blanked else ""
    )
    print_paragraph(
        told(
            "{blanked}Read it before giving it away, since a name misspelt in what people wrote is not found; make "
            "sure who asks. {caution}",
            blanked=blanked,
            caution=told(cautions.CALCULATION),
        )
    )
