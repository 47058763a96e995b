"""What became of a file that was taken, with what is to be known about it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import polars as pl

from evenhand.jobs.beside import refused_path
from evenhand.jobs.workspace import Workspace
from evenhand.layouts import Rows
from evenhand.store.taking import FileStored
from evenhand.terms.columns import Frame
from evenhand.terms.languages import sentence, told

__all__ = ["Receipt", "receipt_of"]


@dataclass(frozen=True)
class Receipt:
    """What became of a file: its `read` rows were `taken` (new or changed), `known` already, or `rejected`.

    Of the known punches, `enriched` say more than was known.
    `gone` counts enrolments that the file's readers list no longer, or people whom the roster does not. `rejected_path`
    is where the rejected rows stand, `layout_path` the kept layout by which the file was read, None where none is,
    `take` the number under which `evenhand takes` lists it; `is_again` says that this take was there and was read
    again in its place.
    """

    file: str
    table: str
    read: int
    taken: int
    known: int
    rejected: int
    gone: int = 0
    notices: tuple[str, ...] = ()
    rejected_path: Path | None = None
    layout_path: Path | None = None
    take: int = 0
    is_again: bool = False
    enriched: int = 0


def receipt_of(
    workspace: Workspace, file: str, layout_path: Path | None, rows: Rows, kept: FileStored, rejects: Frame
) -> Receipt:
    """Return the receipt of a file whose `rows` were stored as `kept`, all its `rejects` (REJECTS) among them."""
    receipt = Receipt(
        file,
        rows.table.name,
        read=rows.read,
        taken=kept.taken,
        known=kept.known,
        rejected=rejects.height,
        gone=kept.gone,
        notices=rows.notices + _notices(rows, rejects, kept),
        rejected_path=refused_path(workspace, kept.take, file) if rejects.height else None,
        layout_path=layout_path,
        take=kept.take,
        enriched=kept.enriched,
    )
    assert receipt.read == receipt.taken + receipt.known + receipt.rejected
    return receipt


def _notices(rows: Rows, rejects: Frame, kept: FileStored) -> tuple[str, ...]:
    if kept.enriched or kept.differing:
        return tuple(_of_known_punches(kept.enriched, kept.differing))
    if rows.table.name == "people":
        return (*_of_returns(rows.frame), *_of_left_out(kept.left_out))
    if rows.table.name == "enrolments" and rejects.height:
        return (
            sentence(
                "Enrolments that the readers no longer list are kept, since rejected rows may be among "
                "them; correct those rows and take the file again."
            ),
        )
    return ()


def _of_returns(people: Frame) -> Iterator[str]:
    back = people.filter(pl.col("left_on") < pl.col("hired_on"))
    if back.height:
        who, name = back.select("person", "name").row(0)
        yield (
            told(
                "{count:# person|# people}, such as {name}, left before the first day that the roster gives: they "
                "are taken to have come back, and no hand of theirs is asked for. Where one of the days is wrong, "
                "correct the roster.",
                count=back.height,
                name=name or who,
            )
        )


def _of_left_out(count: int) -> Iterator[str]:
    if count:
        yield (
            told(
                "It was taken as a part of the roster; {count:# person not in it stays|# people not in it stay} "
                "listed. Where it is the whole roster, take it back and take it again as that.",
                count=count,
            )
        )


def _of_known_punches(enriched: int, differing: int) -> Iterator[str]:
    if enriched:
        yield (
            told(
                "{count:# punch|# punches} known already of which this file tells more: the second, the direction, the "
                "outcome or the score; that stands beside them and goes with this take.",
                count=enriched,
            )
        )
    if differing:
        yield (
            told(
                "{count:# row says|# rows say} another direction, outcome or score than the punch of the same second "
                "that was taken before, which stands; correct it on Hours where the row is right.",
                count=differing,
            )
        )
