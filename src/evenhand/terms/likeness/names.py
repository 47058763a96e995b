"""Whose name somebody wrote: in any order of first name and surname, without accents, cut short, or with initials.

Source: the variations are those of P. Christen, A Comparison of Personal Name Matching, ANU TR-CS-06-02 (2006): words
in another order, initials alone, names cut short. Letters with marks fall back as in ICAO Doc 9303, part 3, section 6
(from memory), which spells the German and Nordic ones in one letter or in two. A misspelt name is nobody's: one letter
parts Maria from Mario, and to take one hand for another is worse than to ask.
"""

from __future__ import annotations

import polars as pl

from evenhand.terms.columns import Column, Frame, Table

__all__ = ["NAME_MATCHES", "SHORTEST_NAME", "bearers", "folded", "spelt", "words_of"]

SHORTEST_NAME = 4
"""The fewest letters from which a name that was cut short can be told; common practice, no source."""

MOST_WORDS = 6
LAST_LETTER = "\U0010ffff"

NAME_MATCHES = Table(
    "name_matches",
    "Names as somebody wrote them, with everybody whose name each can be",
    (
        Column("written", "text", "The name as it was written", required=True),
        Column("person", "text", "Whose name it can be", required=True),
    ),
    key=("written", "person"),
)

APOSTROPHES = ("'", "’", "`")
# letters that Unicode does not take apart into a letter and a mark
WHOLE = {
    "ß": "ss",
    "æ": "ae",
    "œ": "oe",
    "þ": "th",
    "ð": "d",
    "đ": "d",
    "ł": "l",
    "ı": "i",
    "ø": "o",
    "ŋ": "n",
    "ς": "σ",
}
IN_TWO = {"ä": "ae", "ö": "oe", "ü": "ue", "å": "aa", "ø": "oe"}


def folded(name: pl.Expr) -> pl.Expr:
    """Return names without accents, case and marks, in words one space apart; '' where there is no name."""
    plain = name.fill_null("").str.normalize("NFKD").str.to_lowercase().str.replace_all(r"\p{M}+", "")
    # an apostrophe joins what it stands between, every other mark parts it
    joined = plain.str.replace_many([*APOSTROPHES, *WHOLE], [*("" for _ in APOSTROPHES), *WHOLE.values()])
    return joined.str.replace_all(r"[^\p{L}\p{N}]+", " ").str.strip_chars()


def words_of(name: pl.Expr) -> pl.Expr:
    """Return the words of folded names of more than one letter, as lists."""
    return folded(name).str.split(" ").list.eval(pl.element().filter(pl.element().str.len_chars() > 1))


def bearers(written: pl.Series, people: Frame) -> Frame:
    """Return NAME_MATCHES: each name that was written, with everybody of `people` (person, name) whose it can be.

    It is theirs where it is their name with the surname first or last, or the beginning of that, of four letters
    or more; where it leaves out their middle names or gives an initial for the first; or where it has initials in the
    middle that theirs has not. Names that are nobody's are left out, as are empty ones.
    """
    seen = spelt(written.drop_nulls().unique().alias("written").to_frame(), "written")
    without = pl.col("form").str.replace_all(r"(\S) (?:\S )+", "$1 ")
    seen = pl.concat([seen, seen.select("written", form=without)]).filter(pl.col("form") != "").unique()
    if seen.is_empty():
        return NAME_MATCHES.empty()
    # whatever a name equals or continues has its first letters
    heads = seen["form"].str.head(SHORTEST_NAME).unique()
    forms = _forms(people, heads)
    whole = seen.join(forms, on="form").select("written", "person")
    found = pl.concat([whole, _cut_short(seen, forms)]).unique()
    return NAME_MATCHES.check(found.sort("written", "person"))


def _cut_short(seen: Frame, forms: Frame) -> Frame:
    begun = seen.filter(pl.col("form").str.len_chars() >= SHORTEST_NAME)
    known = forms["form"]
    spans = begun.select(
        "written",
        place=pl.int_ranges(
            known.search_sorted(begun["form"], side="left"), known.search_sorted(begun["form"] + LAST_LETTER)
        ),
    )
    places = spans.explode("place").drop_nulls("place")
    return places.select("written", person=forms["person"].gather(places["place"]))


def spelt(names: Frame, column: str) -> Frame:
    """Return each name of a column folded, as `form`, once more where it has letters spelt in one or in two."""
    composed = pl.col(column).str.normalize("NFC").str.to_lowercase()
    marked = names.filter(composed.str.contains_any(list(IN_TWO)))
    in_two = composed.str.replace_many(list(IN_TWO), list(IN_TWO.values()))
    return pl.concat(
        [
            names.with_columns(form=folded(pl.col(column))),
            marked.with_columns(form=folded(in_two)),
        ]
    )


def _forms(people: Frame, heads: pl.Series) -> Frame:
    """Every way to write each name that begins with one of `heads`: form, person, by form."""
    given_first = pl.col("name").str.replace(r"^([^,]*),(.*)$", "$2 $1")
    words = spelt(people.select("person", name=given_first), "name").select(
        "person", words=pl.col("form").str.split(" ")
    )
    long, first, last = pl.col("words").list.len(), pl.col("words").list.first(), pl.col("words").list.last()
    ends = words.filter(long > 2).select("person", words=pl.concat_list(first, last))
    initials = words.filter(long > 1).select("person", form=first.str.head(1) + " " + last)
    turned = [_turned(pl.concat([words, ends]), by) for by in range(MOST_WORDS)]
    begun = pl.col("form").str.head(SHORTEST_NAME).is_in(heads.implode())
    return pl.concat([*turned, initials]).filter(begun).unique().sort("form", "person")


def _turned(words: Frame, by: int) -> Frame:
    long_enough = words.filter(pl.col("words").list.len() > by)
    parts = pl.concat_list(pl.col("words").list.slice(by), pl.col("words").list.head(by))
    return long_enough.select("person", form=parts.list.join(" "))
