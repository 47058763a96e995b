"""Erase a person: what came of the hand, once no reader holds it, and everything, once no law wants it kept.

Looked at first, in a transaction that is undone. Then done in one transaction, with what is written anew lying beside
its place until that is committed; a program that is killed in between leaves the one state or the other, and what it
left on the disk is cleared when the workspace is next opened.
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import datetime

from evenhand.jobs.beside import forget_refused_files, refused_path, tidy
from evenhand.jobs.beside_cells import call_sheets_in
from evenhand.jobs.cleared import finish_erasing
from evenhand.jobs.cutting import What
from evenhand.jobs.erasable import Erasable
from evenhand.jobs.foreseen_erasure import Beside, erase_in, look_at_erasure, state_of
from evenhand.jobs.traces import Whom, known_of
from evenhand.jobs.workspace import Workspace
from evenhand.store import frames
from evenhand.store.clearing import overwrite
from evenhand.store.decisions import decide_alone
from evenhand.store.erasing import add_erasure
from evenhand.store.ledger import size
from evenhand.store.replacing import write_beside
from evenhand.store.takes import takes_alone
from evenhand.terms.languages import told
from evenhand.terms.records import Refusal
from evenhand.terms.words import called

__all__ = ["ALL", "Erased", "erase", "erase_each"]

ALL = "all"
"""Every text that may name somebody, where it is said which to rewrite."""


@dataclass(frozen=True)
class Erased:
    """What was erased: the erasure's number, which stands in for the person; `is_cleared` tells whether the disk is.

    `erasure` is None where nothing was left to erase, and then nothing was written. `left` are the rows whose texts
    have a part of the name and were left as they are. `state` names what the next look would rest on, '' where
    something else was taken or decided at once.
    """

    erasure: int | None
    what: What
    rows: Mapping[str, int]
    sources: int
    files: int
    is_cleared: bool
    left: tuple[str, ...] = ()
    state: str = ""

    @property
    def says(self) -> str:
        """Return what was done and what is left to do, naming nobody."""
        if self.erasure is None:
            return told("Nothing was left to erase, so nothing was written.")
        done = told("Erasure {number} is done. {left_to_do}", number=self.erasure, left_to_do=self.left_to_do)
        if not self.left:
            return done
        return told("{done} Left as they are, as you said: {texts:listed}.", done=done, texts=self.left)

    @property
    def left_to_do(self) -> str:
        """Return what became of the free places of the disk, and what is for others to do."""
        places = (
            told("Free places of the disk are cleared.")
            if self.is_cleared
            else told("Free places of the disk are still to be cleared: stop `evenhand serve`, and run any command.")
        )
        return told("{places} Backups, and what was exported, are yours to delete.", places=places)


def erase(
    workspace: Workspace,
    person: str,
    *,
    author: str,
    reason: str,
    as_of: datetime,
    what: What | None = None,
    despite_others: bool = False,
    reword: Collection[str] | None = None,
    despite_hold: bool = False,
    seen: Erasable | None = None,
) -> Erased:
    """Erase somebody, as looked at before; raises Refusal, with everything as it was, where something holds it back.

    Where rows about others would change too it is done only `despite_others`; where texts may name them by a part of
    their name, only once it is said which rows to `reword`: some, ALL, or none; where scores would go under a legal
    hold, only `despite_hold`. Where nothing is left nothing is written. What was `seen` is looked at again only where
    anything was taken or decided since, and then has to show the same.
    """
    if not author.strip() or not reason.strip():
        raise Refusal(told("an erasure is somebody's decision and has a reason; give a name and the reason."))
    if seen is None:
        seen = look_at_erasure(workspace, person, as_of=as_of, what=what)
    else:
        seen = _as_it_is(workspace, seen, as_of)
    _refuse(seen, despite_others=despite_others, despite_hold=despite_hold)
    chosen = _to_reword(seen, reword)
    if seen.is_nothing:
        return Erased(None, seen.what, {}, 0, 0, is_cleared=True, state=seen.state)
    return _erase(workspace, seen, chosen, author=author.strip(), reason=reason.strip(), as_of=as_of)


def erase_each(
    workspace: Workspace,
    people: Iterable[Erasable],
    *,
    author: str,
    reason: str,
    as_of: datetime,
    reword: Callable[[Erasable], Collection[str] | None],
    despite_others: bool = False,
    despite_hold: bool = False,
) -> Iterator[Erased]:
    """Erase several people, who were looked at together, one after the other; raises Refusal as `erase` does.

    Nobody is looked at again because of those before them, whose erasure the look has foreseen.
    """
    asked = list(people)
    for seen in asked:  # before anything goes
        _refuse(seen, despite_others=despite_others, despite_hold=despite_hold)
        _to_reword(seen, reword(seen))
    state = ""
    for seen in asked:
        done = erase(
            workspace,
            seen.person,
            author=author,
            reason=reason,
            as_of=as_of,
            what=seen.what,
            despite_others=despite_others,
            reword=reword(seen),
            despite_hold=despite_hold,
            seen=replace(seen, state=state or seen.state),
        )
        state = done.state
        yield done


def _refuse(seen: Erasable, *, despite_others: bool, despite_hold: bool) -> None:
    """Raise Refusal where what was looked at may not be erased, or not without another word."""
    if seen.holds_back:
        raise Refusal(told("{who} is not erased: {why}", who=called(seen.name, seen.person), why=seen.holds_back[0]))
    if seen.others and not despite_others:
        raise Refusal(
            told(
                "erasing {who} would change what is stored of others ({what}); look at the preview, and say so where "
                "that is right.",
                who=called(seen.name, seen.person),
                what=seen.others[0],
            )
        )
    if seen.asks_of_hold and not despite_hold:
        raise Refusal(
            told(
                "{who} is under a legal hold ({matter}), and whether scores may go is for counsel to say; ask first, "
                "and say so once they may.",
                who=called(seen.name, seen.person),
                matter=seen.hold,
            )
        )


def _as_it_is(workspace: Workspace, seen: Erasable, as_of: datetime) -> Erasable:
    """Return what was seen, looked at again where something has changed; raises Refusal where it would not be shown."""
    if seen.state == state_of(workspace, as_of):
        return seen
    again = look_at_erasure(workspace, seen.person, as_of=as_of, what=seen.what)
    if again.shown != seen.shown:
        raise Refusal(told("what this would erase is no longer what was shown; nothing was erased, look at it again."))
    return again


def _to_reword(seen: Erasable, reword: Collection[str] | None) -> frozenset[str]:
    """Return the rows whose texts are rewritten; raises Refusal where nobody said which, or one that is not there."""
    rows = frozenset(one.row for one in seen.texts)
    if reword is None:
        if rows:
            raise Refusal(
                told(
                    "{count:# text|# texts} about others may name {who} by a part of the name, a number, or a name "
                    "that others bear too ({row}: “{says}”). Look at the preview, and say which of them do, or that "
                    "none does.",
                    count=len(rows),
                    who=called(seen.name, seen.person),
                    row=seen.texts[0].row,
                    says=seen.texts[0].says,
                )
            )
        return frozenset()
    if ALL in reword:
        return rows
    unknown = sorted(set(reword) - rows - {one.key for one in seen.texts})
    if unknown:
        raise Refusal(told("{text} is no text that may name them; the preview lists those that may.", text=unknown[0]))
    return frozenset(reword)


def _erase(
    workspace: Workspace,
    seen: Erasable,
    reword: frozenset[str],
    *,
    author: str,
    reason: str,
    as_of: datetime,
) -> Erased:
    made_at = int(as_of.timestamp())
    with workspace.sources.held():
        tidy(workspace)
        try:
            with workspace.store.writing() as conn:
                overwrite(conn)
                takes_alone(conn)
                decide_alone(conn)
                if state_of(workspace, as_of, conn) != seen.state:  # such as a legal hold
                    raise Refusal(
                        told("something was taken or decided in the meantime; nothing was erased: look again.")
                    )
                entries = size(conn)
                known = known_of(conn, seen.person, workspace.settings)
                running = frames.erasures(conn)["erasure"].max()
                number = int(running or 0) + 1  # type: ignore[arg-type]
                stand_in = f"erased-{number}"
                done = erase_in(Beside.of(workspace), conn, known, seen.what, stand_in, as_of.date(), reword)
                words = known.traces.words if seen.what == "all" else None
                number = add_erasure(
                    conn,
                    {
                        "what": seen.what,
                        "laws": json.dumps(seen.laws),
                        "rows": json.dumps(dict(sorted((Counter(seen.rows) + Counter(seen.reworded)).items()))),
                        "sources": len(done.cuts.sources),
                        "files": len(done.files.written) + len(done.files.removed),
                        "author": words.sub(stand_in, author) if words else author,
                        "reason": _without_name(known, reason, stand_in) if seen.what == "all" else reason,
                        "made_at": made_at,
                    },
                    [
                        {"take": take, "sha256_before": one.before, "sha256_after": one.after, "lines": one.lines}
                        for one in done.cuts.sources
                        for take in one.takes
                    ],
                )
                for one in done.cuts.sources:
                    workspace.sources.put(one.after, one.content)
                for name, content in done.files.written.items():
                    write_beside(workspace.handoff / name, content)
                forget_refused_files(workspace, conn, done.folded.takes if done.folded else ())
                call_sheets_in(
                    workspace.layouts, {was: now for one in done.cuts.sources for was, now in one.sheets.items()}
                )
                for file in done.renamed:
                    refused_path(workspace, file.take, file.was).unlink(missing_ok=True)
        finally:
            is_cleared = finish_erasing(workspace)
    files = len(done.files.written) + len(done.files.removed)
    begun = {one.row for one in seen.texts if one.is_among(reword)}
    remain = (one for one in seen.texts if not one.is_among(reword))
    left = tuple(dict.fromkeys(one.key if one.row in begun else one.row for one in remain))
    with workspace.store.reading() as conn:
        state = state_of(workspace, as_of, conn) if size(conn) == entries + 1 else ""
    return Erased(number, seen.what, seen.rows, len(done.cuts.sources), files, is_cleared, left, state)


def _without_name(known: Whom, reason: str, stand_in: str) -> str:
    """Return why somebody is erased without their name, nor what is likely a part of it."""
    said = known.traces.words.sub(stand_in, reason) if known.traces.words else reason
    is_theirs = known.parts.is_likely(said) or bool(known.parts.numbers.spans_in(said))
    return known.parts.replaced(said, stand_in) if is_theirs else said
