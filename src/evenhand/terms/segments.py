"""A name as one part of an address, whatever is in it.

Servers undo percent signs before they look for the page, and browsers before they resolve dots: a name with a slash
would stand for a page below another, and `..` for the one above. So what parts an address is written otherwise here.
Source: RFC 3986 sections 2.4 (decoding) and 6.2.2.3 (dot segments).
"""

from __future__ import annotations

__all__ = ["as_segment", "name_in_segment"]

WRITTEN = {"~": "~7E", "/": "~2F"}
DOTS = {".": "~2E", "..": "~2E~2E"}
READ = (("~2F", "/"), ("~2E", "."), ("~7E", "~"))  # the sign itself last, as it was written first


def as_segment(name: str) -> str:
    """Return the name with what parts an address written otherwise; what else it holds is for percent-encoding."""
    return DOTS.get(name) or "".join(WRITTEN.get(one, one) for one in name)


def name_in_segment(segment: str) -> str:
    """Return the name that `as_segment` wrote."""
    for written, sign in READ:
        segment = segment.replace(written, sign)
    return segment
