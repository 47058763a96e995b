"""Blank whatever names somebody else: their names and parts of names, their numbers and identifiers.

A copy of somebody's data must not tell of others (GDPR art. 15(4)). A text that a person wrote is searched in whatever
letters it is written; one that evenhand made, for names as the roster writes them, so that a person called Will does
not blank the word. Doubt blanks. What is misspelt is not found: somebody reads the report before it is given away.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable

from evenhand.terms.languages import sentence

__all__ = ["BLANK", "Blanks"]

BLANK = sentence("[somebody else]")
WORD = re.compile(r"[^\W_]+(?:['’][^\W_]+)*")
# Days, times and amounts hold digits that are nobody's number.
FIGURE = re.compile(r"\d{4}-\d\d-\d\d|\d{1,2}:\d\d(?::\d\d)?|\d+[.,]\d+")
SHORTEST = 4
"""Letters from which on a part of a name is looked for in small letters too; below, `bo` would be found in anything."""


class Blanks:
    """What names others than one person, and how often it was blanked (`made`)."""

    def __init__(
        self, own_names: Iterable[str], own_codes: Collection[str], names: Iterable[str], codes: Iterable[str]
    ) -> None:
        mine = {part.casefold() for name in own_names for part in WORD.findall(name)}
        self._names = {part for name in names for part in WORD.findall(name) if part.casefold() not in mine}
        self._folded = {part.casefold() for part in self._names}
        self._codes = {code for code in codes if code} - set(own_codes)
        # An identifier of several parts, such as P-1042 or Z1/7, is found whole.
        several = sorted((code for code in self._codes if not WORD.fullmatch(code)), key=len, reverse=True)
        self._several = (
            re.compile("|".join(rf"(?<!\w){re.escape(code)}(?!\w)" for code in several)) if several else None
        )
        self.made = 0

    def is_anothers(self, code: str) -> bool:
        """Whether a number or an identifier is somebody else's."""
        return code in self._codes

    def text(self, text: str, *, is_written: bool) -> str:
        """Return a text with a blank in place of whatever names somebody else; `is_written` by a person's own hand."""
        if self._several:
            text = self._several.sub(self._blank, text)
        figures = [found.span() for found in FIGURE.finditer(text)]

        def blanked(found: re.Match[str]) -> str:
            inside = any(start <= found.start() and found.end() <= end for start, end in figures)
            return (
                self._blank(found) if not inside and self._names_another(found.group(), is_written) else found.group()
            )

        return re.sub(rf"(?:{re.escape(BLANK)}[ ,]*){{2,}}", f"{BLANK} ", WORD.sub(blanked, text)).strip()

    def _names_another(self, word: str, is_written: bool) -> bool:
        if word in self._codes or word in self._names:
            return True
        folded = word.casefold()
        return is_written and folded in self._folded and (len(word) >= SHORTEST or word != folded)

    def _blank(self, _: re.Match[str]) -> str:
        self.made += 1
        return BLANK
