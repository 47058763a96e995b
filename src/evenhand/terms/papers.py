"""On which paper a workplace prints: what its settings say, or what is usual in the place of its time zone."""

from __future__ import annotations

from evenhand.terms.languages import sentence

__all__ = ["PAPERS", "PAPER_SIZES", "usual_paper"]

PAPERS = (sentence("letter"), sentence("a4"))
PAPER_SIZES = {"letter": "us-letter", "a4": "a4"}
"""What the typesetter calls each."""
LETTER_PLACES = frozenset(["BZ", "CA", "CL", "CO", "CR", "GT", "MX", "NI", "PA", "PH", "PR", "SV", "US", "VE"])
"""Where US Letter is usual, A4 anywhere else.

Source: Unicode CLDR 46, supplemental data, measurementData, paperSize (UTS #35 part 6, Measurement System Data).
"""


def usual_paper(zone: str) -> str:
    """Return which of PAPERS is usual in the place where clocks show `zone`; A4 where no place is known.

    Source of the place of a zone: Unicode CLDR, as babel carries it.
    """
    from babel.core import get_global

    place = get_global("zone_territories").get(get_global("zone_aliases").get(zone, zone))
    return "letter" if place in LETTER_PLACES else "a4"
