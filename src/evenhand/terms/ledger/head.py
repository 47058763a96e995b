"""The ledger's head: how many entries there are and the root over them, as people write it down and read it again."""

from __future__ import annotations

import re
from dataclasses import dataclass

from evenhand.terms.languages import told
from evenhand.terms.records import Refusal

__all__ = ["Head", "head_of"]

WRITTEN = re.compile(r"\s*([0-9]{1,15})\s*:((?:[\s-]*[0-9A-Fa-f]){64})\s*")


@dataclass(frozen=True)
class Head:
    """How many entries there are, and the root of the tree over them."""

    size: int
    root: bytes

    def __str__(self) -> str:
        """Return it as it is typed: `54:20caae06...`."""
        return f"{self.size}:{self.root.hex()}"

    @property
    def in_groups(self) -> str:
        """Return it in groups of four digits, which a person can compare."""
        digits = self.root.hex()
        return f"{self.size}: {' '.join(digits[place : place + 4] for place in range(0, len(digits), 4))}"


def head_of(text: str) -> Head:
    """Return the head that a text writes down, in groups or not; raises Refusal where it writes none."""
    found = WRITTEN.fullmatch(text)
    if found is None:
        raise Refusal(
            told(
                '"{text}" is no head of a ledger; write it as the note has it, the number of entries, a colon and 64 '
                "digits of 0 to 9 and a to f, with or without spaces.",
                text=text,
            )
        )
    if not int(found[1]):
        raise Refusal(
            told(
                '"{text}" is a head of no entries, to which nothing can be held; write the one that the note has, '
                "which begins with the number of entries there were.",
                text=text,
            )
        )
    return Head(int(found[1]), bytes.fromhex(re.sub(r"[\s-]", "", found[2])))
