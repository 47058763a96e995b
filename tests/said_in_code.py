"""Finds what the code says through the catalogues: in Python, in templates of pages and sheets, and in scripts."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

from jinja2 import Environment, nodes

import evenhand
from evenhand.cli.speaking import paragraphs
from evenhand.terms.languages import MEANT

SOURCE = Path(evenhand.__file__).parent
SAYING = {"in_a_row": 1, "say": 1, "tell": 1, "sentence": 1, "told": 1, "pattern_of": 2}
MENU = {"MenuEntry": 1}
FROM_LANGUAGES = re.compile(r"\blanguages(?:\.\w+)? import")
IN_TEXT = re.compile(r'\b(?:say|tell|sentence)\("([^"]+)"')


def said_in_code() -> dict[str, Path]:
    """Return each sentence that is said as it stands somewhere in the code, with one of the files that say it."""
    found: dict[str, Path] = {}
    for path in sorted(SOURCE.rglob("*")):
        if path.parent.name == "cli":
            found |= dict.fromkeys(_in_command(path.read_text(encoding="utf-8")), path)
        reads = {".py": _in_python, ".html": _in_template, ".typ": _in_text, ".js": _in_text}.get(path.suffix)
        if reads is not None:
            found |= dict.fromkeys(reads(path.read_text(encoding="utf-8")), path)
    return found


def _in_python(text: str) -> Iterator[str]:
    counted = MENU | (SAYING if FROM_LANGUAGES.search(text) else {})
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Call):
            name = getattr(node.func, "id", getattr(node.func, "attr", ""))
            if name == "meaning":
                yield MEANT.join(argument.value for argument in node.args if isinstance(argument, ast.Constant))
            for argument in node.args[: counted.get(name, 0)]:
                if isinstance(argument, ast.Constant) and isinstance(argument.value, str):
                    yield argument.value


def _in_command(text: str) -> Iterator[str]:
    """Yield what a command says of itself and prints: docstrings, help of options, headings of tables, questions."""
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.FunctionDef) and any(map(_makes_a_command, node.decorator_list)):
            yield from paragraphs(ast.get_docstring(node) or "")
        if isinstance(node, ast.Call):
            name = getattr(node.func, "id", getattr(node.func, "attr", ""))
            said = [one.value for one in node.keywords if name == "option" and one.arg == "help"]
            said += {
                "print_table": node.args[:1],
                "say": node.args[:1],
                "notify": node.args[:1],
                "confirm_or_leave": node.args[1:2],
            }.get(name, [])
            for one in said:
                for constant in one.elts if isinstance(one, ast.Tuple) else [one]:
                    if isinstance(constant, ast.Constant) and constant.value:
                        yield str(constant.value)


def _makes_a_command(decorator: ast.expr) -> bool:
    made = decorator.func if isinstance(decorator, ast.Call) else decorator
    return getattr(made, "attr", "") in ("command", "group")


def _in_template(text: str) -> Iterator[str]:
    for call in Environment().parse(text).find_all(nodes.Call):
        name = call.node.name if isinstance(call.node, nodes.Name) else ""
        if name == "_of":
            yield MEANT.join(argument.value for argument in call.args if isinstance(argument, nodes.Const))
        for argument in call.args[: {"_": 1, "say": 1, "tell": 1, "_n": 2}.get(name, 0)]:
            if isinstance(argument, nodes.Const) and isinstance(argument.value, str):
                yield argument.value


def _in_text(text: str) -> Iterator[str]:
    yield from IN_TEXT.findall(text)
