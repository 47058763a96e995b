"""Take files: look at them, have what is proposed confirmed, store what is in order, write down what is not."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from datetime import date
from itertools import count
from pathlib import Path

from evenhand.jobs.incoming import Incoming, read_incoming
from evenhand.jobs.keep import keep, taken_before
from evenhand.jobs.kept_layouts import extends
from evenhand.jobs.known import Known, Surroundings
from evenhand.jobs.looking import Understood, as_seen, understand
from evenhand.jobs.receipts import Receipt
from evenhand.jobs.seen import Answers, ColumnUse, Proposal, Seen
from evenhand.jobs.turns import LeftOpen, RefusedFile, Stopped, in_turn
from evenhand.jobs.workspace import Workspace
from evenhand.layouts import Layout
from evenhand.store.faults import refusing
from evenhand.store.owner_only import make_folder
from evenhand.store.replacing import replace_file
from evenhand.terms.languages import said_of, told
from evenhand.terms.records import Refusal

__all__ = [
    "Answers",
    "Layout",
    "Receipt",
    "RefusedFile",
    "Seen",
    "Stopped",
    "look_at",
    "look_at_files",
    "take_file",
    "take_files",
]

Confirm = Callable[[Seen], Answers | bool]
"""Shown a file, says what is to become of it: True takes it, False leaves a draft of its layout to edit, answers have
it looked at again."""
Progress = Callable[[str, float], None]
NO_ANSWERS = Answers()


def look_at(
    workspace: Workspace,
    file: Path | str | Incoming,
    answers: Answers = NO_ANSWERS,
    *,
    layout: Layout | None = None,
    today: date | None = None,
    of_take: Layout | None = None,
) -> Seen:
    """Return a file as it would be taken, with what is open and what it would change; nothing is stored.

    `answers` is what a person has said about it, `layout` one written for it; no log is believed to tell of a day after
    `today`, and `of_take` is the layout of the take that it is to be read again as. Raises Refusal where it holds no
    table of rows, and where the answers cannot be followed.
    """
    known = Known(workspace, today)
    incoming = file if isinstance(file, Incoming) else read_incoming(Path(file))
    return as_seen(known, understand(known, incoming, answers, layout, of_take=of_take))


def look_at_files(
    workspace: Workspace,
    files: Iterable[Path | str | Incoming],
    answers: Answers = NO_ANSWERS,
    *,
    layout: Layout | None = None,
    today: date | None = None,
) -> list[Seen | RefusedFile]:
    """Return several files as they would be taken one after another, as given; nothing is stored.

    Readers and people of one file are known to those whose turn is after it.
    """
    known = Known(workspace, today)

    def look(incoming: Incoming) -> Seen:
        understood = understand(known, incoming, answers, layout)
        seen = as_seen(known, understood)
        if understood.rows is None:
            return seen
        seen = replace(seen, rests_on=known.rests_on(understood.rows))
        known.suppose(understood.rows, incoming.name)
        return seen

    return in_turn(known, files, answers, layout, look)


def take_files(
    workspace: Workspace,
    files: Iterable[Path | str | Incoming],
    *,
    answers: Answers = NO_ANSWERS,
    layout: Layout | None = None,
    confirm: Confirm | None = None,
    progress: Progress | None = None,
    today: date | None = None,
    is_unseen: bool = False,
    author: str = "",
) -> list[Receipt | RefusedFile]:
    """Take several files, those first that others are placed by, and return what became of each, as given.

    `confirm` is shown every file that no kept layout fits, that leaves a question open, or that is unlikely to be what
    it is taken for, also by a written `layout`; without it, what is proposed is taken. Where it `is_unseen`, nobody
    looks at it: a file that is unlikely to be what it is taken for is refused. A file that is refused does not stop the
    others. `author` is who takes them, of whom the ledger tells; '' where nobody said.
    """
    known = Known(workspace, today)
    return in_turn(
        known,
        files,
        answers,
        layout,
        lambda incoming: _take(known, incoming, answers, layout, confirm, progress, author, is_unseen=is_unseen),
    )


def take_file(
    workspace: Workspace,
    file: Path | str | Incoming,
    *,
    answers: Answers = NO_ANSWERS,
    layout: Layout | None = None,
    confirm: Confirm | None = None,
    progress: Progress | None = None,
    author: str = "",
) -> Receipt:
    """Take one file and return its receipt, as `take_files` does.

    Raises Refusal, with the store unchanged, where nothing of the file can be taken.
    """
    incoming = file if isinstance(file, Incoming) else read_incoming(Path(file))
    return _take(Known(workspace), incoming, answers, layout, confirm, progress, author)


def _take(
    known: Known,
    incoming: Incoming,
    answers: Answers,
    layout: Layout | None,
    confirm: Confirm | None,
    progress: Progress | None,
    author: str,
    *,
    is_unseen: bool = False,
) -> Receipt:
    report = progress or (lambda stage, fraction: None)
    said_nothing = answers == Answers(table=answers.table)
    if layout is None and said_nothing and (receipt := taken_before(known, incoming, answers.table)) is not None:
        return receipt
    understood = understand(known, incoming, answers, layout, progress)
    while confirm and (
        understood.doubt or understood.proposal.questions or (layout is None and _is_to_be_seen(understood.proposal))
    ):
        answer = confirm(as_seen(known, understood))
        if answer is True:
            break
        if answer is False and layout is not None:
            raise Refusal(told("{name} was not taken.", name=incoming.name))
        if answer is False:
            raise Refusal(_left(known, understood))
        try:
            understood = understand(known, incoming, answer, layout, progress)
        except Refusal as refusal:
            understood = replace(understood, fault=said_of(refusal))
    if is_unseen and understood.doubt:
        raise Refusal(
            told(
                "{name} was not taken: {doubt} Look at it, and take it without --yes.",
                name=incoming.name,
                doubt=understood.doubt,
            )
        )
    if understood.rows is None:
        raise LeftOpen(understood.proposal.questions[0])
    report("storing", 0.0)
    surroundings = known.surroundings()
    proposal = understood.proposal
    kept = proposal.kept or _extended(known, understood)
    kept_as = known.layouts.folder / kept if kept else None
    receipt = keep(known, incoming, proposal.layout, kept_as, understood.rows, surroundings, author=author)
    if kept_as and not proposal.kept and receipt.rejected < receipt.read:
        # Held, else what is half written is swept by whoever takes a file.
        with known.workspace.sources.held(), refusing(str(known.layouts.folder)):
            extended = replace(proposal.layout, roster=known.layouts.by_name[kept].roster)
            replace_file(kept_as, extended.to_toml().encode())
        known.layouts.add(kept_as, extended)
    notices = (*proposal.notices, *receipt.notices, *map(_offered, proposal.offers))
    if receipt.table == "readers" and receipt.taken and not receipt.is_again:
        notices += _moved_clocks(surroundings, known.surroundings())
    receipt = replace(receipt, notices=notices)
    report("storing", 1.0)
    return receipt


def _extended(known: Known, understood: Understood) -> str:
    """Return the name of the kept layout that answers have extended to this one; '' where there is none."""
    answers, layout = understood.answers, understood.proposal.layout
    unasked = Answers(table=answers.table, reader=answers.reader)
    kept = known.propose(understood.incoming, unasked).kept if answers != unasked else ""
    return kept if kept and extends(layout, known.layouts.by_name[kept]) else ""


def _is_to_be_seen(proposal: Proposal) -> bool:
    return bool(not proposal.kept or proposal.questions or proposal.offers)


def _left(known: Known, understood: Understood) -> str:
    """Leave the layout that was not confirmed as a draft to edit, and return what to do with it."""
    layout = understood.proposal.layout
    drafts = known.workspace.layouts / "drafts"
    with refusing(str(drafts)):
        make_folder(drafts)
        draft = next(path for place in count(1) if not (path := drafts / f"{layout.table}-{place}.toml").exists())
        replace_file(draft, layout.to_toml().encode())
    return told(
        "{name} was not taken; how it would have been read stands in {draft}: edit that, and take the file with "
        "--layout {draft}.",
        name=understood.incoming.name,
        draft=draft,
    )


def _offered(offer: ColumnUse) -> str:
    column = offer.header or str(offer.position)
    return told(
        "The column {column} ({samples}) seems to be {name}, and the kept layout leaves it out; say so, or that it "
        "is none.",
        column=column,
        samples=" | ".join(offer.samples),
        name=offer.names[0],
    )


def _moved_clocks(before: Surroundings, now: Surroundings) -> tuple[str, ...]:
    return tuple(
        told(
            "{reader} ran in {zone} and runs in {now} now; punches taken before keep their instants. "
            "If that zone was wrong before, do not take its earlier logs anew, which would add their "
            "punches twice: read them again in their place, `evenhand takes again N --zone {now} "
            "--author NAME --reason WHY`.",
            reader=reader,
            zone=zone,
            now=now.reader_zones[reader],
        )
        for reader, zone in before.reader_zones.items()
        if now.reader_zones.get(reader, zone) != zone
    )
