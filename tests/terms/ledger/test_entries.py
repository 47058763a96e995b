"""An entry's content is canonical JSON, whatever it says."""

from __future__ import annotations

import hashlib
import json

import rfc8785
from hypothesis import given
from hypothesis import strategies as st

from evenhand.terms.ledger.entries import Seal, entry_text, every_kind, kind_of, openly, seal, who_digest

TEXTS = st.text(st.characters(exclude_categories=["Cs"]))
SEALS = st.builds(Seal, st.sampled_from(["settled", "takes", "handoffs"]), TEXTS, st.binary(), st.binary(max_size=32))


@given(
    st.integers(0, 2**40), st.lists(SEALS), TEXTS, st.lists(st.text("0123456789abcdef", min_size=1), unique=True), TEXTS
)
def test_an_entry_is_written_as_an_independent_library_writes_it(
    at: int, seals: list[Seal], kind: str, who: list[str], name: str
) -> None:
    at %= 250_000_000_000  # up to the year 9892
    text = entry_text(7, at=at, kind=kind, who=who, seals=seals, says={"handoffs": [{"files": {name: "ab"}}]})
    said = json.loads(text)
    assert rfc8785.dumps(said).decode() == text
    assert (said["entry"], said["kind"], said["who"]) == (7, kind, sorted(who))
    for table, of in said["rows"].items():
        digests = [one.digest for one in seals if one.table == table]
        assert of == {"count": len(digests), "sha256": hashlib.sha256(b"".join(digests)).hexdigest()}
    assert {one.table for one in seals} == said["rows"].keys()


def test_a_seal_is_the_digest_that_is_described() -> None:
    made = seal("settled", "[1]", {"reason": "ill", "says": None, "settlement": 1}, b"s" * 16)
    text = b"s" * 16 + b'["settled","[1]",{"reason":"ill","settlement":1}]'
    assert made == Seal("settled", "[1]", b"s" * 16, hashlib.sha256(text).digest())
    assert who_digest(b"s", "Ada") == hashlib.sha256(b's"Ada"').hexdigest()


def test_what_is_done_has_a_name_and_what_is_nobodys_secret_is_said_openly() -> None:
    assert kind_of("take_decisions", {"action": "back"}) == "take back"
    assert kind_of("corrections", {}) == "correction"
    assert kind_of("dispute_answers", {}) == "dispute answers"
    assert {"correction", "take back", "beginning", "erasure notes"} <= set(
        every_kind(["corrections", "erasure_notes"])
    )
    row = {"take": 3, "sha256": "ab", "table": "people", "file": "leavers of March.csv"}
    assert openly("takes", row) == {"take": 3, "table": "people"}
    assert openly("corrections", {"person": "P1"}) == {}
