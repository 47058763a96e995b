"""The bytes of every file taken: whole, for their owner alone, one program at a time, and swept."""

from __future__ import annotations

import gzip
import hashlib
import stat
from pathlib import Path

import pytest

from evenhand.store.sources import Sources
from evenhand.terms.records import Refusal

CONTENT = b"person,name\nP1,Ada\n"
DIGEST = hashlib.sha256(CONTENT).hexdigest()


@pytest.fixture
def sources(tmp_path: Path) -> Sources:
    return Sources(tmp_path / "sources")


def test_a_source_is_read_back_whole_and_is_its_owners_alone(sources: Sources) -> None:
    with sources.held():
        assert sources.put(DIGEST, CONTENT)
        assert not sources.put(DIGEST, CONTENT)
    assert sources.read(DIGEST, "roster.csv") == CONTENT
    modes = [stat.S_IMODE(path.stat().st_mode) for path in (sources.folder, *sources.folder.iterdir())]
    assert modes == [0o700, 0o600, 0o600]
    assert gzip.decompress((sources.folder / f"{DIGEST}.gz").read_bytes()) == CONTENT  # by anybody's program


def test_what_nobody_names_and_what_is_half_written_is_swept(sources: Sources) -> None:
    with sources.held():
        for content in (CONTENT, b"other"):
            sources.put(hashlib.sha256(content).hexdigest(), content)
        (sources.folder / ".half.gz.99.part").write_bytes(b"P1,Ad")
        sources.sweep({DIGEST})
    assert {path.name for path in sources.folder.iterdir()} == {".lock", f"{DIGEST}.gz"}


def test_a_second_program_waits_and_is_then_refused(sources: Sources) -> None:
    with sources.held(), pytest.raises(Refusal, match="in use by another program"), sources.held(wait_s=0.05):
        pass
    with sources.held(wait_s=0.05):
        pass


@pytest.mark.parametrize(
    ("there", "says"),
    [
        (None, "is missing; put back a backup of it, or take the file again"),
        (b"no archive", "cannot be read"),
        (gzip.compress(CONTENT)[:-9], "cannot be read"),
        (gzip.compress(CONTENT)[:12] + b"\xff" * 20, "cannot be read"),
        (gzip.compress(b"other bytes"), "has been changed"),
    ],
    ids=["missing", "no archive", "cut short", "damaged inside", "of other bytes"],
)
def test_a_source_that_is_not_what_was_taken_is_refused_by_name(
    sources: Sources, there: bytes | None, says: str
) -> None:
    with sources.held():
        if there is not None:
            (sources.folder / f"{DIGEST}.gz").write_bytes(there)
    with pytest.raises(Refusal, match=says) as refusal:
        sources.read(DIGEST, "roster.csv")
    assert "the source of roster.csv" in str(refusal.value)


def test_a_folder_that_cannot_be_written_is_named(tmp_path: Path) -> None:
    with pytest.raises(Refusal, match=r"missing/sources cannot be written \(No such file or directory\); allow"):
        Sources(tmp_path / "missing" / "sources").put("0" * 64, b"reader;number")


@pytest.mark.parametrize(
    "damaged",
    [b"", gzip.compress(CONTENT)[:-9], gzip.compress(b"other bytes")],
    ids=["empty", "cut short", "of other bytes"],
)
def test_a_damaged_source_is_replaced_and_is_not_new(sources: Sources, damaged: bytes) -> None:
    with sources.held():
        (sources.folder / f"{DIGEST}.gz").write_bytes(damaged)
        assert not sources.is_whole(DIGEST)
        assert not sources.put(DIGEST, CONTENT)  # a take names it: whoever fails after this must not drop it
    assert sources.read(DIGEST, "roster.csv") == CONTENT
