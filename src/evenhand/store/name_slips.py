"""A person's initials alone, and their names with one letter off, in what others wrote.

Most such texts mean somebody or something else, so they are asked about behind all others, and in free texts alone.
One letter is changed, left out, put in or turned with the next: what typists do most (Damerau 1964).
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property

__all__ = ["NameSlips"]

SHORTEST = 5
"""Letters of a name from which on one of them may be off; below, half of all words are a letter away."""
WORD = re.compile(r"[^\W\d_]+")
ORDINARY = frozenset({"AM", "PM", "OK", "ID", "NO", "IN", "IT", "HR", "TV", "PC", "UK", "US", "EU"})
"""What stands in capitals and is hardly anybody's initials."""
BETWEEN = r"\.?\s?"
TIME_OF_DAY = re.compile(r"\d\s*$")


@dataclass(frozen=True)
class NameSlips:
    """The words of a name as they are `written`, in small letters, and as plain `words` without accents.

    `known` are words, of the same kind, that are names as they stand.
    """

    written: tuple[str, ...]
    words: tuple[str, ...]
    known: frozenset[str]

    def spans_in(self, text: str, plain: Callable[[str], str]) -> list[tuple[int, int]]:
        """Return from where to where a text may mean the person; `plain` takes capitals and accents off a word."""
        return [*self._slips_in(text, plain), *self._initials_in(text)]

    def _slips_in(self, text: str, plain: Callable[[str], str]) -> Iterator[tuple[int, int]]:
        from rapidfuzz.distance import OSA

        for one in WORD.finditer(text):
            word = plain(one[0])
            if len(word) < SHORTEST - 1 or word in self.known:
                continue
            if any(OSA.distance(word, part, score_cutoff=1) == 1 for part in self._long):
                yield one.span()

    @cached_property
    def _long(self) -> list[str]:
        return [one for one in self.words if len(one) >= SHORTEST]

    @cached_property
    def _initials(self) -> list[str]:
        """Return the initials of the whole name, and of its first and last word; none of a name of one word."""
        if len(self.words) < 2:
            return []
        return list(dict.fromkeys(("".join(one[0] for one in self.words), self.words[0][0] + self.words[-1][0])))

    @cached_property
    def _dotted(self) -> re.Pattern[str] | None:
        ways = [r"\.\s?".join(map(re.escape, one)) for one in self._initials]
        return re.compile(rf"(?i)(?<![^\W_])(?<![^\W_]\.)(?:{'|'.join(ways)})(?:\.|(?![\w.]))") if ways else None

    def _initials_in(self, text: str) -> Iterator[tuple[int, int]]:
        if self._dotted is None:
            return
        for one in self._dotted.finditer(text):
            if not TIME_OF_DAY.search(text[: one.start()]):  # 8 a.m.
                yield one.span()
        if text.upper() == text:  # in capitals as a whole, where any two letters are
            return
        whole = {one.upper() for one in self._initials} - ORDINARY
        yield from (one.span() for one in WORD.finditer(text) if one[0] in whole)

    @property
    def ways(self) -> list[str]:
        """Return patterns, without look-arounds, of which one is found in every text that may have one, and others."""
        off = [way for part in self.written if len(part) >= SHORTEST for way in _one_off(part)]
        return [*off, *(r"\b" + BETWEEN.join(map(re.escape, one)) + r"\b" for one in self._initials)]


def _one_off(word: str) -> Iterator[str]:
    """Yield what finds a word of which one letter is changed, left out, put in or turned with the next."""
    # an accent may be in one character with its letter, behind it, or left out
    letters = [re.escape(one) if one.isascii() else ".{1,2}" for one in word]
    for at in range(len(letters)):
        before, behind = "".join(letters[:at]), "".join(letters[at + 1 :])
        yield f"{before}.?{behind}"
        yield f"{before}.{letters[at]}{behind}"
    for at in range(len(letters) - 1):
        yield "".join([*letters[:at], letters[at + 1], letters[at], *letters[at + 2 :]])
