"""What a file that was made to hurt costs until it is refused, measured in a process of its own."""

from pathlib import Path

import pytest

from bench import hostile
from evenhand.jobs.incoming import read_incoming
from evenhand.terms.records import Refusal

# Workbooks are refused by what their parts say; see tests/layouts/test_hostile_workbooks.py.
TEXTS = [
    "far_corner",
    "half_a_million_columns",
    "three_thousand_columns",
    "empty_lines",
    "lines_of_one_quote",
    "open_quotes",
    "deep_json",
    "deep_array",
    "huge_number",
    "huge_json_number",
    "many_names",
    "noise",
]


@pytest.mark.parametrize("name", ["pay\u202efdp.csv", "log\u200b.csv", "a\x1b[31m.csv", "a\udcff.csv"])
def test_a_file_name_that_hides_something_is_refused_and_shown_escaped(tmp_path: Path, name: str) -> None:
    path = tmp_path / name
    path.write_text("a,b\n1,2\n")
    with pytest.raises(Refusal, match="give it another name") as refused:
        read_incoming(path)
    assert str(refused.value).isprintable()


@pytest.mark.parametrize("name", TEXTS)
def test_a_hostile_file_costs_little_and_one_sentence(tmp_path: Path, name: str) -> None:
    path = tmp_path / f"{name}.csv"
    hostile.write_apart(name, path)
    cost = hostile.cost_of(path)
    assert cost.ended == 0, cost.said
    assert "\n" not in cost.said
    # Generous bounds: processor time and memory differ from machine to machine.
    assert cost.seconds <= hostile.MOST_SECONDS
    assert cost.memory <= hostile.MOST_MEMORY


@pytest.mark.parametrize("name", sorted(hostile.LARGE))
def test_two_gib_are_refused_before_they_fill_the_memory(tmp_path: Path, name: str) -> None:
    # What is written of them is as sparse as the file system lets it be, and smaller here: 80 MiB.
    path = tmp_path / f"{name}.csv"
    hostile.write_apart(name, path, size=80 << 20)
    cost = hostile.cost_of(path)
    assert cost.ended == 0, cost.said
    assert "\n" not in cost.said
    assert "rows taken" not in cost.said
    assert cost.seconds <= hostile.MOST_SECONDS
    assert cost.memory <= hostile.MOST_MEMORY
