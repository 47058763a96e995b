"""Amounts as offices write them: a currency's sign on either side, spaces or marks between thousands."""

from decimal import Decimal

import pytest
from babel.numbers import format_currency

from evenhand.layouts import Layout, SourceFile, read


def amount_read(text: str, decimal: str) -> list[Decimal]:
    columns = {"person": (1,), "valid_from": (2,), "amount": (3,)}
    layout = Layout("rates", "delimited", columns, delimiter=";", header=0, decimal=decimal, date_order="ymd")
    rows = read(SourceFile("rates.csv", f"P210;2026-07-01;{text}\n".encode()), layout, zones={})
    return rows.frame["amount"].to_list()


@pytest.mark.parametrize(
    ("locale", "currency", "decimal"),
    [
        *(("pl", "PLN", ","), ("de", "EUR", ","), ("fr", "EUR", ","), ("es", "EUR", ","), ("it", "EUR", ",")),
        *(("nl", "EUR", ","), ("pt_BR", "BRL", ","), ("pt_PT", "EUR", ","), ("en_US", "USD", "."), ("cs", "CZK", ",")),
        *(("en_GB", "GBP", "."), ("de_CH", "CHF", "."), ("en_CA", "USD", "."), ("sv", "SEK", ","), ("hu", "HUF", ",")),
    ],
)
def test_amounts_are_read_as_unicode_cldr_writes_them(locale: str, currency: str, decimal: str) -> None:
    """The texts are those of Babel, from Unicode CLDR."""
    for value in (Decimal("16365.52"), Decimal("24.50")):
        assert amount_read(format_currency(value, currency, locale=locale), decimal) == [value]


@pytest.mark.parametrize("text", ["6 365,52 zł", "6\u00a0365,52\u202fzł", "6365,52 PLN", "6.365,52 zl", "zł 6 365,52"])
def test_a_space_parts_thousands_beside_a_sign(text: str) -> None:
    assert amount_read(text, ",") == [Decimal("6365.52")]


@pytest.mark.parametrize("text", ["63 65,52 zł", "6 365,52 abc", "zł", "6 365,52 zł/h", "12 zł 50", "zł 12 zł"])
def test_what_is_no_amount_is_rejected(text: str) -> None:
    assert amount_read(text, ",") == []
