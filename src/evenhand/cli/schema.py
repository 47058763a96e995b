"""Print a table's schema in an open format."""

from __future__ import annotations

import json

import click

from evenhand.terms.schema import table_schema
from evenhand.terms.sources import SOURCES

__all__ = ["command"]


@click.command()
@click.argument("table", type=click.Choice(list(SOURCES)))
def command(table: str) -> None:
    """Print TABLE's columns, types, units and constraints as a Table Schema (Data Package standard)."""
    click.echo(json.dumps(table_schema(SOURCES[table]), indent=2, ensure_ascii=False))
