"""From a cell's text to the value of a declared column, or the reason why it is none."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from decimal import Decimal
from typing import Any

from evenhand.layouts.forms.encoding import DAMAGED
from evenhand.layouts.forms.sheets import CELL_ERROR
from evenhand.layouts.values.coded import Unfit
from evenhand.layouts.values.dates import EPOCH, DateStyle, parse_date
from evenhand.layouts.values.money import without_sign
from evenhand.layouts.values.words import WORDS, YES_NO, plain
from evenhand.terms.characters import hidden_in
from evenhand.terms.column_words import column_in_words
from evenhand.terms.columns import Column
from evenhand.terms.languages import in_a_row, sentence, told
from evenhand.terms.zones import is_zone

__all__ = ["as_is", "cell_parser"]

SPREADSHEET_TEXT = re.compile(r'^(?:="(\d*)"|\'(\d+))$')
LARGEST_COUNT = 10**9
LONGEST_COUNT = 40  # digits, leading zeros included
DIGITS = r"^[0-9]{1,32}$"
PLAIN_TEXT = r"^[\x20-\x22\x24-\x7e][\x20-\x7e]*$"  # ASCII without control characters, and no mark of an error


def cell_parser(
    column: Column,
    *,
    order: str = "",
    decimal: str = ".",
    words: Mapping[str, str] | None = None,
    number_width: int = 0,
    first_year: int = 2000,
    style: DateStyle | None = None,
) -> Callable[[str], Any]:
    """Return the function that turns a cell of `column` into its value: None where empty, Unfit where it is bad.

    `style` is how the column's dates are written, where it holds dates.
    """
    exact = {seen.casefold(): meaning for seen, meaning in (words or {}).items()}
    meant = {plain(seen): meaning for seen, meaning in (words or {}).items() if plain(seen) or not seen}
    parse = _by_kind(column, order, decimal, number_width, first_year, style)

    def value(text: str) -> Any:
        if DAMAGED in text:
            raise Unfit(
                sentence("the line is not in the encoding of the rest of the file; save the file again in one encoding")
            )
        if hidden := hidden_in(text):
            raise Unfit(
                told(
                    "the cell holds a character that does not show ({hidden}); write the cell again without it",
                    hidden=hidden,
                )
            )
        if text == CELL_ERROR:
            raise Unfit(sentence("the cell holds a spreadsheet error; correct it there"))
        if exact:  # a mark such as + has no plain form
            text = exact.get(text.casefold(), meant.get(plain(text) or text, text))
        if not text:
            if column.required:
                raise Unfit(told("the {column} is missing; add it", column=column_in_words(column.name)))
            return None
        return parse(text)

    return value


def as_is(column: Column, words: Mapping[str, str], number_width: int) -> str:
    """Return the pattern of texts that `cell_parser` would hand on as they are, '' where it has to see each of them."""
    if words or column.kind != "text" or column.allowed or column.name == "zone":
        return ""
    if column.name == "number":
        return "" if number_width else DIGITS
    return PLAIN_TEXT


def _by_kind(
    column: Column, order: str, decimal: str, number_width: int, first_year: int, style: DateStyle | None
) -> Callable[[str], Any]:
    if column.name == "number":
        return lambda text: number(text, number_width)
    if column.name == "zone":
        return _zone
    if column.allowed:
        return lambda text: _allowed(text, column)
    match column.kind:
        case "date":
            # Days are handed on as dates by polars, which counts them from 1970 too.
            return lambda text: _date(text, order, first_year, style)
        case "count":
            return _count
        case "score":
            return lambda text: _score(text, decimal)
        case "money":
            return lambda text: _money(text, decimal, column.minimum)
        case "yes_no":
            return _yes_no
        case _:
            return lambda text: text


def number(text: str, width: int) -> str:
    """Return a keyed number as text, leading zeros kept, padded to `width` digits."""
    if found := SPREADSHEET_TEXT.match(text):
        text = found[1] or found[2] or ""
    text = text.removesuffix(".0")
    if not (text.isascii() and text.isdigit()):
        if re.fullmatch(r"\d+(?:[.,]\d+)?E\+?\d+", text, re.IGNORECASE):
            raise Unfit(sentence("a spreadsheet shortened this number; format the column as text and export it again"))
        raise Unfit(sentence("a number that people key holds digits only; correct it"))
    if len(text) > 32:
        raise Unfit(sentence("nobody keys so many digits; correct the number"))
    return text.zfill(width)


def _zone(text: str) -> str:
    if not is_zone(text):
        raise Unfit(sentence("this is no time zone; write its IANA name, such as America/Chicago"))
    return text


def _allowed(text: str, column: Column) -> str:
    meaning = WORDS.get(column.name, {}).get(plain(text), text)
    if meaning not in column.allowed:
        raise Unfit(
            told(
                "this is neither {allowed}; correct it, or say what it stands for in the layout under [words.{column}]",
                allowed=in_a_row("{one} nor {other}", column.allowed),
                column=column.name,
            )
        )
    return meaning


def _date(text: str, order: str, first_year: int, style: DateStyle | None) -> Any:
    from datetime import date

    return date.fromordinal(parse_date(text, order, first_year, style) + EPOCH)


def _count(text: str) -> int:
    whole = text.removesuffix(".0")
    # How many digits comes first: Python does not work out a number of thousands of them.
    if not (whole.isascii() and whole.isdigit()) or len(whole) > LONGEST_COUNT or int(whole) > LARGEST_COUNT:
        raise Unfit(sentence("this is no whole number; correct it"))
    return int(whole)


def _decimal(text: str, decimal: str) -> str:
    """Return the number with a point for the decimal mark and without marks between thousands."""
    thousands = "," if decimal == "." else "."
    if re.fullmatch(rf"[+-]?\d{{1,3}}(?:[{thousands} '’]\d{{3}})+(?:[{decimal}]\d+)?", text, re.ASCII):
        text = re.sub(rf"[{thousands} '’]", "", text)
    if not re.fullmatch(rf"[+-]?\d+(?:[{decimal}]\d*)?|[+-]?[{decimal}]\d+", text, re.ASCII) or len(text) > 40:
        raise Unfit(
            told(
                "this is no number with {decimal} as its decimal mark; correct it, or 'decimal' in the layout",
                decimal=repr(decimal),
            )
        )
    return text.replace(decimal, ".")


def _score(text: str, decimal: str) -> float:
    return float(_decimal(text, decimal))


def _money(text: str, decimal: str, minimum: int | None) -> Decimal:
    amount = Decimal(_decimal(without_sign(text), decimal))
    if abs(amount) >= 10**13 or -int(amount.normalize().as_tuple().exponent) > 4:
        raise Unfit(sentence("money is kept to four decimals; write fewer"))
    if minimum is not None and amount < minimum:
        raise Unfit(told("an amount below {minimum} cannot be paid; correct it", minimum=minimum))
    return amount


def _yes_no(text: str) -> bool:
    if (meaning := YES_NO.get(plain(text))) is None:
        raise Unfit(
            sentence("this is neither yes nor no; correct it, or say what it stands for in the layout under [words]")
        )
    return meaning
