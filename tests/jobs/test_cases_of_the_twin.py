"""A case gathers exactly what one planted mistake brought about: held against the twin's own truth."""

from __future__ import annotations

from pathlib import Path

from bench.cases import measure


def test_cases_hold_what_was_planted_together_and_nothing_else(tmp_path: Path) -> None:
    # Whose hand stands where, and who was away, the twin knows; a forgotten whole day looks like an absence, though.
    found = measure(1, tmp_path / "workspace", people=120, weeks=3)
    assert found.judged > 60
    assert found.planted >= 6
    assert found.whole == found.planted
    assert found.pure >= 0.95 * found.judged
    assert found.complete >= 0.95 * found.judged
    assert found.cases < 0.65 * found.findings
