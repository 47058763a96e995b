"""What somebody means by a few typed words: part of a name, in any order, without its accents, with a small slip.

Source: letters are folded as `names` does. A slip is one letter too many, too few, another in its place, or two
neighbours exchanged: the four kinds of F. J. Damerau, A technique for computer detection and correction of spelling
errors, CACM 7(3), 1964 (from memory). How many are allowed by a word's length is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import IntEnum

import numpy as np
import polars as pl

from evenhand.terms.columns import Column, Frame, Table
from evenhand.terms.likeness.names import spelt

__all__ = ["FOUND", "Nearness", "SoughtIndex", "find_sought", "index_sought", "spellings"]

MOST_WORDS = 8
FEWEST_WITHIN = 3
"""The fewest letters that are looked for in the middle of a word: two are in every other name."""

FOUND = Table(
    "found",
    "What is meant by some words, the nearest first",
    (
        Column("row", "count", "Its place among what was indexed, from 0", required=True),
        Column("nearness", "count", "How near the word is that is farthest off, see `Nearness`", required=True),
        Column("together", "count", "The same of all words, added up", required=True),
    ),
    key=("row",),
)


class Nearness(IntEnum):
    """How near a word is to the one that was typed; WHOLE where all words together are all of a name."""

    WHOLE = 0
    WORD = 1
    BEGINNING = 2
    WITHIN = 3
    SLIP = 4


@dataclass(frozen=True)
class SoughtIndex:
    """Rows of text to be found by their words.

    `words` holds each folded word once, in order; `places` (word, row, is_own) where it stands, a word by its place in
    `words`; `wholes` (whole, row) the words of each text that names a row, in order.
    """

    words: tuple[str, ...]
    places: Frame
    wholes: Frame


def index_sought(whole: Sequence[pl.Series], own: Sequence[pl.Series], beside: Sequence[pl.Series] = ()) -> SoughtIndex:
    """Return the index of rows told by columns of text, all of one length.

    Each of the texts `whole` names its row by itself. The words of `own` find it; those of `beside`, such as a site's,
    only narrow down what other words find.
    """
    standing = pl.concat(
        [_words(_spelt(column)).with_columns(is_own=pl.lit(value=True)) for column in own]
        + [_words(_spelt(column)).with_columns(is_own=pl.lit(value=False)) for column in beside]
    )
    standing = standing.group_by("row", "word").agg(pl.col("is_own").any())
    words = standing.select("word").unique().sort("word").with_row_index("place")
    in_order = pl.col("form").str.split(" ").list.sort().list.join(" ")
    return SoughtIndex(
        words=tuple(words["word"]),
        places=standing.join(words, on="word").select(word="place", row="row", is_own="is_own"),
        wholes=pl.concat([_spelt(column).select("row", whole=in_order) for column in whole]).filter(
            pl.col("whole") != ""
        ),
    )


def find_sought(index: SoughtIndex, asked: str) -> Frame:
    """Return FOUND: the rows that hold every word asked for, the nearest first and otherwise as they were indexed."""
    forms = [form.split(" ")[:MOST_WORDS] for form in spellings(asked)]
    if not forms or not index.words:
        return FOUND.empty()
    vocabulary = pl.Series("word", index.words, dtype=pl.String)
    rows: Frame | None = None
    for alternatives in zip(*forms, strict=True):
        near = _near(vocabulary, index.words, sorted(set(alternatives)))
        theirs = (
            index.places.join(near, on="word").group_by("row").agg(pl.col("nearness").min(), pl.col("is_own").any())
        )
        if rows is None:
            rows = theirs.with_columns(together="nearness")
            continue
        both = rows.join(theirs, on="row", suffix="_of_word")
        rows = both.select(
            "row",
            nearness=pl.max_horizontal("nearness", "nearness_of_word"),
            is_own=pl.col("is_own") | pl.col("is_own_of_word"),
            together=pl.col("together") + pl.col("nearness_of_word"),
        )
    assert rows is not None
    wanted = sorted({" ".join(sorted(form)) for form in forms})
    exactly = index.wholes.filter(pl.col("whole").is_in(wanted))["row"].unique()
    found = rows.filter("is_own").with_columns(
        nearness=pl.when(pl.col("row").is_in(exactly.implode())).then(int(Nearness.WHOLE)).otherwise("nearness")
    )
    found = found.select(pl.col(FOUND.names).cast(pl.Int64))
    return FOUND.check(found.sort("nearness", "together", "row"))


def spellings(asked: str) -> list[str]:
    """Return a text folded, and once more where it has letters that are spelt in one or in two; none where it is empty.

    >>> spellings("Åsa  Öberg")
    ['asa oberg', 'aasa oeberg']
    """
    forms = spelt(pl.Series("text", [asked]).to_frame(), "text")["form"].to_list()
    return [form for form in forms if form]


def _near(vocabulary: pl.Series, words: Sequence[str], asked: Sequence[str]) -> Frame:
    """Return how near each word of the vocabulary is to a word asked for, in any of its spellings: word, nearness."""
    frame, column = vocabulary.to_frame().with_row_index("place"), pl.col("word")
    ways = [
        pl.when(column == one)
        .then(int(Nearness.WORD))
        .when(column.str.starts_with(one))
        .then(int(Nearness.BEGINNING))
        .when(pl.lit(len(one) >= FEWEST_WITHIN) & column.str.contains(one, literal=True))
        .then(int(Nearness.WITHIN))
        .when(pl.Series(_slipped(words, one)))
        .then(int(Nearness.SLIP))
        for one in asked
    ]
    near = frame.select(word="place", nearness=pl.min_horizontal(*ways))
    return near.drop_nulls("nearness")


def _slipped(words: Sequence[str], asked: str) -> np.ndarray:
    """Return which words are at most as many slips away as a word of this length allows; none of figures alone."""
    from rapidfuzz import process
    from rapidfuzz.distance import OSA

    allowed = 0 if len(asked) < 4 or not any(sign.isalpha() for sign in asked) else 1 if len(asked) < 8 else 2
    if not allowed:
        return np.zeros(len(words), bool)
    slips = process.cdist([asked], words, scorer=OSA.distance, score_cutoff=allowed, dtype=np.uint8)
    return np.asarray(slips[0] <= allowed)


def _spelt(column: pl.Series) -> Frame:
    return spelt(column.rename("text").to_frame().with_row_index("row"), "text").select("row", "form")


def _words(rows: Frame) -> Frame:
    return rows.select("row", word=pl.col("form").str.split(" ")).explode("word").filter(pl.col("word") != "")
