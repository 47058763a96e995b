"""A day in an address, `{day:day}` in a route, so that names that hold slashes may stand before it."""

from __future__ import annotations

from starlette.convertors import StringConvertor, register_url_convertor

__all__ = ["DayConvertor"]


class DayConvertor(StringConvertor):
    """Takes what is written like a date; whether there is such a day is seen later."""

    regex = r"\d{4}-\d{2}-\d{2}"


register_url_convertor("day", DayConvertor())
