"""Add a punch, leave one out, or say which way it went."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

import click

from evenhand.cli.asked import as_json, author, confirm_or_leave, now_or, workspace_asked
from evenhand.cli.printing import print_json
from evenhand.terms import cautions
from evenhand.terms.words import as_figures, as_pay

if TYPE_CHECKING:
    from evenhand.jobs.correct import CorrectionPreview

__all__ = ["command"]

MOST = 2**63 - 1  # the store's numbers go no further


@click.command()
@click.argument("action", type=click.Choice(["add", "leave-out", "direct"]))
@click.argument("person")
@click.option("--at", metavar="TIME", help="When the added punch was, in the site's time, such as 2026-11-12T17:02.")
@click.option("--punch", type=click.IntRange(-MOST, MOST), metavar="N", help="The punch to leave out or to direct.")
@click.option("--direction", type=click.Choice(["in", "out"]), help="Which way it went.")
@click.option("--reason", required=True, help="Why; kept with the correction.")
@author
@click.option("--yes", is_flag=True, help="Make it without asking.")
@as_json
@click.pass_context
def command(
    ctx: click.Context,
    action: str,
    person: str,
    at: str | None,
    punch: int | None,
    direction: str | None,
    reason: str,
    author: str | None,
    yes: bool,
    as_json: bool,
) -> None:
    """Correct PERSON's punches. The punches stay as they are; the correction is a row of its own beside them."""
    from evenhand.jobs.correct import CorrectionRequest, civil_instant, correct, preview_correction, reckon_around

    workspace = workspace_asked(ctx)
    now = now_or(None)
    reckoning = reckon_around(workspace, at=at, punch=punch, as_of=now)
    instant: datetime | None = civil_instant(reckoning.snapshot, person, at) if at else None
    asked = CorrectionRequest(
        action.replace("-", "_"), person, author or "", reason, punch=punch, at=instant, direction=direction
    )
    seen = preview_correction(reckoning, asked, as_of=now)
    if not as_json:
        _print_foreseen(seen)
    if not yes:
        confirm_or_leave(ctx, "Make this correction?")
    number = correct(workspace, reckoning, asked, as_of=now).number
    if as_json:
        print_json({"correction": number, "foreseen": seen})
        return
    click.echo(f"Correction {number} made by {author}. {cautions.CALCULATION}")


def _print_foreseen(seen: CorrectionPreview) -> None:
    click.echo(f"{seen.person['name']}, around {seen.day}: paid time")
    click.echo(
        f"  before  ordinary {as_figures(seen.ordinary_before_s)}  overtime {as_figures(seen.overtime_before_s)}"
        f"  double {as_figures(seen.double_before_s)}  pay {as_pay(seen.pay_before)}"
    )
    click.echo(
        f"  after   ordinary {as_figures(seen.ordinary_after_s)}  overtime {as_figures(seen.overtime_after_s)}"
        f"  double {as_figures(seen.double_after_s)}  pay {as_pay(seen.pay_after)}"
    )
