"""What stands in an address: a day, `{day:day}` in a route, or a name, `{person:name}`, whatever the name holds."""

from __future__ import annotations

from urllib.parse import quote

from starlette.convertors import StringConvertor, register_url_convertor

from evenhand.terms.segments import as_segment, name_in_segment

__all__ = ["DayConvertor", "NameConvertor", "in_path"]


class DayConvertor(StringConvertor):
    """Takes what is written like a date; whether there is such a day is seen later."""

    regex = r"\d{4}-\d{2}-\d{2}"


class NameConvertor(StringConvertor):
    """Takes one part of an address, as `in_path` writes a name: no name reaches into another route."""

    def convert(self, value: str) -> str:
        """Return the name."""
        return name_in_segment(value)

    def to_string(self, value: str) -> str:
        """Return what stands for the name."""
        return as_segment(value)


register_url_convertor("day", DayConvertor())
register_url_convertor("name", NameConvertor())


def in_path(text: object) -> str:
    """Return a name as it stands in an address, as one part of it."""
    return quote(as_segment(str(text)), safe="")
