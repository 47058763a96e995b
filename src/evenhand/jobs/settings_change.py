"""Change the settings: see what it does to hours and pay, then write the file, and tell the ledger who and why.

The file is replaced in one step, and only if it is still what was looked at. Each change is a row beside the texts
before and after it, so that it can be taken back, and the taking back as well.
"""

from __future__ import annotations

import difflib
import hashlib
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from evenhand import law
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.seen import NotAsSeen
from evenhand.jobs.settings_effects import SettingsEffects, compare_settings
from evenhand.jobs.takes import check_signed
from evenhand.jobs.workspace import SETTINGS_FILE, Workspace
from evenhand.store.faults import refusing
from evenhand.store.own_rules import parse_jurisdiction, parse_parameters
from evenhand.store.owner_only import FOLDER
from evenhand.store.replacing import replace_file
from evenhand.store.settings import parse_settings
from evenhand.store.settings_stated import (
    SettingsChange,
    add_settings_change,
    hide_passwords,
    read_settings_changes,
    settings_texts,
)
from evenhand.terms.languages import said_of, told
from evenhand.terms.parameters import OwnRules
from evenhand.terms.records import Refusal, Unknown
from evenhand.terms.settings import Settings

__all__ = [
    "ChangeListed",
    "DiffLine",
    "SettingsForeseen",
    "SettingsText",
    "change_settings",
    "foresee_settings",
    "list_changes",
    "list_files",
    "read_file",
    "text_before",
    "text_shown",
    "text_written",
]

MARK = "\ufeff"
OWN_FILE = re.compile(r"rules/[A-Za-z0-9_-]{1,60}/[a-z0-9_]{1,60}\.toml")
AROUND = 2
"""Lines shown around those that change."""


@dataclass(frozen=True)
class SettingsText:
    """A file of settings as it is now: its name within the workspace, its text, and the digest of its bytes."""

    file: str
    text: str
    digest: str
    has_mark: bool = False


@dataclass(frozen=True)
class DiffLine:
    """A line of the file that stays (' '), goes ('-') or comes ('+'); '…' stands for lines between."""

    mark: str
    text: str


@dataclass(frozen=True)
class SettingsForeseen:
    """What a change of a file would do: its lines, and what follows for hours and pay; `problem` says why it cannot be.

    `seen` names the file as it was looked at, the change, and what was shown to follow from it, so that nothing is
    written that would do something else.
    """

    file: str
    lines: tuple[DiffLine, ...]
    problem: str
    effects: SettingsEffects | None
    seen: str

    @property
    def is_nothing(self) -> bool:
        """Whether the file stays as it is."""
        return not self.lines


@dataclass(frozen=True)
class ChangeListed:
    """A change of a file of settings: when it was made or found, by whom and why where that was said, and its lines.

    `withdraws` is the change that it takes back, `withdrawn_by` the one that takes it back.
    """

    running: int
    file: str
    at: int
    author: str
    reason: str
    withdraws: int | None
    withdrawn_by: int | None
    lines: tuple[DiffLine, ...]


def read_file(workspace: Workspace, file: str = SETTINGS_FILE) -> SettingsText:
    """Return a file of settings as it is now, one of the workplace's own rules also where there is none yet.

    Raises Unknown for any other file, and Refusal where it cannot be read as text.
    """
    if file != SETTINGS_FILE and not OWN_FILE.fullmatch(file):
        raise Unknown(told("{file} is no file of settings; the page Settings lists them.", file=file))
    path = workspace.directory / file
    with refusing(str(path)):
        raw = path.read_bytes() if path.exists() else b""
    try:
        text = raw.decode("utf-8")
    except UnicodeDecodeError as fault:
        raise Refusal(
            told("{path} is not text in UTF-8 (byte {byte}); save it as UTF-8.", path=path, byte=fault.start)
        ) from fault
    return SettingsText(file, text.removeprefix(MARK), hashlib.sha256(raw).hexdigest(), text.startswith(MARK))


def list_files(workspace: Workspace) -> list[str]:
    """Return the files of settings that there are: the settings, and the workplace's own rules."""
    own = (path.relative_to(workspace.directory).as_posix() for path in sorted(workspace.rules.glob("*/*.toml")))
    return [SETTINGS_FILE, *(file for file in own if OWN_FILE.fullmatch(file))]


def text_shown(file: SettingsText) -> str:
    """Return the text of a file as a page may show it: without the password of an address."""
    return hide_passwords(file.text)


def text_written(file: SettingsText, written: str) -> str:
    """Return what a form gave back of a file's text, with its line ends and with the password that was not shown.

    Forms end every line in CRLF (HTML Living Standard, 4.10.21.4); lines that stay keep their own ends, new ones have
    those that the file begins with.
    """
    was = _split(file.text)
    usual = "\r\n" if was and was[0].endswith("\r\n") else "\n"
    lines = written.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    given = [f"{line}\n" for line in lines[:-1]] + ([lines[-1]] if lines[-1] else [])
    plain = [hide_passwords(line).replace("\r\n", "\n") for line in was]
    result: list[str] = []
    for tag, from_, to, first, end in difflib.SequenceMatcher(None, plain, given, autojunk=False).get_opcodes():
        result += was[from_:to] if tag == "equal" else [line.replace("\n", usual) for line in given[first:end]]
    return "".join(result)


def foresee_settings(
    workspace: Workspace, before: SettingsText, after: str, reckoning: Reckoning | None
) -> SettingsForeseen:
    """Return what writing `after` in place of a file would change; nothing is written.

    `reckoning` is of the settings as they are, None where they cannot be understood so that nothing follows from them.
    """
    lines = tuple(_diff(hide_passwords(before.text), hide_passwords(after)))
    problem, effects = "", None
    try:
        settings, own = _understood(workspace, before.file, after, reckoning)
        if reckoning is not None and lines:
            effects = compare_settings(reckoning, settings, own)
    except Refusal as refusal:
        problem = said_of(refusal)
    shown = f"{before.digest}\0{after}\0{effects!r}"
    seen = hashlib.sha256(shown.encode(errors="backslashreplace")).hexdigest()[:32]
    return SettingsForeseen(before.file, lines, problem, effects, seen)


def change_settings(
    workspace: Workspace,
    before: SettingsText,
    after: str,
    *,
    seen: str,
    author: str | None,
    reason: str,
    as_of: datetime,
    withdraws: int | None = None,
    reckoning: Reckoning | None = None,
) -> int:
    """Write a file of settings, and return the number of the change.

    Raises NotAsSeen, doing nothing, where the file, the change or what it does is not what was shown; Refusal where it
    is not understood, where nothing changes, and where the store is to be another.
    """
    author, reason = check_signed(author, reason)
    path = workspace.directory / before.file
    with workspace.sources.held():
        now = read_file(workspace, before.file)
        foreseen = foresee_settings(workspace, now, after, reckoning)
        if foreseen.seen != seen:
            raise NotAsSeen
        if foreseen.problem:
            raise Refusal(foreseen.problem)
        if foreseen.is_nothing:
            raise Refusal(told("{path} says this already; nothing was changed.", path=path))
        with workspace.store.writing():
            pass  # states what the file said until now, where that is not stated yet
        with refusing(str(path)):
            raw = path.read_bytes() if path.exists() else None
            if path.parent != workspace.directory:
                workspace.rules.mkdir(mode=FOLDER, exist_ok=True)
                path.parent.mkdir(mode=FOLDER, exist_ok=True)
            replace_file(path, ((MARK if now.has_mark else "") + after).encode())
        try:
            with workspace.store.writing() as conn:
                return add_settings_change(
                    conn,
                    before.file,
                    settings_texts(workspace.directory)[before.file],
                    author=author,
                    reason=reason,
                    withdraws=withdraws,
                    made_at=int(as_of.timestamp()),
                )
        except BaseException:
            if raw is None:
                path.unlink()
            else:
                replace_file(path, raw)
            raise


def list_changes(workspace: Workspace, *, most: int = 40) -> list[ChangeListed]:
    """Return the changes of settings and own rules, the newest first; those of layouts are told with their takes."""
    with workspace.store.reading() as conn:
        found = [one for one in read_settings_changes(conn) if one.before is not None or one.author]
    taken_back = {one.withdraws: one.running for one in found if one.withdraws is not None}
    listed = [one for one in reversed(found) if not one.file.startswith("layouts/")]
    return [
        ChangeListed(
            one.running,
            one.file,
            one.at,
            one.author,
            one.reason,
            one.withdraws,
            taken_back.get(one.running),
            tuple(_diff(one.before or "", one.after or "", around=0)),
        )
        for one in listed[:most]
    ]


def text_before(workspace: Workspace, running: int) -> tuple[SettingsText, str, SettingsChange]:
    """Return a file as it is, and as it would be without one change of it; other changes since stay.

    Raises Unknown where there is no such change, and Refusal where the same lines were changed since.
    """
    with workspace.store.reading() as conn:
        changes = read_settings_changes(conn)
    change = next((one for one in changes if one.running == running), None)
    if change is None or (change.before is None and not change.author):
        raise Unknown(
            told("there is no change {running} of the settings; the page Settings lists them all.", running=running)
        )
    if any(one.withdraws == running for one in changes):
        raise Refusal(told("change {running} was taken back already.", running=running))
    now = read_file(workspace, change.file)
    return now, _without(now, change), change


def _without(now: SettingsText, change: SettingsChange) -> str:
    """Return the text with the lines of a change as they were before, wherever they stand now."""
    was, became = _split(change.before or ""), _split(change.after or "")
    here = _split(now.text)
    shown = [hide_passwords(line) for line in here]
    kept = difflib.SequenceMatcher(None, became, shown, autojunk=False).get_matching_blocks()
    result = list(here)
    hunks = difflib.SequenceMatcher(None, was, became, autojunk=False).get_opcodes()
    for tag, from_, to, first, end in reversed(hunks):
        if tag == "equal":
            continue
        # The line before and the line after must be there too, so that a line comes back where it stood.
        low, high = max(first - 1, 0), min(end + 1, len(became))
        block = next((one for one in kept if one.a <= low and high <= one.a + one.size), None)
        back = was[from_:to]
        if block is None or any(hide_passwords(line) != line or "***@" in line for line in back):
            raise Refusal(
                told(
                    "{file} has been changed since at the place of this change; nothing was done: change it there.",
                    file=change.file,
                )
            )
        at = block.b + first - block.a
        result[at : at + end - first] = back
    return "".join(result)


def _understood(
    workspace: Workspace, file: str, text: str, reckoning: Reckoning | None
) -> tuple[Settings, Mapping[str, OwnRules]]:
    """Return the settings and the own rules as they would be; raises Refusal where they are not understood."""
    path = workspace.directory / file
    if file == SETTINGS_FILE:
        settings = parse_settings(text, path)
        workspace.refuse_another_store(settings)
        own: Mapping[str, OwnRules] = reckoning.snapshot.own if reckoning else {}
    else:
        settings = workspace.settings
        own = _with_own(reckoning.snapshot.own if reckoning else {}, file, text, path)
    for rules in settings.sites.values():
        for one in (rules, *rules.changes):
            law.pay_laws([one.jurisdiction], own)
    return settings, own


def _with_own(own: Mapping[str, OwnRules], file: str, text: str, path: Path) -> dict[str, OwnRules]:
    _, folder, name = file.split("/")
    before = own.get(folder, OwnRules(folder, folder))
    if name == "jurisdiction.toml":
        return {**own, folder: replace(before, based_on=parse_jurisdiction(text, path))}
    files = {**before.files, name.removesuffix(".toml"): parse_parameters(text, path)}
    return {**own, folder: replace(before, files=files)}


def _split(text: str) -> list[str]:
    return re.findall(r"[^\n]*\n|[^\n]+", text)


def _diff(before: str, after: str, around: int = AROUND) -> Iterator[DiffLine]:
    was, now = _split(before), _split(after)
    groups = difflib.SequenceMatcher(None, was, now, autojunk=False).get_grouped_opcodes(around)
    for place, group in enumerate(groups):
        if place:
            yield DiffLine("…", "")
        for tag, from_, to, first, end in group:
            if tag == "equal":
                yield from (DiffLine(" ", line.rstrip("\r\n")) for line in was[from_:to])
            else:
                yield from (DiffLine("-", line.rstrip("\r\n")) for line in was[from_:to])
                yield from (DiffLine("+", line.rstrip("\r\n")) for line in now[first:end])
