"""A person's identifiers and numbers in what others wrote: theirs, or a locker's, a reader's, an amount.

Nobody can tell but who reads it, so each such text is shown, as those with a part of the name are. Dates and times of
day are not taken for numbers, and what is somebody else's identifier or number is never taken for the person's.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

__all__ = ["OwnNumbers"]

SHORT = 3
"""Digits up to which a number is looked for only beside words: a cell `12` says nothing of whose it is."""
TIMES = re.compile(
    r"\d{4}-\d{1,2}-\d{1,2}(?:[T ]\d{1,2}:\d\d(?::\d\d)?)?|\d{1,2}([./-])\d{1,2}\1(?:\d{4}|\d\d)|\d{1,2}:\d\d(?::\d\d)?"
)
AROUND = " \t#.,;:()\"'"
"""What may stand around a number that is all that somebody wrote."""
LETTER = re.compile(r"[^\W\d_]")
LONGEST = 16
"""Letters and digits that a login has beside a number; in more, such as a digest, any digits stand by chance."""
JOINED, MARKED = re.compile(r"[^\W_]*"), re.compile(r"[\w.-]*")


@dataclass(frozen=True)
class OwnNumbers:
    """By which identifiers (`ids`) and `numbers` others may have written of a person.

    `others` are the identifiers and numbers of everybody else; one that was the person's and somebody else's too is in
    both. Where it `is_faint` a short number counts too that is all that somebody wrote.
    """

    ids: frozenset[str] = frozenset()
    numbers: frozenset[str] = frozenset()
    others: frozenset[str] = frozenset()
    is_faint: bool = False

    @cached_property
    def _bare(self) -> list[str]:
        """Return the numbers, and identifiers that are numbers, without zeros in front."""
        every = {one.lstrip("0") or "0" for one in self.ids | self.numbers if one.isdigit()}
        return sorted(every, key=lambda one: (-len(one), one))

    @cached_property
    def _worded(self) -> list[str]:
        every = {one for one in self.ids | self.numbers if one and not one.isdigit()}
        return sorted(every, key=lambda one: (-len(one), one))

    @cached_property
    def _found(self) -> re.Pattern[str] | None:
        ways = [rf"(?<!\d)0*{one}(?!\d)" for one in self._bare]
        ways += [rf"(?<![^\W_]){re.escape(one)}(?![^\W_])" for one in self._worded]
        return re.compile("(?i)" + "|".join(ways)) if ways else None

    @cached_property
    def _theirs(self) -> frozenset[str]:
        """Return what is somebody else's alone, in small letters."""
        return frozenset(one.casefold() for one in self.others - self.ids - self.numbers)

    @property
    def ways(self) -> list[str]:
        """Return patterns, without look-arounds, of which one is found in every text that may have one, and others."""
        return [rf"(?:^|[^0-9])0*{one}(?:[^0-9]|$)" for one in self._bare] + [re.escape(one) for one in self._worded]

    def spans_in(self, text: str) -> list[tuple[int, int]]:
        """Return from where to where a text may name the person by an identifier or a number."""
        return [one.span() for one in self._matches(text)]

    def is_likely(self, text: str) -> bool:
        """Whether an identifier of letters and digits stands in a text that nobody else has: no amount looks so."""
        return any(
            LETTER.search(one[0]) and any(map(str.isdigit, one[0])) and one[0] not in self.others
            for one in self._matches(text)
        )

    def _matches(self, text: str) -> Iterator[re.Match[str]]:
        if self._found is None or not (found := list(self._found.finditer(text))):
            return
        times = [one.span() for one in TIMES.finditer(text)]
        has_words = bool(LETTER.search(text))
        for one in found:
            if any(begin <= one.start() and one.end() <= end for begin, end in times):
                continue
            is_short = one[0].isdigit() and len(one[0].lstrip("0")) <= SHORT and not has_words
            if is_short and not (self.is_faint and text.strip(AROUND) == one[0]):
                continue
            is_letter = len(one[0]) == 1 and one[0] not in self.ids | self.numbers  # `a` is a word, `A` an identifier
            if not is_letter and not self._is_another(text, one):
                yield one

    def _is_another(self, text: str, one: re.Match[str]) -> bool:
        """Whether what stands there is another's: as it is, or with the letters or marks that it is joined to."""
        if one[0].casefold() in self._theirs or len(_around(text, one, JOINED)) - len(one[0]) > LONGEST:
            return True
        return any(_around(text, one, way).strip(".-_").casefold() in self._theirs for way in (JOINED, MARKED))


def _around(text: str, one: re.Match[str], joined: re.Pattern[str]) -> str:
    """Return what was found with all that stands before and behind it without a break."""
    before, behind = joined.match(text[: one.start()][::-1]), joined.match(text, one.end())
    return text[one.start() - len(before[0] if before else "") : behind.end() if behind else one.end()]
