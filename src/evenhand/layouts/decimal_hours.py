"""Times of day with a point that may be hours and hundredths of an hour: 6.25 is 6:25, or a quarter past six.

Times of a clock are of any minute. Where all that is behind the point is 00, 25, 50 or 75, where minutes are beyond 59,
or where the header says decimal, a person is asked. Source: common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Collection

from evenhand.layouts.asking import answer_of, label_of, samples_of
from evenhand.layouts.matching import Matching
from evenhand.layouts.proposal import NO_COLUMN, Choice, Question
from evenhand.layouts.reading import Cells
from evenhand.layouts.values.moments import Moments
from evenhand.layouts.values.words import word_set
from evenhand.layouts.wording.lexicon import words_of
from evenhand.terms.languages import of_file, told

__all__ = ["about_decimal_hours"]

POINTED = re.compile(r"(\d\d?)\.(\d\d)", re.ASCII)
MOSTLY, SEVERAL = 0.7, 0.1  # of the times
QUARTERS = frozenset({"00", "25", "50", "75"})
DECIMAL = word_set(
    "dec,decimal,decimals,hundredths,industrial,dez,dezimal,hundertstel,industriezeit,industriestunden,centesimal,"
    "centesimas,decimales,centiemes,decimale,decimali,centesimi,centesimos,decimais,decimaal,honderdsten,dziesietna,"
    "dziesietne,dziesietnie,setne"
)


def about_decimal_hours(name: str, matching: Matching, cells: Cells) -> list[Question]:
    """Return the question for each column of times that may be decimal hours, where no person said what it is."""
    questions: dict[int, Question] = {}
    for declared, moments in cells.moments.items():
        sources = matching.best.columns.get(declared, ())
        headers = [matching.seen[at].header for at in sources]
        if declared in matching.fixed or not sources or not (example := _may_be_decimal(moments, headers)):
            continue
        timed = [at for at in sources if matching.seen[at].profile.share(_is_pointed) > MOSTLY]
        column = matching.seen[(timed or sources)[-1]]
        hour, hundredths = example.split(".")
        shown = told("{column} ({samples})", column=label_of(column), samples=samples_of(column))
        minutes = round(int(hundredths) * 0.6)
        questions.setdefault(
            column.position,
            Question(
                "column",
                of_file(name, told("are the times of {shown} hours and minutes, or decimal hours?", shown=shown)),
                (
                    Choice(
                        declared,
                        told(
                            "they are hours and minutes: {example} is {hour}:{hundredths}",
                            example=example,
                            hour=hour,
                            hundredths=hundredths,
                        ),
                    ),
                    Choice(
                        NO_COLUMN,
                        told(
                            "they are decimal hours, {example} is {hour}:{minutes:02d}, and are not read; have them "
                            "written with a colon",
                            example=example,
                            hour=hour,
                            minutes=minutes,
                        ),
                    ),
                ),
                answer_of(column, matching.seen),
            ),
        )
    return list(questions.values())


def _may_be_decimal(moments: Moments, headers: Collection[str]) -> str:
    """Return a time that would mean something else as decimal hours, '' where none may be meant so."""
    times = [text for text in moments.times.values if text]
    pointed = [(text, found[2]) for text in times if (found := POINTED.fullmatch(text))]
    timed = [text for text, behind in pointed if behind != "00"]
    if not timed or len(pointed) <= MOSTLY * len(times):
        return ""
    is_said = any(not DECIMAL.isdisjoint(words_of(header)) for header in headers)
    is_even = all(behind in QUARTERS for _, behind in pointed)
    beyond = sum(behind > "59" for _, behind in pointed)
    return timed[0] if is_said or is_even or beyond > SEVERAL * len(pointed) else ""


def _is_pointed(text: str) -> bool:
    return POINTED.fullmatch(text) is not None
