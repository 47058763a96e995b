"""Look at the readers before an enrolment day: coverage, growth, and the queue at shift change."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from typing import Any

import click

from evenhand.cli.asked import as_json, as_of, day_asked, now_or, workspace_asked
from evenhand.cli.printing import print_json, print_table, say, with_names
from evenhand.terms.languages import Sentence, told
from evenhand.terms.zones import DAY_S

__all__ = ["coverage", "queue"]


@click.command()
@as_of
@as_json
@click.pass_context
def coverage(ctx: click.Context, as_of: str | None, as_json: bool) -> None:
    """Say whom each reader would strand, the fewest enrolments that help everybody, and when readers are full."""
    from evenhand.jobs.queues import see_coverage

    seen = see_coverage(workspace_asked(ctx), as_of=now_or(as_of).date())
    if as_json:
        covered = replace(seen.covered, extra=with_names(seen.covered.extra, seen.names))
        print_json(replace(seen, stranded=with_names(seen.stranded, seen.names), covered=covered))
        return
    alone = dict(seen.stranded.group_by("reader").len().iter_rows())
    extra = dict(seen.covered.extra.group_by("reader").len().iter_rows())
    print_table(
        ("Reader", "Holds", "Can hold", "Stranded if it fails", "To add here", "Full on", "At the earliest"),
        (
            (
                row["reader"],
                row["held"],
                row["capacity"],
                alone.get(row["reader"], 0),
                extra.get(row["reader"], 0),
                row["full_on"],
                row["full_earliest"],
            )
            for row in seen.growth.iter_rows(named=True)
        ),
        right=(1, 2, 3, 4),
    )
    lacking = len(seen.covered.lacking)
    say(
        "{count:# more enrolment gives|# more enrolments give} everybody a second reader at their site{more}",
        lead="\n",
        count=seen.covered.extra.height,
        more=told("; {people:# person|# people} cannot have one.", people=lacking) if lacking else ".",
    )


class Seconds(click.FloatRange):
    """Seconds of a day, above none; no number is none."""

    def __init__(self) -> None:
        super().__init__(min=0, max=DAY_S, min_open=True)

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> float:
        """Return the seconds; fails where they are no number, as `nan` is not."""
        seconds = float(super().convert(value, param, ctx))
        if seconds != seconds:  # noqa: PLR0124  only what is no number differs from itself
            self.fail(told("{value} is no number of seconds.", value=value), param, ctx)
        return seconds


@click.command()
@click.argument("readers", nargs=-1, required=True)
@click.option("--first", metavar="DATE", help="First day; four weeks before the last where not given.")
@click.option("--last", metavar="DATE", help="Last day; today where not given.")
@click.option(
    "--wait-seconds",
    metavar="S",
    type=click.IntRange(1, DAY_S),
    default=120,
    show_default=True,
    help="How long 95 % of people may wait.",
)
@click.option("--service-seconds", metavar="S", type=Seconds(), help="What one person takes; measured where not given.")
@click.option(
    "--stagger-groups",
    metavar="N",
    type=click.IntRange(1, 100),
    default=2,
    show_default=True,
    help="Groups to stagger a rush into.",
)
@as_json
@click.pass_context
def queue(ctx: click.Context, /, readers: tuple[str, ...], as_json: bool, **given: Any) -> None:
    """Say how long people wait at READERS that share one line, and what would keep 95 % of waits short."""
    from evenhand.jobs.queues import see_queue

    last = day_asked(given["last"], "--last") or now_or(None).date()
    first = day_asked(given["first"], "--first") or last - timedelta(days=27)
    seen = see_queue(
        workspace_asked(ctx),
        readers,
        first=first,
        last=last,
        limit_s=given["wait_seconds"],
        service_s=given["service_seconds"],
        groups=given["stagger_groups"],
    )
    if as_json:
        print_json(seen)
        return
    say(
        "One person takes {seconds:.0f} s. {rushes:# rush|# rushes} in {weeks:.1f} weeks.",
        seconds=seen.service_s,
        rushes=seen.rushes.height,
        weeks=seen.weeks,
    )
    widest = max(seen.by_time["most_lost_s"].to_list(), default=0) or 1
    print_table(
        ("From", "People a week", "Minutes lost a week, at least", "at most", ""),
        (
            (
                f"{row['quarter'] // 4:02d}:{row['quarter'] % 4 * 15:02d}",
                f"{row['people']:.0f}",
                f"{row['least_lost_s'] / 60:.0f}",
                f"{row['most_lost_s'] / 60:.0f}",
                "█" * round(30 * row["most_lost_s"] / widest),
            )
            for row in seen.by_time.iter_rows(named=True)
        ),
        right=(1, 2, 3),
    )
    for line in _advice(seen):
        say(line)


def _advice(seen: Any) -> tuple[Sentence, Sentence]:
    least, most = seen.least_lost_s / 60, seen.most_lost_s / 60
    needed = (
        told("no number of readers keeps")
        if seen.readers_needed is None
        else told("{readers:# reader keeps|# readers keep}", readers=seen.readers_needed)
    )
    if seen.stagger_s is None:
        apart = told("and no stagger does")
    elif seen.stagger_s == 0:
        apart = told("and what there is is enough")
    else:
        apart = told(
            "and so do {groups} groups {minutes} minutes apart with what there is",
            groups=seen.groups,
            minutes=seen.stagger_s // 60,
        )
    return (
        told("Lost in a week: between {least:.0f} and {most:.0f} minutes.", least=least, most=most),
        told(
            "With a rush of {people} people at the door at once, {needed} 95 % of them within {seconds} s, {apart}. "
            "Whether waiting is working time, the rules decide.",
            people=seen.typical_people,
            needed=needed,
            seconds=seen.limit_s,
            apart=apart,
        ),
    )
