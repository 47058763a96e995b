"""The published schemas against the reference library of the Table Schema standard."""

from __future__ import annotations

import pytest

from evenhand.terms.schema import table_schema
from evenhand.terms.sources import SOURCES


@pytest.mark.parametrize("name", SOURCES)
def test_a_schema_is_a_valid_table_schema(name: str) -> None:
    # frictionless is the Data Package project's own implementation.
    from frictionless import Schema

    descriptor = table_schema(SOURCES[name])
    schema = Schema.from_descriptor(descriptor)
    assert [field.name for field in schema.fields] == SOURCES[name].names
    assert Schema.metadata_validate(descriptor) is None or not list(Schema.metadata_validate(descriptor))


def test_numbers_are_published_as_text_so_that_leading_zeros_stay() -> None:
    for name in ("people", "enrolments", "punches"):
        fields = {field["name"]: field for field in table_schema(SOURCES[name])["fields"]}
        assert fields["number"]["type"] == "string"


def test_units_stand_beside_the_columns_that_have_one() -> None:
    fields = {field["name"]: field for field in table_schema(SOURCES["readers"])["fields"]}
    assert fields["max_digits"]["unit"] == "digits"
