"""No sentence in the code goes around the catalogues: whatever is put together for a reader is told or retold.

What is looked for is prose, a text with two words or more of which one is a word that hardly an English sentence does
without. It may stand in a call that says it, in what describes the code (columns, commands, faults of ours), or in a
catalogue. Else it is English left standing, and who reads Spanish gets half a page of it.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

import evenhand
from evenhand.jobs.languages import say_in, words_said

SOURCE = Path(evenhand.__file__).parent
REFUSALS = {
    "Refusal",
    "Unknown",
    "NotTheirs",
    "WatchedElsewhere",
    "LeftOpen",
    "ReadSoAlready",
    "TooQuiet",
    "StraysChanged",
    "IncompleteForm",
    "UsageError",
    "BadParameter",
    "ClickException",
}
SAYS = {"told", "sentence", "say", "tell", "notify", "of_file", "in_a_row", "pattern_of", "meaning", "confirm_or_leave"}
SAYS |= {"option", "argument", "print_table", "MenuEntry"}
DESCRIBES = {"Table", "Column", "Citation", "ContextVar"}
"""What describes tables, sources and the code: read by whoever works with data, in English like a column's name."""
FAULTS = {"ValueError", "TypeError", "KeyError", "AssertionError", "RuntimeError", "OverflowError", "LookupError"}
FAULTS |= {"BadZipFile", "NotImplementedError"}
"""What our own code says to itself; no reader sees it."""
ENGLISH = re.compile(
    r"\b(?:the|of|and|with|from|which|that|this|have|are|was|were|been|not|by|for|to|at|is|it|in|on|no)\b",
    re.IGNORECASE,
)
TYPED = re.compile(r"\s*`?evenhand [a-z]|\s*(?:SELECT|INSERT|UPDATE|DELETE|CREATE|LOCK)\b|.*\bPRAGMA\b|.*\bIS NULL\b")
"""Commands and statements, which are typed as they are in every language."""

OTHERWISE = {
    "enrolment/teaching/scenario.py": "faults of a scenario that we wrote, found by its own check",
    "jobs/access.py": "why a table tells nothing of a person: beside the code, for whoever adds a table",
    "jobs/decision_log": "the log is worked out in columns; `decision_told` finds each again by its pattern",
    "jobs/demo": "what invented people wrote, who write English",
    "jobs/erased_files.py": "a line of a file that was written in English, about itself",
    "jobs/folder_intake.py": "a name by which the ledger knows who took a file",
    "jobs/given_by_hand.py": "a name of a frame",
    "jobs/handoff_note.py": "the note beside the file for payroll, which is in English as a whole",
    "jobs/reader_hub.py": "a name of a frame",
    "jobs/teaching_cover.py": "a name of a frame",
    "law": "sources, each of which `kept` tells part by part",
    "layouts/layout.py": "the head of a layout, a file of keys in English",
    "layouts/lapsed.py": "words of headers in many languages",
    "layouts/values": "words of cells and forms of times in many languages",
    "layouts/wording": "words of headers in many languages",
    "pay/payroll": "what fields of payroll's file are, for the docs, and what the note says of them",
    "reconcile": "evidence is made of columns; `evidence_again` has a pattern for each",
    "records/retention/lapses.py": "a period, told again by its pattern",
    "scores/effects/scale.py": "names of scales, told nowhere",
    "store/faults.py": "what SQLite says, by which it is known again",
    "store/migrations": "refusals to go back a version, which only whoever works on the code can ask for",
    "store/": "statements, and words of them",
    "store/database.py": "names of settings of the database",
    "store/settings_": "the settings' own text, a file of keys in English",
    "terms/cautions.py": "the caution of the note beside payroll's file",
    "terms/ledger": "the form of an entry",
    "terms/open_punches.py": "where a sentence that was kept is cut",
    "terms/rooms.py": "a fault of a room that somebody adds",
    "terms/settings_of_site.py": "a source",
    "twin": "what an invented workplace's files say, and what is true of it",
    "web/pages/hours/page.py": "stands in for a name in a preview, which shows none",
    "web/pages/missing/page.py": "a header of an answer",
    "web/pages/signoff/page.py": "an address",
}
"""Where prose stands that no catalogue has, and why: by folder, file, or how their names begin."""


def test_every_refusal_says_a_sentence_of_the_catalogue() -> None:
    plain = [
        f"{place}:{call.lineno} {ast.unparse(call.args[0])}"
        for place, call in _calls()
        if _name(call) in REFUSALS and call.args and _is_put_together(call.args[0])
    ]
    assert plain == []


def test_the_refusals_looked_at_are_those_that_there_are() -> None:
    refusals = {"Refusal"}
    for _ in range(3):
        refusals |= {
            node.name
            for _, tree in _trees()
            for node in ast.walk(tree)
            if isinstance(node, ast.ClassDef) and any(getattr(base, "id", "") in refusals for base in node.bases)
        }
    assert refusals <= REFUSALS


def test_no_prose_stands_beside_the_catalogues() -> None:
    assert [f"{place}:{line} {text}" for place, line, text in _prose() if not _reason(place)] == []


@pytest.mark.parametrize("where", OTHERWISE)
def test_where_prose_is_let_stand_there_is_some(where: str) -> None:
    assert any(place.startswith(where) for place, _, _ in _prose())


def test_prose_beside_the_catalogues_is_seen() -> None:
    def seen(code: str) -> list[str]:
        return [text for _, text in _prose_in(ast.parse(code))]

    assert seen('x = f"{file} is not to be read"') == ["{} is not to be read"]
    assert seen('"""A text of the module."""\nx = told("it is not to be read")') == []
    assert seen('raise ValueError("it is not to be read")') == []
    assert seen('x = "SELECT a FROM the_table"') == []
    assert seen('x = "it is not to be read by anybody"') == ["it is not to be read by anybody"]
    assert seen('x = "Did not come"') == []
    assert _is_put_together(ast.parse('f"{x} is not"', mode="eval").body)
    assert _is_put_together(ast.parse('"it is" + where', mode="eval").body)
    assert not _is_put_together(ast.parse('told("it is")', mode="eval").body)


@cache
def _trees() -> list[tuple[str, ast.Module]]:
    return [
        (str(path.relative_to(SOURCE)), ast.parse(path.read_text(encoding="utf-8")))
        for path in sorted(SOURCE.rglob("*.py"))
    ]


def _calls() -> Iterator[tuple[str, ast.Call]]:
    for place, tree in _trees():
        yield from ((place, node) for node in ast.walk(tree) if isinstance(node, ast.Call))


def _name(call: ast.Call) -> str:
    return str(getattr(call.func, "id", getattr(call.func, "attr", "")))


def _is_put_together(node: ast.expr) -> bool:
    """Whether a text is written there, or put together of texts, without being told."""
    match node:
        case ast.JoinedStr() | ast.BinOp():
            return True
        case ast.Constant():
            return isinstance(node.value, str)
        case ast.IfExp():
            return _is_put_together(node.body) or _is_put_together(node.orelse)
        case ast.BoolOp():
            return any(map(_is_put_together, node.values))
        case ast.Call():
            return isinstance(node.func, ast.Attribute) and _is_put_together(node.func.value)
    return False


@cache
def _prose() -> list[tuple[str, int, str]]:
    return [(place, line, text) for place, tree in _trees() for line, text in _prose_in(tree)]


def _prose_in(tree: ast.Module) -> Iterator[tuple[int, str]]:
    """Yield each text of prose that stands in the code and is neither said, nor described, nor in a catalogue."""
    yield from _within(tree)


def _within(node: ast.AST) -> Iterator[tuple[int, str]]:
    match node:
        case ast.Call() if _name(node) in SAYS | DESCRIBES | FAULTS:
            # a name, or another sentence, may stand beside what is said
            for one in [*node.args[1:], *(keyword.value for keyword in node.keywords)]:
                if _name(node) in ("told", "say", "tell", "notify"):
                    yield from _within(one)
            return
        case ast.Expr(value=ast.Constant()):
            return  # what documents the code
        case ast.JoinedStr():
            text = "".join(one.value if isinstance(one, ast.Constant) else "{}" for one in node.values)  # type: ignore[misc]
            if _is_prose(text):
                yield node.lineno, text
            for one in node.values:
                if isinstance(one, ast.FormattedValue):
                    yield from _within(one.value)
            return
        case ast.Constant(value=str()) if _is_prose(str(node.value)) and not _is_known(str(node.value)):
            yield node.lineno, str(node.value)
    for child in ast.iter_child_nodes(node):
        yield from _within(child)


def _is_prose(text: str) -> bool:
    return len(re.findall(r"[^\W\d_]{2,}", text)) > 2 and bool(ENGLISH.search(text)) and not TYPED.match(text)


@cache
def _is_known(text: str) -> bool:
    """Whether a text stands in a catalogue, or is told again by a pattern of those that are kept."""
    return text in words_said()["es"] or say_in("es").retold(text) != text


def _reason(place: str) -> str:
    return next((why for where, why in OTHERWISE.items() if place.startswith(where)), "")
