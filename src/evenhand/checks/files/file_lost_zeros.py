"""A file whose numbers are those of another, but for zeros in front that it lost.

Padding numbers that are right as they are would give people's punches to others, so it is only proposed where it makes
several numbers of the file agree and parts none that agree now; a single number is left to the check of lost zeros.
"""

from __future__ import annotations

from collections.abc import Iterator

import polars as pl

from evenhand.checks.facts import Check, Facts
from evenhand.terms.columns import Frame
from evenhand.terms.languages import told
from evenhand.terms.records import Finding, Stake
from evenhand.terms.tables import PUNCH_SHIFT

CHECK = Check(
    code="file_lost_zeros",
    title=told("A file lost its leading zeros"),
    why=told(
        "A spreadsheet that treats numbers as quantities drops zeros in front of all of them at "
        "once. Then nobody's punches find their owner, or the roster and the readers' lists seem "
        "to disagree about everybody."
    ),
    next_step=told("Read the file again with its numbers padded to the digits that the others have."),
)

FEWEST = 3  # numbers that agree once they are padded
SIDES = {"people": told("on the roster"), "enrolments": told("on the readers' lists"), "punches": told("in the logs")}


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per file, in the order in which they were taken."""
    files = dict(facts.files.iter_rows())
    for (take, table), rows in _padded(facts).group_by("take", "table", maintain_order=True):
        width, file = len(rows["meant"][0]), files.get(take, told("A file"))
        pairs = [
            told("{number} is {meant}", number=number, meant=meant)
            for number, meant in rows.select("number", "meant").iter_rows()
        ]
        sides = [words for name, words in SIDES.items() if name != table and rows[name].any()]
        short = rows["of"][0]
        yield Finding(
            code=CHECK.code,
            subject=f"take {take}",
            says=told("{file} lost the zeros in front of its numbers.", file=file),
            evidence=(
                told(
                    "{height} of the {short} numbers in it that are shorter than {width} digits stand "
                    "{sides:listed} with zeros in front: {pairs:listed}.",
                    height=rows.height,
                    short=short,
                    width=width,
                    sides=sides,
                    pairs=pairs,
                ),
                told("No number in it begins with a zero, and none as short stands there as it is."),
            ),
            stake=Stake(people=rows.height),
            next_step=told(
                "Read it again with {width:# digit|# digits}: `evenhand takes again {take} --zeros "
                "{width} --author NAME --reason WHY`, or on Files; what that changes is shown first.",
                width=width,
                take=take,
            ),
            details={
                "take": take,
                "zeros": width,
                "numbers": rows["number"].to_list(),
                "meant": rows["meant"].to_list(),
            },
        )


def _padded(facts: Facts) -> Frame:
    """Return the numbers of files that lost zeros, with what each is `meant` to be and where that stands."""
    seen = facts.seen.select(table=pl.lit("punches"), number="number")
    sides = pl.concat([facts.numbers_told.select("table", "number"), seen]).unique()
    with_zeros = sides.filter(pl.col("number").str.starts_with("0"))
    bare = pl.col("number").str.strip_chars_start("0")
    meant = with_zeros.select("table", meant="number", number=bare).filter(pl.col("number") != "")
    short = sides.join(meant.select("number").unique(), on="number", how="semi")
    if short.height < FEWEST:
        return _none()
    told = pl.concat([facts.numbers_told, _of_logs(facts, short)])
    # The roster is held against lists and logs, and these against the roster: lists and logs share their readers.
    is_roster = pl.col("table") == "people"
    at = {name: (pl.col("table") == name).any().alias(name) for name in SIDES}
    found = []
    for mine, others in ((told.filter(is_roster), ~is_roster), (told.filter(~is_roster), is_roster)):
        there = meant.filter(others).group_by("number", "meant").agg(*at.values())
        as_they_are = sides.filter(others)["number"].implode()
        width = pl.col("meant").str.len_chars()
        matched = mine.join(there, on="number")
        if matched.is_empty():
            continue
        # The width to which most of the file's numbers are padded; others are another matter.
        most = matched.group_by("take", "table").agg(width=width.mode().max())
        matched = matched.join(most, on=["take", "table"]).filter(width == pl.col("width"))
        whole = mine.join(most, on=["take", "table"])
        is_short = pl.col("number").str.len_chars() < pl.col("width")
        state = whole.group_by("take", "table").agg(
            of=is_short.sum(),
            has_zeros=pl.col("number").str.starts_with("0").any(),
            too_long=(pl.col("number").str.len_chars() > pl.col("width")).any(),
            stands=(is_short & pl.col("number").is_in(as_they_are)).any(),
        )
        sound = ~pl.col("has_zeros") & ~pl.col("too_long") & ~pl.col("stands")
        matched = matched.join(state.filter(sound), on=["take", "table"])
        enough = (pl.len() >= FEWEST) & (2 * pl.len() >= pl.col("of").first())
        found.append(matched.filter(enough.over("take", "table")))
    return pl.concat(found, how="diagonal").sort("take", "table", "number") if found else _none()


def _of_logs(facts: Facts, short: Frame) -> Frame:
    """Return the numbers of logs that hold a short one (`take`, `table`, `number`)."""
    told = facts.recorded.select("number", take=pl.col("punch") // (1 << PUNCH_SHIFT))
    takes = told.filter(pl.col("number").is_in(short["number"].implode()))["take"].unique()
    logs = told.filter(pl.col("take").is_in(takes.implode())).unique()
    return logs.select("take", pl.lit("punches").alias("table"), "number")


def _none() -> Frame:
    schema = {"take": pl.Int64, "table": pl.String, "number": pl.String, "meant": pl.String, "of": pl.Int64}
    return pl.select(*(pl.lit(None, dtype).alias(name) for name, dtype in schema.items())).clear()
