"""Settings written back into files made by other hands: comments, order and layout stay, and nothing else is said."""

from __future__ import annotations

import tomllib
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from hypothesis import event, given
from hypothesis import strategies as st

from evenhand.store.own_rules import parse_parameters
from evenhand.store.settings_rewritten import KeyChange, dated_value_added, rewritten
from evenhand.terms.records import Refusal

PATH = Path("evenhand.toml")

BY_HAND = """\
# ours, since 2019
[workplace]
name='Mill # 1'   # the hash is ours

  [policy]   # indented
  meal_minutes   =    30   # agreed

# about the sites
[site."Mill North"]
zone="America/Chicago" # by the river
# it closes in August

[[ site . "Mill North" . from ]]
date=2026-05-03
rounding_minutes=6

[site.B]
zone = 'UTC'
"""


def test_a_value_is_replaced_where_it_stands() -> None:
    made = rewritten(BY_HAND, [KeyChange(("policy",), "meal_minutes", 20)], PATH)
    assert made == BY_HAND.replace("=    30   # agreed", "=    20   # agreed")


def test_a_key_is_added_behind_the_last_of_its_table_and_before_what_is_said_of_the_next() -> None:
    made = rewritten(BY_HAND, [KeyChange(("policy",), "trifle_seconds", 30)], PATH)
    assert made == BY_HAND.replace("# agreed\n", "# agreed\n  trifle_seconds = 30\n")


def test_a_table_is_added_beside_its_kin() -> None:
    made = rewritten(BY_HAND, [KeyChange(("policy", "grace"), "start_late_minutes", 5)], PATH)
    assert made == BY_HAND.replace("# agreed\n", "# agreed\n\n[policy.grace]\nstart_late_minutes = 5\n")


def test_a_comment_that_follows_at_once_stays_with_its_table() -> None:
    made = rewritten(BY_HAND, [KeyChange(("site", "Mill North"), "rounding_minutes", 15)], PATH)
    assert made == BY_HAND.replace("in August\n", "in August\nrounding_minutes = 15\n")


def test_what_changes_from_a_day_on_is_written_in_order_of_days() -> None:
    changes = [KeyChange(("site", "Mill North"), "rounding_minutes", 0, date(2026, month, 3)) for month in (7, 5, 3)]
    made = rewritten(BY_HAND, changes, PATH)
    later = tomllib.loads(made)["site"]["Mill North"]["from"]
    assert later == [{"date": date(2026, month, 3), "rounding_minutes": 0} for month in (3, 5, 7)]
    assert [line for line in BY_HAND.splitlines() if line not in made.splitlines()] == ["rounding_minutes=6"]


def test_a_key_is_taken_out_with_its_line_alone() -> None:
    made = rewritten(BY_HAND, [KeyChange(("policy",), "meal_minutes", None)], PATH)
    assert made == BY_HAND.replace("  meal_minutes   =    30   # agreed\n", "")


def test_a_table_is_taken_out_and_what_is_said_of_the_next_stays() -> None:
    text = (
        "[policy]\nmeal_minutes = 30\n\n[policy.automatic_meal]  # agreed\nminutes = 30\n\n# B\n[site.B]\nzone='UTC'\n"
    )
    made = rewritten(text, [KeyChange(("policy",), "automatic_meal", None)], PATH)
    assert made == "[policy]\nmeal_minutes = 30\n\n# B\n[site.B]\nzone='UTC'\n"


def test_lines_end_as_those_around_them_do() -> None:
    text = BY_HAND.replace("\n", "\r\n")
    changes = [KeyChange(("policy",), "trifle_seconds", 30), KeyChange(("signoff",), "approval", "demanded")]
    made = rewritten(text, changes, PATH)
    assert made.count("\n") == made.count("\r\n") == text.count("\n") + 4


def test_dotted_keys_and_inline_tables_are_changed_where_they_stand() -> None:
    dotted = "policy.repeat_seconds = 60 # x\npolicy.meal_minutes=30\n[workplace]\nname='A'\n"
    assert rewritten(dotted, [KeyChange(("policy",), "repeat_seconds", 20)], PATH) == dotted.replace("60", "20")
    inline = "policy = { repeat_seconds   =  60  , meal_minutes=30 } # c\n"
    assert rewritten(inline, [KeyChange(("policy",), "repeat_seconds", 20)], PATH) == inline.replace("60", "20")
    added = rewritten(inline, [KeyChange(("policy",), "trifle_seconds", 20)], PATH)
    assert added == "policy = { repeat_seconds   =  60  , meal_minutes=30, trifle_seconds = 20} # c\n"


def test_a_list_on_several_lines_keeps_the_comments_of_what_stays() -> None:
    text = '[site.A]\nfirst_meal_waived = [\n  "P1", # signed in May\n  "P2",\n]\nzone="UTC"\n'
    made = rewritten(text, [KeyChange(("site", "A"), "first_meal_waived", ["P1", "P3"])], PATH)
    assert '  "P1", # signed in May\n' in made
    assert tomllib.loads(made)["site"]["A"] == {"first_meal_waived": ["P1", "P3"], "zone": "UTC"}


@pytest.mark.parametrize(
    ("text", "change"),
    [
        ("site.A = { zone = 'UTC' }\n", KeyChange(("site", "A"), "rounding_minutes", 0, date(2026, 7, 5))),
        ("policy = { meal_minutes = 30 }\n", KeyChange(("policy", "grace"), "start_late_minutes", 5)),
        ('site.A.zone = "UTC"\n', KeyChange(("site", "A"), "rounding_minutes", 0, date(2026, 7, 5))),
    ],
)
def test_what_cannot_be_written_without_harm_is_refused(text: str, change: KeyChange) -> None:
    with pytest.raises(Refusal, match=r"cannot be changed here without harm.*text of the file"):
        rewritten(text, [change], PATH)


def test_a_text_that_is_no_toml_is_refused() -> None:
    with pytest.raises(Refusal, match="is not valid TOML"):
        rewritten("[policy\n", [KeyChange(("policy",), "meal_minutes", 30)], PATH)


def test_a_number_of_ones_own_is_added_in_order_of_its_day() -> None:
    about = {"meaning": "The least for an hour", "unit": "cent per hour"}
    text = "# the city's\n"
    for since, cents in ((date(2026, 1, 1), 1700), (date(2027, 1, 1), 1750), (date(2026, 7, 1), 1725)):
        text = dated_value_added(text, "minimum_wage", about, (since, cents, f"ordinance of {since.year}"), PATH)
    assert text.startswith("# the city's\n")
    values = parse_parameters(text, PATH)["minimum_wage"].values
    assert [(since, value) for since, value, _ in values] == [
        (date(2026, 1, 1), 1700),
        (date(2026, 7, 1), 1725),
        (date(2027, 1, 1), 1750),
    ]
    with pytest.raises(Refusal, match="has a value from 2026-07-01 already"):
        dated_value_added(text, "minimum_wage", about, (date(2026, 7, 1), 1800, "another"), PATH)


SPACE = st.sampled_from(["", " ", "  ", "\t"])
COMMENT = st.sampled_from(["", "# x", "  # [policy]", '# "open', "#"])
TABLES: dict[tuple[str, ...], tuple[str, ...]] = {
    ("policy",): ("meal_minutes", "repeat_seconds", "trifle_seconds"),
    ("policy", "grace"): ("start_late_minutes", "end_late_minutes"),
    ("site", "Mill North"): ("rounding_minutes", "work_period_days"),
    ("site", "[odd]"): ("rounding_minutes",),
}


def _header(table: tuple[str, ...]) -> str:
    return ".".join(name if name.isidentifier() else f'"{name}"' for name in table)


@st.composite
def texts(draw: st.DrawFn) -> str:
    """Settings as other hands write them: in any order, with any spacing, comments and line ends."""
    ending = draw(st.sampled_from(["\n", "\r\n"]))
    lines = [draw(COMMENT)]
    for table in draw(st.permutations(list(TABLES))):
        if not draw(st.booleans()):
            continue
        lines += [f"{draw(SPACE)}[{draw(SPACE)}{_header(table)}{draw(SPACE)}]{draw(COMMENT)}"]
        for key in draw(st.permutations(TABLES[table])):
            if draw(st.booleans()):
                lines.append(f"{draw(SPACE)}{key}{draw(SPACE)}={draw(SPACE)}{draw(st.integers(0, 99))} {draw(COMMENT)}")
            lines.extend(draw(st.lists(COMMENT, max_size=2)))
    return ending.join(lines) + draw(st.sampled_from(["", ending]))


@given(texts(), st.data())
def test_an_edit_says_what_was_asked_for_and_moves_no_other_line(text: str, data: st.DataObject) -> None:
    table = data.draw(st.sampled_from(list(TABLES)))
    key = data.draw(st.sampled_from(TABLES[table]))
    value = data.draw(st.integers(100, 999))
    made = rewritten(text, [KeyChange(table, key, value)], PATH)
    before: Any = tomllib.loads(text)
    after = before
    for name in table:
        after = after.setdefault(name, {})
    event("replaced" if key in after else "added")
    replaced = key in after
    after[key] = value
    assert tomllib.loads(made) == before
    was, now = text.splitlines(), made.splitlines()
    assert [line for line in was if line.strip().startswith("#")] == [
        line for line in now if line.strip().startswith("#")
    ]
    assert len([line for line in was if line.strip() and line not in now]) == int(replaced)
    assert rewritten(made, [KeyChange(table, key, value)], PATH) == made
