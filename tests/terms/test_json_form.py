"""The one JSON form, and the schema that is made from the same declared records."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import UTC, date, datetime
from decimal import Decimal
from typing import Any, Literal, NamedTuple

import jsonschema
import pytest

from evenhand.terms.columns import Column, Frame, Table
from evenhand.terms.json_form import Either, Row, RowsOf, as_json_value, json_schema

SHIFTS = Table(
    "shifts",
    "Shifts",
    (
        Column("person", "text", "Who", required=True),
        Column("starts", "instant", "When", required=True),
        Column("way", "text", "Which way", allowed=("in", "out")),
        Column("rate", "money", "At what rate"),
    ),
)


class Span(NamedTuple):
    starts: int
    ends: int


@dataclass(frozen=True)
class Held:
    """What is held."""

    made_at: int
    until: date | None
    way: Literal["in", "out"]
    spans: tuple[Span, ...]
    pair: tuple[str, int]
    rows: Frame
    amounts: dict[str, Decimal]
    as_of: datetime
    at: int | None


# 1772459880 is 2 March 2026, 13:58 UTC, by `date -u -d @1772459880` of GNU coreutils.
AT = 1_772_459_880
HELD = Held(
    AT,
    None,
    "in",
    (Span(AT, AT + 60),),
    ("a", 1),
    SHIFTS.rows([{"person": "P1", "starts": AT, "way": None, "rate": Decimal("17.5")}]),
    {"pay": Decimal("1E+2")},
    datetime(2026, 3, 2, 13, 58, tzinfo=UTC),
    None,
)
TOLD = {("Held", "rows"): RowsOf(SHIFTS)}


def validated(value: object, form: object) -> None:
    schema = json_schema(form, "held", TOLD)
    jsonschema.Draft202012Validator.check_schema(schema)
    checker = jsonschema.Draft202012Validator(schema, format_checker=jsonschema.FormatChecker())
    checker.validate(json.loads(json.dumps(value)))


def test_instants_have_their_offset_and_money_all_its_digits() -> None:
    told = as_json_value(HELD)
    assert told["made_at"] == told["as_of"] == told["spans"][0]["starts"] == "2026-03-02T13:58:00Z"
    assert told["rows"] == [{"person": "P1", "starts": "2026-03-02T13:58:00Z", "way": None, "rate": "17.5000"}]
    assert told["amounts"] == {"pay": "100"}


def test_what_is_printed_is_what_the_schema_says() -> None:
    validated(as_json_value(HELD), Held)
    validated(as_json_value(HELD.rows), RowsOf(SHIFTS))
    validated(None, Either((Row(SHIFTS), None)))


@pytest.mark.parametrize(
    "change",
    [
        {"made_at": AT},
        {"made_at": "2026-03-02T13:58:00"},
        {"way": "up"},
        {"pair": ["a"]},
        {"pair": ["a", 1, 2]},
        {"more": 1},
        {"rows": [{"person": "P1"}]},
        {"amounts": {"pay": 1.5}},
        {"until": "02.03.2026"},
    ],
)
def test_anything_else_is_not(change: dict[str, Any]) -> None:
    with pytest.raises(jsonschema.ValidationError):
        validated(as_json_value(HELD) | change, Held)


def test_a_frame_whose_rows_are_told_nowhere_has_no_schema() -> None:
    with pytest.raises(TypeError, match="tell what it holds"):
        json_schema(Held, "held")
