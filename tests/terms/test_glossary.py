"""Words that the glossary sets aside are no names in the source, and no name stands for two things."""

from __future__ import annotations

import ast
import re
from collections import defaultdict
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import evenhand

SOURCE = Path(evenhand.__file__).parent
GLOSSARY = (SOURCE / "terms" / "glossary.md").read_text(encoding="utf-8")
# What modules of one kind agree to call alike: rules, checks, pages, what a law says of pay, migrations.
AGREED = {"CHECK", "CITES", "JURISDICTION", "MENU", "MINIMUM_WAGE", "NAME", "PAY_LAW", "ROUTES", "RULE", "SAYS"}


@cache
def modules() -> dict[str, ast.Module]:
    return {
        path.relative_to(SOURCE).as_posix(): ast.parse(path.read_text(encoding="utf-8"))
        for path in SOURCE.rglob("*.py")
        if "migrations" not in path.parts
    }


def names_in(tree: ast.Module) -> Iterator[str]:
    for node in ast.walk(tree):
        for field in ("name", "id", "attr", "arg", "asname"):
            if isinstance(name := getattr(node, field, None), str):
                yield name
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "Column":
            yield ast.unparse(node.args[0]).strip("'")


def words_of(name: str) -> set[str]:
    return {word.lower() for word in re.findall(r"[A-Z]+(?![a-z])|[A-Z]?[a-z]+", name)}


def rows() -> list[list[str]]:
    table = [line for line in GLOSSARY.splitlines() if line.startswith("| ")]
    return [[cell.strip() for cell in re.split(r"(?<!\\)\|", line)[1:-1]] for line in table[2:]]


def test_each_word_is_decided_once_with_a_meaning() -> None:
    words = [word for row in rows() for word in row[0].split(", ")]
    assert len(words) == len(set(words)) > 40
    assert all(len(row) == 4 and row[1] for row in rows())


def test_words_that_are_set_aside_are_no_names() -> None:
    set_aside = {word for row in rows() for word in re.findall(r"`(\w+)`", row[3])}
    assert {"owned", "genuine", "plate"} <= set_aside
    found = {(path, name) for path, tree in modules().items() for name in names_in(tree) if words_of(name) & set_aside}
    assert found == set()


def test_no_two_classes_have_one_name() -> None:
    places = defaultdict(list)
    for path, tree in modules().items():
        for node in tree.body:
            if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
                places[node.name].append(path)
    assert {name: found for name, found in places.items() if len(found) > 1} == {}


def public(tree: ast.Module) -> set[str]:
    for node in tree.body:
        if isinstance(node, ast.Assign) and ast.unparse(node.targets[0]) == "__all__":
            return set(ast.literal_eval(node.value))
    return set()


def test_no_two_public_constants_have_one_name() -> None:
    places = defaultdict(list)
    for path, tree in modules().items():
        assigned = [node for node in tree.body if isinstance(node, (ast.Assign, ast.AnnAssign))]
        names = {ast.unparse(node.targets[0] if isinstance(node, ast.Assign) else node.target) for node in assigned}
        for name in names & public(tree) - AGREED:
            if name.isupper():
                places[name].append(path)
    assert {name: found for name, found in places.items() if len(found) > 1} == {}
