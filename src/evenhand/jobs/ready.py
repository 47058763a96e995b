"""Which of the files that were put on the page may be taken as they stand, and taking those in one go.

Ready is a file that leaves nothing open, loses no row, and only adds: whatever else it would do is looked at first.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass, replace

from evenhand.jobs.seen import ColumnUse, NotAsSeen
from evenhand.jobs.take import Answers, Receipt, RefusedFile, Seen, look_at_files
from evenhand.jobs.turns import ORDER
from evenhand.jobs.waiting import list_waiting, path_of, take_waiting
from evenhand.jobs.workspace import Workspace
from evenhand.terms.languages import OF_FILE, Sentence, in_a_row, said_of, sentence, told
from evenhand.terms.records import Refusal, WaitingFile

__all__ = ["MOST_LOOKED_AT", "LookedAt", "look_at_waiting", "take_first", "take_ready", "why_not_ready"]

MOST_LOOKED_AT = 60
"""How many files are looked at in one go."""
SURE = 0.7
"""How likely each column has to be what it is read as (likely; our own bound, no source)."""
CHANGED = sentence("it is no longer what was shown; look at it.")


@dataclass(frozen=True)
class LookedAt:
    """A file that waits, how it would be read, None where it cannot be, and why it is not ready; '' where it is.

    What it would be read so `after` are the files that wait too and hold readers or people it names.
    """

    waiting: WaitingFile
    seen: Seen | None
    why: str
    after: tuple[WaitingFile, ...] = ()


def look_at_waiting(workspace: Workspace) -> tuple[list[LookedAt], int]:
    """Return the files put on the page with whether they are ready, in the order they would be taken in.

    Readers and people of one are known to the others. Beside them how many more there are than `MOST_LOOKED_AT`.
    """
    put_on = [one for one in list_waiting(workspace) if not one.is_watched]
    paths = [path_of(workspace, one.key)[1] for one in put_on[:MOST_LOOKED_AT]]
    found = [
        LookedAt(one, None, _without(one.file, result.reason))
        if isinstance(result, RefusedFile)
        else LookedAt(one, result, why_not_ready(result), _named(put_on, result.rests_on))
        for one, result in zip(put_on, look_at_files(workspace, paths), strict=False)
    ]
    found = [_after_what_is_ready(one, found) for one in found]
    return sorted(found, key=_turn), max(0, len(put_on) - MOST_LOOKED_AT)


def take_first(workspace: Workspace, key: str) -> tuple[WaitingFile, ...]:
    """Return the files that wait too and hold readers or people that a file names and nothing that was taken knows.

    The list of what waits reads it as it would be after these; by itself it is read without.
    """
    looked = next((one for one in look_at_waiting(workspace)[0] if one.waiting.key == key), None)
    return looked.after if looked else ()


def _named(put_on: Sequence[WaitingFile], files: Collection[str]) -> tuple[WaitingFile, ...]:
    return tuple({one.file: one for one in reversed(put_on) if one.file in files}.values())


def _after_what_is_ready(one: LookedAt, found: Sequence[LookedAt]) -> LookedAt:
    """Return a file as ready only where those that it would be read after are ready too."""
    waits = [other.waiting.file for other in found if other.why and other.waiting in one.after]
    if one.why or not waits:
        return one
    return replace(one, why=told("It names readers or people of {files:listed}, to be taken before it.", files=waits))


def _turn(one: LookedAt) -> tuple[bool, int, str]:
    turn = ORDER.index(one.seen.proposal.layout.table) if one.seen else len(ORDER)
    return bool(one.why), turn, one.waiting.file


def why_not_ready(seen: Seen) -> str:
    """Return in one sentence why a file is to be looked at before it is taken; '' where it is ready."""
    proposal, changes = seen.proposal, seen.changes
    if proposal.questions:
        return _without(seen.file, proposal.questions[0].asks)
    if seen.doubt:
        return seen.doubt
    if seen.taken_before:
        return told("This very content was taken before, as take {take}.", take=seen.taken_before)
    if changes is None or not seen.read:
        return sentence("No row of it can be read.")
    if seen.refused:
        return told(
            "{refused:,} of its {count:# row|# rows} would be rejected: {why:again}.",
            refused=seen.refused,
            count=seen.read,
            why=seen.refusals[0].reason,
        )
    if unsure := [one for one in proposal.uses if one.names and one.likelihood < SURE]:
        return told("It is not certain that {columns:listed} is read rightly.", columns=_labels(unsure))
    if proposal.offers:
        columns = _labels(proposal.offers)
        return told("Its layout leaves out what seems to be of use: {columns:listed}.", columns=columns)
    if changes.left_out and not proposal.layout.roster:
        return told("It leaves out {count:# person|# people}, more than half of those listed.", count=changes.left_out)
    if changes.changed or changes.gone:
        return told("It does more than add: {says}", says=in_a_row("{one} {other}", changes.says))
    return ""


def _labels(columns: Sequence[ColumnUse]) -> list[str]:
    return [one.header or told("column {position}", position=one.position) for one in columns]


def _without(file: str, sentence: str) -> str:
    """Return a sentence without the file's name before it, beside which it stands."""
    if isinstance(sentence, Sentence) and sentence.pattern == OF_FILE and sentence.given["file"] == file:
        says: str = sentence.given["says"]
        return says
    said = sentence.removeprefix(f"{file}: ")
    return said[:1].upper() + said[1:] if said[:1].isalpha() else said


def take_ready(
    workspace: Workspace, keys: Collection[str], is_as_seen: Callable[[str, Seen], bool], author: str = ""
) -> tuple[list[Receipt], list[str]]:
    """Take those of the files that are ready, in their order; returns the receipts, and why others were not taken.

    `is_as_seen` tells whether the file of a key is what somebody was shown, `author` who takes them.
    """
    receipts: list[Receipt] = []
    left: list[str] = []
    for key in keys:

        def is_ready(seen: Seen, key: str = key) -> bool:
            return not why_not_ready(seen) and is_as_seen(key, seen)

        try:
            receipts.append(take_waiting(workspace, key, Answers(), is_ready, author))
        except NotAsSeen:
            left.append(told("{file} was not taken: {why}", file=path_of(workspace, key)[0].file, why=told(CHANGED)))
        except Refusal as refusal:
            left.append(said_of(refusal))
    return receipts, left
