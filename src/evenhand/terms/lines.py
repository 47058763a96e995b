"""What people write about a decision (a name, a reason, a title) as one clean line.

It goes into notes, terminals, files and the store, where a line break could forge a line of its own and a character
that does not show could turn what stands around it.
Source: Unicode Standard Annex 15 (NFC); what is hidden, see `terms.characters`.
"""

from __future__ import annotations

import re
import unicodedata

from evenhand.terms.characters import escaped, hidden_in
from evenhand.terms.languages import told
from evenhand.terms.records import Refusal

__all__ = ["LONGEST", "as_line"]

LONGEST = 500
"""Characters that such a line may have."""

SHOWN = 60
BREAKS = re.compile(r"[ \t]*[\t\r\n][ \t\r\n]*")


def as_line(text: str, called: str = "", *, most: int = LONGEST) -> str:
    """Return the text in Unicode's composed form (NFC), without blanks at its ends and with one for each line break.

    `called` is what a refusal calls it, such as `--reason`. Raises Refusal where it holds a character that does not
    show, turns the text around it or is none (a lone surrogate), and where it has more than `most` characters.
    """
    line = unicodedata.normalize("NFC", BREAKS.sub(" ", text.strip()))

    def quoted(part: str) -> str:
        return told("{name} “{text}”", name=called, text=part) if called else f"“{part}”"

    if hidden := hidden_in(line):
        raise Refusal(
            told(
                "{text} holds characters that do not show ({hidden}); write it without them. Nothing was changed.",
                text=quoted(escaped(line[:SHOWN])),
                hidden=hidden,
            )
        )
    if len(line) > most:
        raise Refusal(
            told(
                "{text} has {count:,} characters, and {most} fit; shorten it. Nothing was changed.",
                text=quoted(f"{line[:SHOWN]}…"),
                count=len(line),
                most=most,
            )
        )
    return line
