"""Who could have meant a keyed number, and by which kind of error: found by index, not by trying everybody."""

from __future__ import annotations

import polars as pl

from evenhand.terms.columns import Frame
from evenhand.terms.languages import sentence
from evenhand.terms.likeness.known_numbers import known_numbers
from evenhand.terms.likeness.slips import NEIGHBOUR_SHARE, slips_toward
from evenhand.terms.tables import EXPLANATIONS

__all__ = ["KINDS", "SLIP_NAMES", "explain"]

KINDS = {
    "single": sentence("{meant} with one digit mistyped"),
    "adjacent": sentence("{meant} with two digits swapped"),
    "jump": sentence("{meant} with two digits swapped across one"),
    "twin": sentence("{meant} with a pair of equal digits mistyped"),
    "jump_twin": sentence("{meant} with two equal digits mistyped"),
    "phonetic": sentence("{meant} misheard, like thirteen for thirty"),
    "dropped": sentence("{meant} with one digit dropped"),
    "doubled": sentence("{meant} with one digit doubled"),
    "added": sentence("{meant} with one digit added"),
    "zeros_lost": sentence("{meant} without the zeros in front"),
    "zeros_added": sentence("{meant} with zeros in front"),
    "phone": sentence("the end of their telephone number"),
    "address": sentence("a number in their street address"),
    "date": sentence("a date of theirs on the roster"),
    "own": sentence("their own number"),
}
"""Which slip makes one number of another, in a sentence."""
SLIP_NAMES = {
    "single": sentence("one digit"),
    "adjacent": sentence("two neighbours swapped"),
    "jump": sentence("two swapped across one"),
    "twin": sentence("a pair of equals"),
    "jump_twin": sentence("two equals apart"),
    "phonetic": sentence("misheard"),
    "dropped": sentence("one dropped"),
    "doubled": sentence("one doubled"),
    "added": sentence("one added"),
}
"""The same by name, as in a table."""
"""Each kind of error in words; `meant` is the number that was meant."""


def explain(
    keyed: pl.Series,
    people: Frame,
    *,
    neighbour_share: float | None = NEIGHBOUR_SHARE,
) -> Frame:
    """Return EXPLANATIONS: each keyed number with everybody who could have meant it, by kind of error.

    `likelihood` is P(keyed | the person, the kind). A person whose number it is has the kind `own`. Numbers
    that no kind leads to are left out; their likelihood is that of a number drawn at random, ten to the power
    of minus its digits.
    """
    wanted = keyed.drop_nulls().unique().sort().alias("keyed")
    held = people.select("person", meant=pl.col("number").str.strip_chars()).filter(pl.col("meant") != "")
    own = wanted.to_frame().select("keyed", kind=pl.lit("own"), meant="keyed", likelihood=pl.lit(1.0))
    slips = slips_toward(wanted, held["meant"], neighbour_share=neighbour_share)
    by_number = pl.concat([own, slips]).join(held, on="meant")
    by_heart = known_numbers(people).join(wanted.to_frame(), left_on="number", right_on="keyed")
    found = pl.concat(
        [
            by_number.select(EXPLANATIONS.names),
            by_heart.select(keyed="number", person="person", kind="kind", meant="number", likelihood="likelihood"),
        ]
    )
    return EXPLANATIONS.check(found.sort("keyed", "person", "kind", "meant"))
