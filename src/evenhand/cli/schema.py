"""Print a table's schema, or that of what a command prints, in an open format."""

from __future__ import annotations

import json

import click

from evenhand.terms.languages import told
from evenhand.terms.records import Refusal
from evenhand.terms.schema import table_schema
from evenhand.terms.sources import SOURCES

__all__ = ["command"]


@click.command()
@click.argument("table", required=False, metavar="[TABLE]")
@click.option("--json", "printed", metavar="COMMAND", help='What COMMAND prints with --json, such as "hours why".')
def command(table: str | None, printed: str | None) -> None:
    """Print TABLE's columns, types, units and constraints as a Table Schema (Data Package standard).

    With --json, print the JSON Schema (draft 2020-12) of what a command prints for scripts.
    """
    if (table is None) == (printed is None):
        raise click.UsageError(told("name a table ({tables:commas}), or a command with --json.", tables=list(SOURCES)))
    if printed is not None:
        from evenhand.jobs.json_forms import schema_of

        schema = schema_of(printed)
    elif table in SOURCES:
        schema = table_schema(SOURCES[table])
    else:
        raise Refusal(
            told(
                '"{table}" is no table that files give; these are: {tables:commas}.', table=table, tables=list(SOURCES)
            )
        )
    click.echo(json.dumps(schema, indent=2, ensure_ascii=False))
