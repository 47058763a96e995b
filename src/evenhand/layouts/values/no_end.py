"""Days that stand for no end: 31.12.9999, 2099-12-31 and the like. Source: common practice, no source."""

from __future__ import annotations

import re

__all__ = ["OPEN_ENDED", "is_no_end"]

OPEN_ENDED = frozenset({"left_on", "withdrawn_on", "valid_to"})
"""The columns in which such a day says that there is no end yet; in any other it is a mistake."""

YEAR = "(?:9999|2999|2199|2099)"
NO_END = re.compile(
    rf"(?:31([-/. ] ?)12\1{YEAR}|12([-/. ] ?)31\2{YEAR}|{YEAR}([-/. ] ?)12\3 ?31|(?:3112|1231){YEAR}|{YEAR}1231)"
    r"(?:[T ]+(?:00:00|23:59)(?::\d\d)?(?:[.,]\d+)?)?",
    re.ASCII,
)


def is_no_end(text: str) -> bool:
    """Return whether a text is a last day of a year that nobody plans for."""
    return NO_END.fullmatch(text.strip()) is not None
