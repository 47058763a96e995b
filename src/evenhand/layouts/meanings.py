"""What a file's own short words stand for: stated, known in some language, told by the log, or asked word by word.

What a layout or an answer states is not doubted, and what is a word in some language is read so. Of the two marks of
a log's direction the log itself tells, by its pauses (`ways`): 0 and 1, or words of no language known. What is left
open is asked for each word, where a column holds few of them and more often than mistakes; else those rows are
refused. A header that is itself a word for a refusal turns yes and no round, and the layout then states both; one of
which that cannot be told makes them open.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from evenhand.layouts.layout import Layout
from evenhand.layouts.ordering import order_of
from evenhand.layouts.proposal import NO_COLUMN, Choice, Question
from evenhand.layouts.reading import Cells
from evenhand.layouts.values.coded import Coded
from evenhand.layouts.values.words import WORDS, YES_NO, plain
from evenhand.layouts.ways import tell_ways
from evenhand.layouts.wording.contraries import sense_of_outcome
from evenhand.layouts.wording.header import concepts_of
from evenhand.terms.column_words import column_in_words
from evenhand.terms.columns import Column
from evenhand.terms.languages import of_file, told
from evenhand.terms.records import Refusal
from evenhand.terms.sources import SOURCES

__all__ = ["about_words", "with_sense", "with_ways", "with_words"]

# Marks that each workplace means in its own way: what they mean is told by the log, or asked.
OPEN_MARKS = frozenset({"0", "1", "a"})

UNSAID, FAINT = -9.0, -1.4  # how well a header fits a concept: not at all, most of its words
FEW = 8  # words of one column that are asked about; a column of more is none of words
SELDOM, TWICE = 0.02, 2  # of the filled cells, and cells; what is as seldom beside known words is a mistake
FEW_OF_ALL = 0.25  # of the filled cells: two of three are no mistakes, in however short a file


def with_words(name: str, layout: Layout, cells: Cells, said: Mapping[str, str]) -> Layout:
    """Return the layout with what was said of words: `said` gives for a word of the file what it stands for.

    Raises Refusal where no column in use holds the word and may mean that.
    """
    stated = {column: dict(meanings) for column, meanings in layout.words.items()}
    for word, meaning in said.items():
        asked = [
            column
            for column in SOURCES[layout.table].columns
            if (meaning in _meanings(column) or (meaning == NO_COLUMN and _meanings(column)))
            and column.name in cells.coded
            and word in cells.coded[column.name].values
        ]
        if not asked:
            raise Refusal(
                of_file(
                    name,
                    told(
                        "no column that is used holds {word} and may stand for {meaning}; look again.",
                        word=repr(word),
                        meaning=repr(meaning),
                    ),
                )
            )
        for column in asked:
            stated.setdefault(column.name, {})[word] = "" if meaning == NO_COLUMN else meaning
    return replace(layout, words=stated)


def with_sense(layout: Layout, cells: Cells) -> Layout:
    """Return the layout of a log with what yes and no stand for, where the header of the outcome says a refusal."""
    name = "outcome"
    if name not in cells.coded or sense_of_outcome(cells.labels[name]) != "refused":
        return layout
    stated = layout.words.get(name, {})
    known = {plain(word) for word in stated}
    turned = {
        word: "refused" if YES_NO[plain(word)] else "accepted"
        for word in cells.coded[name].values
        if plain(word) in YES_NO and plain(word) not in known
    }
    return replace(layout, words={**layout.words, name: {**turned, **stated}}) if turned else layout


def with_ways(layout: Layout, cells: Cells) -> Layout:
    """Return the layout of a log with what its two marks of direction stand for, where only the log itself tells."""
    column = next((one for one in SOURCES[layout.table].columns if one.name == "direction"), None)
    if column is None or not _open_in(column, layout, cells):
        return layout
    ways = tell_ways(cells, order_of(layout, cells).order)
    return replace(layout, words={**layout.words, column.name: ways}) if ways else layout


def about_words(name: str, layout: Layout, cells: Cells) -> list[Question]:
    """Return a question for each word that means nothing known, where a column holds a few of them more than seldom."""
    questions = []
    for column in SOURCES[layout.table].columns:
        unknown = _open_in(column, layout, cells)
        if not 0 < len(unknown) <= FEW or _are_mistakes(sum(unknown.values()), _filled(cells.coded[column.name])):
            continue
        choices = [Choice(meaning, told("it stands for {meaning}", meaning=meaning)) for meaning in _meanings(column)]
        label = cells.labels[column.name]
        questions += [
            Question(
                "words",
                of_file(
                    name,
                    told(
                        "{column} holds {word} {count:once|# times}; what does it stand for?",
                        column=label,
                        word=repr(word),
                        count=count,
                    ),
                ),
                (
                    *choices,
                    Choice(
                        NO_COLUMN,
                        told(
                            "it says nothing about “{column}”", column=column_in_words(column.name.removeprefix("is_"))
                        ),
                    ),
                ),
                word,
            )
            for word, count in unknown.items()
        ]
    return questions


def _open_in(column: Column, layout: Layout, cells: Cells) -> dict[str, int]:
    """Return what stands in a column of words and is neither known nor stated, and how often."""
    stated = {plain(word) or word for word in layout.words.get(column.name, {})}
    unknown = _unknown_to(column, cells)
    return {word: count for word, count in unknown.items() if (plain(word) or word) not in stated}


def _are_mistakes(unknown: int, filled: int) -> bool:
    """Whether cells of unknown words are so few beside others that their rows are to be refused."""
    return unknown < FEW_OF_ALL * filled and unknown <= max(TWICE, SELDOM * filled)


def _meanings(column: Column) -> tuple[str, ...]:
    return column.allowed or (("yes", "no") if column.kind == "yes_no" else ())


def _unknown_to(column: Column, cells: Cells) -> dict[str, int]:
    """Return the cells of a column of words that mean nothing in any language known, and how often each stands."""
    if column.name not in cells.coded or not _meanings(column):
        return {}
    known = set(YES_NO if column.kind == "yes_no" else (*WORDS.get(column.name, {}), *column.allowed))
    known -= OPEN_MARKS if column.name == "direction" else frozenset()
    if column.name == "outcome" and not sense_of_outcome(cells.labels[column.name]):
        known -= YES_NO.keys()
    coded = cells.coded[column.name]
    if column.kind == "yes_no" and _are_grades(cells.labels[column.name], coded):
        known -= {"0", "1"}
    counts = {word: count for word, count in zip(coded.values, _counts(coded), strict=True) if word}
    unknown = {word: count for word, count in counts.items() if plain(word) not in known}
    if column.name == "direction" and unknown and not _are_mistakes(sum(unknown.values()), sum(counts.values())):
        # B and E may be Beginn and Ende: beside a mark of its own kind a letter is no Entrada.
        return {word: count for word, count in counts.items() if word in unknown or len(plain(word)) == 1}
    return unknown


def _are_grades(header: str, coded: Coded) -> bool:
    """Return whether 0 and 1 stand among other numbers, as in a column of levels: there they are no mere no and yes."""
    counts = {word: count for word, count in zip(coded.values, _counts(coded), strict=True) if word}
    others = sum(count for word, count in counts.items() if word.isdecimal() and word not in ("0", "1"))
    is_level = concepts_of(header).get("level", UNSAID) >= FAINT
    return others > 0 and (is_level or not _are_mistakes(others, sum(counts.values())))


def _filled(coded: Coded) -> int:
    return sum(count for word, count in zip(coded.values, _counts(coded), strict=True) if word)


def _counts(coded: Coded) -> list[int]:
    counts: list[int] = np.bincount(coded.codes, minlength=len(coded.values)).tolist()
    return counts
