from dataclasses import fields
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evenhand.layouts import Layout
from evenhand.terms.records import Refusal
from evenhand.terms.sources import SOURCES

GOOD = """
table = "punches"
form = "delimited"
delimiter = ";"
header = 3
date_order = "dmy"
reader = "North Gate"
number_width = 5

[columns]
number = "Badge"
at = ["Date", "Time"]

[words.direction]
"E" = "in"
"""


def test_a_layout_file_says_what_it_says():
    layout = Layout.from_toml(GOOD, "gate.toml")
    assert layout.columns == {"number": ("Badge",), "at": ("Date", "Time")}
    assert (layout.header, layout.date_order, layout.number_width) == (3, "dmy", 5)
    assert layout.words == {"direction": {"E": "in"}}


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (("number_width", "number_widht"), "'number_widht' is unknown"),
        (('"dmy"', '"dym"'), "'date_order'"),
        (("header = 3", 'header = "three"'), "'header'"),
        (("header = 3", "header = 1000000"), "'header' is 1000000, but must be a whole number from 0 to 999999"),
        (("header = 3", "header = true"), "'header'"),
        (('"punches"', '"punch"'), "'table'"),
        (('delimiter = ";"', 'delimiter = ";;"'), "'delimiter'"),
        (('delimiter = ";"', ""), "'delimiter' is missing"),
        (("number = ", "badge = "), "'columns.badge'"),
        (('"Badge"', "0"), "'columns'"),
        (("header = 3", ""), "'header' says that there is none"),
        (('"E" = "in"', '"E" = 1'), "'words'"),
        (('table = "punches"', ""), "'table' is missing"),
        (("header = 3", "header = "), "not a readable TOML file"),
        (("header = 3", 'encoding = "klingon"'), "'encoding'"),
        (("header = 3", 'encoding = "hex"'), "'encoding'"),
    ],
)
def test_a_bad_layout_file_is_refused_with_file_key_and_reason(change, said):
    with pytest.raises(Refusal) as refused:
        Layout.from_toml(GOOD.replace(*change), "gate.toml")
    assert "gate.toml" in str(refused.value)
    assert said in str(refused.value)


def test_a_fixed_layout_needs_rising_positions():
    text = 'table = "punches"\nform = "fixed"\nstarts = [1, 9, 9]\n[columns]\nnumber = 1\n'
    with pytest.raises(Refusal, match="'starts'"):
        Layout.from_toml(text, "f.toml")


words = st.text(st.characters(exclude_categories=("Cs",)), min_size=1, max_size=12)


@given(data=st.data())
@settings(max_examples=60, deadline=None)
def test_what_is_written_reads_back_equal(data):
    table = data.draw(st.sampled_from(list(SOURCES)))
    source = st.one_of(words, st.integers(1, 40))
    # Words of the other columns stand for certain values only.
    free = [one.name for one in SOURCES[table].columns if not one.allowed and one.kind != "yes_no"]
    columns = data.draw(
        st.dictionaries(
            st.sampled_from(SOURCES[table].names), st.lists(source, min_size=1, max_size=2).map(tuple), min_size=1
        )
    )
    layout = Layout(
        table=table,
        form="delimited",
        columns=columns,
        delimiter=data.draw(st.sampled_from([",", ";", "\t", "|", "~"])),
        header=data.draw(st.integers(1, 99)),
        date_order=data.draw(st.sampled_from(["", "dmy", "mdy", "ymd"])),
        reader=data.draw(st.one_of(st.just(""), words)),
        words=data.draw(st.dictionaries(st.sampled_from(free), st.dictionaries(words, words), max_size=2)),
    )
    assert Layout.from_toml(layout.to_toml(), "kept.toml") == layout


def test_every_key_of_a_layout_is_documented():
    text = (Path(__file__).parents[2] / "docs" / "files.md").read_text(encoding="utf-8")
    for key in fields(Layout):
        assert f"`{key.name}`" in text or f"`[{key.name}" in text


def test_the_layout_shown_in_the_documentation_is_understood():
    text = (Path(__file__).parents[2] / "docs" / "files.md").read_text(encoding="utf-8")
    shown = text.split("```toml\n")[1].split("```")[0]
    assert Layout.from_toml(shown, "files.md").columns["at"] == ("Date", "Time")


def test_every_table_that_can_be_handed_over_is_documented():
    text = (Path(__file__).parents[2] / "docs" / "files.md").read_text(encoding="utf-8")
    assert [name for name in SOURCES if f"| `{name}` |" not in text] == []


@pytest.mark.parametrize("meant", ["sideways", "In and out", "yes"])
def test_a_word_stands_for_nothing_that_its_column_does_not_hold(meant):
    with pytest.raises(Refusal, match=r'words.direction.*must be "in" or "out"'):
        Layout.from_toml(GOOD.replace('"E" = "in"', f'"E" = "{meant}"'), "punches-1.toml")
    for allowed in ("in", "out", "", "Kommen"):
        Layout.from_toml(GOOD.replace('"E" = "in"', f'"E" = "{allowed}"'), "punches-1.toml")
