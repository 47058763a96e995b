"""After whatever is done the ledger proves everything; what it says can be checked by others, by the docs' script."""

from __future__ import annotations

import contextlib
import gzip
import hashlib
import json
import re
import sqlite3
import subprocess
import sys
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from evenhand.jobs import ledger
from evenhand.jobs.correction_rows import CorrectionRequest
from evenhand.jobs.demo import demonstrate
from evenhand.jobs.rebuild import rebuild
from evenhand.jobs.retaking import retake
from evenhand.jobs.take import Receipt, take_files
from evenhand.jobs.workspace import Workspace, open_workspace
from evenhand.terms.records import Refusal, Unknown
from tests.jobs.asked import correct, hand_off

NOW = datetime(2026, 11, 9, 15, tzinfo=UTC)
DOCS = Path(__file__).parents[2] / "docs" / "ledger.md"


def assert_whole(workspace: Workspace) -> ledger.LedgerVerified:
    proved = ledger.verify(workspace)
    assert proved.faults == ()
    return proved


def kinds(workspace: Workspace) -> list[str]:
    return [one.kind for one in ledger.entries(workspace)]


def test_each_thing_that_is_done_leaves_an_entry_and_a_ledger_that_is_whole(workspace: Workspace) -> None:
    assert_whole(workspace)
    before = len(kinds(workspace))
    at = datetime(2026, 11, 4, 21, tzinfo=UTC)
    correct(workspace, CorrectionRequest("add", "P3", "Ada", "seen leaving", at=at, direction="out"), as_of=NOW)
    assert_whole(workspace)
    hand_off(workspace, as_of=NOW, despite=True, author="Ada")
    assert_whole(workspace)
    with workspace.sources.held():
        retake(workspace, 4, "back", author="Ben", reason="another mill's", as_of=NOW)
    assert_whole(workspace)
    rebuild(workspace, False, author="Ada", as_of=NOW)
    assert_whole(workspace)
    new = kinds(workspace)[: len(kinds(workspace)) - before]
    assert new[::-1] == ["correction", "hand-off", "take back", "store made anew"]


def test_the_demonstration_ends_with_a_ledger_that_is_whole(tmp_path: Path) -> None:
    shown = demonstrate(tmp_path / "demo", 3)
    workspace = open_workspace(shown.workspace)
    proved = assert_whole(workspace)
    assert proved.head.size == len(ledger.entries(workspace, most=10_000))
    [newest, *_] = ledger.entries(workspace, kind="hand-off")
    assert newest.who == ("demo",)
    workspace.close()


@pytest.fixture
def handed(workspace: Workspace) -> Iterator[tuple[Workspace, Path]]:
    made = hand_off(workspace, as_of=NOW, despite=True, author="Ada")
    yield workspace, made.csv


def test_a_file_for_payroll_is_known_by_its_bytes_and_by_nothing_else(handed: tuple[Workspace, Path]) -> None:
    workspace, csv = handed
    content = csv.read_bytes()
    proved = ledger.verify(workspace, files={"elsewhere.csv": content})
    assert proved.is_whole
    assert list(proved.files) == ["elsewhere.csv"]
    altered = ledger.verify(workspace, files={"elsewhere.csv": content.replace(b"8", b"9")})
    assert [fault.says for fault in altered.faults] == [
        "elsewhere.csv is no file that was handed off, or was altered since."
    ]
    csv.write_bytes(content + b"P9,Nobody\r\n")
    assert [fault.says for fault in ledger.verify(workspace).faults] == [
        f"{csv} is not the file that was handed off: it was altered since."
    ]


def test_no_entry_states_by_what_digest_a_file_could_be_guessed(handed: tuple[Workspace, Path]) -> None:
    workspace, csv = handed
    with workspace.store.reading() as conn:
        said = " ".join(conn.exec_driver_sql("SELECT content FROM ledger").scalars())
    digests = {path.name.removesuffix(".gz") for path in workspace.sources.folder.glob("*.gz")}
    digests |= {hashlib.sha256(path.read_bytes()).hexdigest() for path in csv.parent.iterdir() if path.is_file()}
    assert len(digests) > 6
    assert [digest for digest in digests if digest in said] == []


def test_a_file_that_only_an_altered_row_names_was_not_handed_off(handed: tuple[Workspace, Path]) -> None:
    workspace, _ = handed
    forged = b"person,hours\r\nP1,80\r\n"
    named = json.dumps({"forged.csv": hashlib.sha256(forged).hexdigest()})
    with sqlite3.connect(workspace.directory / "evenhand.sqlite") as conn:
        for (name,) in conn.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
            conn.execute(f"DROP TRIGGER {name}")
        conn.execute("UPDATE handoffs SET files = ?", (named,))
    proved = ledger.verify(workspace, files={"forged.csv": forged})
    assert proved.files == {}
    assert "forged.csv is no file that was handed off, or was altered since." in [one.says for one in proved.faults]


@pytest.mark.parametrize(
    ("column", "value"), [("first_day", "2026-11-0x"), ("files", '{"hours.csv": '), ("files", "[]")]
)
def test_a_hand_off_altered_into_what_cannot_be_read_is_named(
    handed: tuple[Workspace, Path], column: str, value: str
) -> None:
    workspace, _ = handed
    with sqlite3.connect(workspace.directory / "evenhand.sqlite") as conn:
        for (name,) in conn.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
            conn.execute(f"DROP TRIGGER {name}")
        conn.execute(f"UPDATE handoffs SET {column} = ?", (value,))
    [fault, *_] = ledger.verify(workspace).faults
    assert (fault.table, fault.row) == ("handoffs", "[1]")
    assert "was altered" in fault.says


@pytest.mark.parametrize("change", ["UPDATE punch_parts SET height = height + 1", "DELETE FROM punch_parts"])
def test_columns_of_punches_that_were_altered_are_made_anew_and_told(workspace: Workspace, change: str) -> None:
    with workspace.store.reading() as conn:
        [[take]] = conn.exec_driver_sql("SELECT DISTINCT take FROM punch_parts").all()
    with sqlite3.connect(workspace.directory / "evenhand.sqlite") as conn:
        conn.execute(change)
    assert {fault.table for fault in ledger.verify(workspace).faults} == {"punch_parts"}
    opened = open_workspace(workspace.directory)
    [notice] = opened.notices
    assert f"did not hold the punches of take {take}: somebody altered it; it was made anew" in notice
    [fault] = ledger.verify(opened).faults
    assert (fault.table, fault.row) == ("punch_parts", f'{{"take":{take}}}')
    opened.close()
    again = open_workspace(workspace.directory)
    assert again.notices == ()
    assert_whole(again)
    again.close()


def test_a_take_names_who_took_it_where_that_was_said(workspace: Workspace, tmp_path: Path) -> None:
    for name, author in (("one.csv", "Ida Fenn"), ("two.csv", "")):
        log = f"reader,number,at,direction\nGATE,{len(name) + len(author):04d},2026-11-09 08:00:00,in\n"
        (tmp_path / name).write_text(log)
        [receipt] = take_files(workspace, [tmp_path / name], author=author)
        assert isinstance(receipt, Receipt)
    second, first = ledger.entries(workspace, kind="take", most=2)
    assert (first.who, second.who) == (("Ida Fenn",), ())
    assert_whole(workspace)


def test_a_source_that_was_altered_is_found(workspace: Workspace) -> None:
    [source, *_] = sorted(workspace.sources.folder.glob("*.gz"))
    source.write_bytes(gzip.compress(gzip.decompress(source.read_bytes()) + b"x"))
    [fault] = ledger.verify(workspace).faults
    assert fault.table == "takes"
    assert "has been changed" in fault.says


def test_the_head_in_a_note_is_one_that_the_ledger_goes_on_from(handed: tuple[Workspace, Path]) -> None:
    workspace, csv = handed
    note = csv.with_name(csv.name.replace(".csv", "-note.txt")).read_text(encoding="utf-8")
    held = re.search(r"Ledger's head\s+([\d:\s0-9a-f]*?)as it was", note)
    assert held is not None
    proved = ledger.verify(workspace, held[1])
    assert proved.is_whole
    assert proved.held.startswith("The ledger goes on from")
    another = held[1].strip()[:-1] + ("0" if held[1].strip()[-1] != "0" else "1")
    [fault] = ledger.verify(workspace, another).faults
    assert "are not those of the head held outside" in fault.says
    more = "999" + held[1].strip()[held[1].strip().index(":") :]
    [fault] = ledger.verify(workspace, more).faults
    assert fault.says.startswith("Entries are missing: the head held outside is of 999")


def test_what_is_no_head_is_refused(workspace: Workspace) -> None:
    for held in ("12", "12:abcd", "x: " + "0" * 64, "1: " + "0" * 65):
        with pytest.raises(Refusal, match="is no head of a ledger"):
            ledger.verify(workspace, held)


def test_a_head_of_no_entries_is_refused_since_nothing_can_be_held_to_it(workspace: Workspace) -> None:
    with pytest.raises(Refusal, match="is a head of no entries, to which nothing can be held"):
        ledger.verify(workspace, f"0: {hashlib.sha256(b'').hexdigest()}")


def test_what_there_is_no_entry_for_is_said_so(workspace: Workspace) -> None:
    with pytest.raises(Unknown, match="no entry 999"):
        ledger.entry_and_text(workspace, 999)
    with pytest.raises(Unknown, match="no entry 999"):
        ledger.proof_of(workspace, 999)


def test_a_change_of_settings_is_an_entry_whether_or_not_anything_is_written(workspace: Workspace) -> None:
    before = kinds(workspace)
    with workspace.settings_file.open("a") as settings:
        settings.write("# looked at by Ada\n")
    opened = open_workspace(workspace.directory)
    assert kinds(opened) == ["settings", *before]
    opened.close()
    again = open_workspace(workspace.directory)
    assert kinds(again) == ["settings", *before]
    again.close()


@pytest.fixture(scope="module")
def script(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The script of the documentation, as somebody copies it out."""
    path = tmp_path_factory.mktemp("script") / "check_proof.py"
    [text] = re.findall(r"```python\n(.*?)```", DOCS.read_text(encoding="utf-8"), re.DOTALL)
    assert sum(bool(line) for line in text.splitlines()) < 35
    assert set(re.findall(r"import (.*)", text)) == {"hashlib, json, sys"}
    path.write_text(text, encoding="utf-8")
    return path


def checked(script: Path, proof: Path, head: str) -> tuple[int, str]:
    words = [sys.executable, "-I", str(script), str(proof), head]
    run = subprocess.run(words, capture_output=True, text=True, check=False)
    return run.returncode, run.stdout + run.stderr


def test_the_script_of_the_documentation_checks_proofs(workspace: Workspace, script: Path, tmp_path: Path) -> None:
    hand_off(workspace, as_of=NOW, despite=True, author="Ada")
    now = ledger.head_now(workspace)
    proof = tmp_path / "proof.json"
    for entry in range(now.size):
        ledger.write_proof(proof, ledger.proof_of(workspace, entry))
        assert checked(script, proof, now.text) == (0, f"proved; the head is now {now.size}:{now.root}\n")
    for name, value in (("content", "{}"), ("entry", 0), ("root", "0" * 64)):
        said = json.loads(proof.read_text()) | {name: value}
        proof.write_text(json.dumps(said))
        assert checked(script, proof, now.text)[0] == 1
        ledger.write_proof(proof, ledger.proof_of(workspace, now.size - 1))
    assert checked(script, proof, f"{now.size}:{'0' * 64}")[0] == 1
    for old in range(1, now.size):
        said = json.loads(ledger.proof_since(workspace, old))
        proof.write_text(json.dumps(said))
        held = f"{old}: {said['old_root']}"
        assert checked(script, proof, held) == (0, f"proved; the head is now {now.size}:{now.root}\n")
        proof.write_text(json.dumps(said | {"root": "0" * 64}))
        assert checked(script, proof, held)[0] == 1
        assert checked(script, proof, f"{old}: {'0' * 64}")[0] == 1


def test_the_script_says_of_whatever_is_no_proof_that_it_is_not_proved(
    workspace: Workspace, script: Path, tmp_path: Path
) -> None:
    hand_off(workspace, as_of=NOW, despite=True, author="Ada")
    now, proof = ledger.head_now(workspace), tmp_path / "proof.json"
    whole = json.loads(ledger.proof_of(workspace, 1)), json.loads(ledger.proof_since(workspace, 2))
    heads = now.text, f"2:{whole[1]['old_root']}"
    broken: list[tuple[str, str]] = [
        (text, now.text) for text in ("", "{", "[]", "1", "null", '{"proves": "inclusion"}')
    ]
    for said, head in zip(whole, heads, strict=True):
        proof.write_text(json.dumps(said))
        assert checked(script, proof, head)[0] == 0
        broken += [
            (json.dumps({**said, name: value}), head)
            for name in said
            if name != "proves"
            for value in (None, -1, 0, 99, "", [], "zz")
        ]
        broken += [(json.dumps({key: said[key] for key in said if key != name}), head) for name in said]
        broken += [(json.dumps(said | {"path": said["path"][:at]}), head) for at in range(len(said["path"]))]
        broken += [(json.dumps(said), other) for other in ("", ":", "2", "x:y", "2:2:2")]
    is_proved: dict[str, Any] = {}
    exec(compile(script.read_text().split("\ntry:")[0], "check_proof", "exec"), is_proved)
    for text, head in broken[:8]:
        proof.write_text(text)
        assert checked(script, proof, head) == (1, "NOT proved\n"), text
    for text, head in broken:
        with contextlib.suppress(Exception):  # which the script tells as not proved
            said = json.loads(text)
            assert not is_proved["is_proved"](said, *head.replace(" ", "").split(":")), text
