"""What a user may call, open, set or be told of is written down, and what is written down is there."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import click
import pytest
from fastapi.routing import APIRoute

from evenhand.cli import COMMANDS, evenhand
from evenhand.law.jurisdictions import JURISDICTIONS
from evenhand.layouts.layout import CHECKS as LAYOUT_KEYS
from evenhand.layouts.layout import FORMS
from evenhand.pay import FIELDS
from evenhand.store.settings import parse_settings
from evenhand.terms.records import Refusal
from evenhand.terms.rooms import rooms_of
from evenhand.terms.sources import SOURCES
from evenhand.web import pages

ROOT = Path(__file__).parent.parent
DOCS = ROOT / "docs"
ALL = {path.name: path.read_text() for path in (ROOT / "README.md", ROOT / "CONTRIBUTING.md", *DOCS.glob("*.md"))}


def commands(command: click.Command, path: tuple[str, ...] = ()) -> Iterator[tuple[str, click.Command]]:
    yield " ".join(path), command
    if isinstance(command, click.Group):
        ctx = click.Context(command)
        for name in command.list_commands(ctx):
            part = command.get_command(ctx, name)
            assert part is not None
            yield from commands(part, (*path, name))


PARTS = dict(commands(evenhand))


@pytest.mark.parametrize("command", COMMANDS)
def test_a_command_is_documented(command: str) -> None:
    assert f"evenhand {command}" in ALL["commands.md"]


@pytest.mark.parametrize("part", [path for path in PARTS if " " in path])
def test_a_part_of_a_command_is_documented(part: str) -> None:
    command, name = part.split(maxsplit=1)
    row = next(line for line in ALL["commands.md"].splitlines() if f"evenhand {command}" in line)
    assert f"`{name}" in row or any(f"evenhand {part}" in text for text in ALL.values())


def test_every_option_that_is_written_down_is_one() -> None:
    options = {name for part in PARTS.values() for parameter in part.params for name in parameter.opts}
    written = {name for text in ALL.values() for name in re.findall(r"(?<![\w-])--[a-z][a-z-]*", text)}
    assert written - options - {"--help", "--version"} == set()


def test_every_command_that_is_written_down_is_one() -> None:
    for name, text in ALL.items():
        for words in re.findall(r"evenhand ((?:[a-z]+ ?)+)", "\n".join(re.findall(r"`(evenhand [^`]+)`", text))):
            first, *more = words.split()
            assert first in PARTS, name
            if more and isinstance(PARTS[first], click.Group):
                assert f"{first} {more[0]}" in PARTS, name


@pytest.mark.parametrize("field", FIELDS)
def test_a_field_for_payroll_is_documented(field: str) -> None:
    item, _, form = field.rpartition("_")
    assert f"`{field}`" in ALL["hand-off.md"] or (
        form in ("hm", "minutes", "seconds")
        and f"`{item}_hours`" in ALL["hand-off.md"]
        and f"`_{form}`" in ALL["hand-off.md"]
    )


def shown() -> list[str]:
    """The addresses of all pages, with a star for what names a person, a day or the like."""
    routes = [route for room in rooms_of(pages, ("MENU", "ROUTES")) for route in room.ROUTES.routes]
    assert all(isinstance(route, APIRoute) for route in routes)
    asked = {route.path for route in routes if "GET" in route.methods}
    return sorted(re.sub(r"{.*?}", "*", path) for path in asked if not re.search(r"\.(pdf|js|json|csv)$", path))


GIVES_A_FILE = {"/hand-off/*/*", "/hands/data/*", "/missing/list.csv"}


@pytest.mark.parametrize("address", sorted(set(shown()) - GIVES_A_FILE))
def test_a_page_is_documented(address: str) -> None:
    rows = re.findall(r"^\| [^|]+ \| `(/[^`?]*)", ALL["pages.md"], re.MULTILINE)
    assert address in {re.sub(r"<[^>]+>|\d{4}-\d\d-\d\d", "*", row) for row in rows}


def test_a_page_that_is_written_down_is_there() -> None:
    rows = re.findall(r"^\| [^|]+ \| `(/[^`?]*)", ALL["pages.md"], re.MULTILINE)
    assert {re.sub(r"<[^>]+>|\d{4}-\d\d-\d\d", "*", row) for row in rows} - set(shown()) == set()


WHOLE = '[workplace]\nname = "Mill"\n{}\n[pay_period]\nanchor = 2026-01-04\n{}\n'
TABLES = {
    "the file": "unheard_of = 1\n" + WHOLE,
    "workplace": WHOLE.replace("{}", "unheard_of = 1", 1),
    "pay_period": WHOLE + "unheard_of = 1\n",
    **{
        table: f"{WHOLE}[{table}]\n{needed}unheard_of = 1\n"
        for table, needed in (
            ("policy", ""),
            ("policy.grace", ""),
            ("policy.automatic_meal", ""),
            ("[policy.differential]", 'name = "night"\n'),
            ("handoff", ""),
            ("consent", ""),
            ("consent.site.Mill", ""),
            ("signoff", ""),
            ("payroll.main", ""),
            ("intake", 'folder = "/srv/exports"\n'),
            ("site.Mill", 'zone = "UTC"\n'),
        )
    },
    "site.Mill.from": f'{WHOLE}[site.Mill]\nzone = "UTC"\n[[site.Mill.from]]\ndate = 2026-07-05\nunheard_of = 1\n',
}


def keys_of(table: str) -> list[str]:
    """The keys that a table of the settings may have, as the refusal of another key names them."""
    with pytest.raises(Refusal) as refusal:
        parse_settings(TABLES[table].format("", ""), Path("evenhand.toml"))
    return str(refusal.value).split("expected one of ")[1].rstrip(".").split(", ")


@pytest.mark.parametrize("table", TABLES)
def test_each_key_of_the_settings_is_documented(table: str) -> None:
    for key in keys_of(table):
        in_code = rf"^ +{key} = |\[\[?(?:[\w ]+\.)*(?:\"[\w ]+\"\.)?{key}[\].]"
        assert f"`{key}`" in ALL["workspace.md"] or re.search(in_code, ALL["workspace.md"], re.MULTILINE), key


@pytest.mark.parametrize("key", LAYOUT_KEYS)
def test_a_key_of_a_layout_is_documented(key: str) -> None:
    assert f"| `{key}` |" in ALL["files.md"] or f"| `[{key}" in ALL["files.md"]


@pytest.mark.parametrize("form", FORMS)
def test_a_form_of_file_is_documented(form: str) -> None:
    assert f'`"{form}"`' in ALL["files.md"]


@pytest.mark.parametrize("table", SOURCES)
def test_a_table_that_files_give_is_documented_once(table: str) -> None:
    assert ALL["files.md"].count(f"\n| `{table}` | ") == 1


@pytest.mark.parametrize("jurisdiction", JURISDICTIONS)
def test_a_jurisdiction_is_documented(jurisdiction: str) -> None:
    assert f"`{jurisdiction}`" in ALL["hours.md"]


def test_every_page_of_the_docs_can_be_reached_from_the_readme() -> None:
    assert {name for name in ALL if f"(docs/{name})" not in ALL["README.md"]} == {"README.md", "CONTRIBUTING.md"}


def test_every_picture_is_there_in_both_schemes() -> None:
    shown = {(name, drawn) for name, text in ALL.items() for drawn in re.findall(r'(?:srcset|src)="([^"]+)"', text)}
    assert len(shown) == 6
    for name, drawn in shown:
        folder = ROOT if name == "README.md" else ROOT / "docs"
        assert (folder / drawn).read_bytes().startswith(b"\x89PNG"), (name, drawn)


def test_every_link_leads_somewhere() -> None:
    for name, text in ALL.items():
        folder = ROOT if name in ("README.md", "CONTRIBUTING.md") else DOCS
        for link, part in re.findall(r"\]\((?!https?:)([^)#\s]*)(?:#([^)\s]+))?\)", text):
            target = folder / link if link else folder / name
            assert target.exists(), (name, link)
            if part:
                titles = re.findall(r"^#+ (.+)$", target.read_text(), re.MULTILINE)
                assert part in {re.sub(r"[^\w -]", "", title.lower()).replace(" ", "-") for title in titles}, (
                    name,
                    part,
                )
