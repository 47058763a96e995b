"""Numbers people know by heart and key instead of their own: ends of telephones, house numbers, dates.

Common practice, no source: no published rate was found for any of them; the shares are learned from what is confirmed.
"""

from __future__ import annotations

import polars as pl

from evenhand.terms.columns import Column, Frame, Table

__all__ = ["KNOWN_NUMBERS", "known_numbers"]

FEWEST_DIGITS, MOST_DIGITS = 3, 8
FEWEST_OF_A_HOUSE = 2
USUAL_DIGITS = 4
DATE_FORMS = ("%d%m", "%m%d", "%m%y", "%Y", "%d%m%y", "%m%d%y", "%y%m%d", "%d%m%Y", "%m%d%Y")

KNOWN_NUMBERS = Table(
    "known_numbers",
    "Numbers that each person knows by heart, with how likely each is among those of its kind and length",
    (
        Column("person", "text", "Who knows it", required=True),
        Column("kind", "text", "What it is", required=True, allowed=("phone", "address", "date")),
        Column("number", "text", "The number", required=True),
        Column("likelihood", "score", "P(this number | its kind and its length)", required=True),
    ),
    key=("person", "kind", "number"),
)


def known_numbers(people: Frame) -> Frame:
    """Return KNOWN_NUMBERS of `people` (person, phone, address, hired_on).

    They are the last three to eight digits of a telephone, short of the whole; the numbers in a street address from
    two digits on, and the same with zeros up to four; and the first day of work as it may be keyed.
    """
    found = pl.concat([_phones(people), _addresses(people), _dates(people)]).unique(maintain_order=True)
    alike = pl.len().over("person", "kind", pl.col("number").str.len_chars())
    return KNOWN_NUMBERS.check(found.with_columns(likelihood=1 / alike))


def _phones(people: Frame) -> Frame:
    digits = pl.col("phone").str.replace_all(r"\D", "")
    plain = people.select("person", pl.lit("phone").alias("kind"), number=digits).drop_nulls("number")
    size = pl.col("number").str.len_chars()
    lengths = range(FEWEST_DIGITS, MOST_DIGITS + 1)
    return pl.concat(
        [plain.filter(size > length).with_columns(pl.col("number").str.tail(length)) for length in lengths]
    )


def _addresses(people: Frame) -> Frame:
    told = people.select("person", pl.lit("address").alias("kind"), number=pl.col("address").str.extract_all(r"\d+"))
    size = pl.col("number").str.len_chars()
    plain = told.explode("number").filter(size.is_between(FEWEST_OF_A_HOUSE, MOST_DIGITS))
    return pl.concat([plain, plain.with_columns(pl.col("number").str.zfill(USUAL_DIGITS))])


def _dates(people: Frame) -> Frame:
    days = people.select("person", pl.lit("date").alias("kind"), day="hired_on").drop_nulls("day")
    return pl.concat([days.select("person", "kind", number=pl.col("day").dt.strftime(form)) for form in DATE_FORMS])
