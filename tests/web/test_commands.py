"""No page sends a person to a shell: sentences that name a command are said by the page on which it is done."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

import evenhand as program
from evenhand.cli import evenhand as command
from evenhand.web.commands import PAGE_OF, WITHOUT_PAGE, on_pages, with_pages

SOURCE = Path(str(program.__file__)).parent
NAMED = re.compile(r"`evenhand ([a-z][a-z -]*[a-z])")


def sentences() -> Iterator[tuple[Path, str]]:
    """Every text of the program but that of commands, with what is filled in left out; and every template."""
    for path in SOURCE.rglob("*.py"):
        if "cli" in path.parts or path.name == "commands.py":
            continue
        tree = ast.parse(path.read_text())
        told = {id(part) for node in ast.walk(tree) if isinstance(node, ast.JoinedStr) for part in node.values}
        docs = {
            id(node.body[0].value)
            for node in ast.walk(tree)
            if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef)
            and node.body
            and isinstance(node.body[0], ast.Expr)
        }
        for node in ast.walk(tree):
            if isinstance(node, ast.JoinedStr):
                yield path, "".join(str(one.value) if isinstance(one, ast.Constant) else "N" for one in node.values)
            elif isinstance(node, ast.Constant) and isinstance(node.value, str) and not {id(node)} & (told | docs):
                yield path, node.value
    yield from ((path, re.sub("</?code>", "`", path.read_text())) for path in SOURCE.rglob("*.html"))


def test_every_command_that_a_sentence_names_is_done_on_a_page_or_is_said_why_not() -> None:
    named = [(path, found) for path, text in sentences() for found in NAMED.findall(text)]
    assert len(named) > 20
    known = sorted((*PAGE_OF, *WITHOUT_PAGE), key=len, reverse=True)
    strange = {(path.name, said) for path, said in named if not any(f"{said} ".startswith(f"{one} ") for one in known)}
    assert strange == set()


def test_no_template_names_a_command_that_a_page_stands_for() -> None:
    found = {(path.name, one) for path, text in sentences() if path.suffix == ".html" for one in NAMED.findall(text)}
    assert {one for _, one in found} <= set(WITHOUT_PAGE)


NEEDED = {
    # how the pages are served, which only whoever starts them can say
    "certificate.py": "--host",
    "serve.py": "--port",
    "invitations.py": "--host",
    "page.py": "--host",
    "page.html": "--host",
    "database.py": "--as-of",
    # read by whoever has only the files, or said by a command alone
    "handoff_note.py": "--file",
    "ledger.py": "--out",
    "take.py": "--layout",
    "json_forms.py": "--json",
    # written into the settings, for whoever starts the pages
    "settings_text.py": "--as-of",
}
"""Where an option of a command is named to whoever works with pages, since no page has it."""


def test_no_sentence_names_an_option_of_a_command_but_where_one_is_needed() -> None:
    option = re.compile(r"(?<![-\w])--[a-z][a-z-]+")
    said = [(path, re.sub(r"`evenhand [^`]*`|--\w+:|var\(--[\w-]+\)", "", text)) for path, text in sentences()]
    found = {(path.name, one) for path, text in said if " " in text for one in option.findall(text)}
    assert {path for path, _ in found} == set(NEEDED)
    assert set(NEEDED.items()) <= found


@pytest.mark.parametrize("name", [*PAGE_OF, *WITHOUT_PAGE])
def test_a_command_that_is_named_exists(name: str) -> None:
    import click

    found: click.Command | None = command
    for word in name.split():
        assert isinstance(found, click.Group)
        found = found.get_command(click.Context(found), word)
    assert found is not None


def test_a_sentence_names_the_page_and_keeps_what_is_around_it() -> None:
    assert on_pages("there is no round x; `evenhand enrol list` lists them.") == (
        "there is no round x; the page Round lists them."
    )
    assert on_pages("Follow `evenhand supervisors succession P014`: first") == (
        "Follow “If they leave” on a reader's page: first"
    )
    assert on_pages("stop `evenhand serve` and start it again") == "stop `evenhand serve` and start it again"


def test_what_is_quoted_or_stands_in_a_field_stays_as_it_is() -> None:
    named = "`evenhand people`"
    apart = f'<p title="{named}">', f"</p><textarea>\n{named}</textarea><code># {named}</code>"
    assert with_pages(named.join(apart)) == "the page People".join(apart)


def test_a_page_that_begins_a_sentence_begins_with_a_capital() -> None:
    said = "nothing was changed. `evenhand today` opens it again; see `evenhand takes`."
    assert on_pages(said) == "nothing was changed. The page Today opens it again; see the page Files."
