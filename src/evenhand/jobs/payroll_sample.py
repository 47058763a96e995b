"""Hold a sample file of a payroll against its import definition."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from evenhand import pay
from evenhand.jobs.snapshot import Snapshot
from evenhand.pay import SampleCheck
from evenhand.terms.disk_faults import why_of
from evenhand.terms.languages import told
from evenhand.terms.payroll import ImportDefinition
from evenhand.terms.records import Refusal, Unknown

__all__ = ["MOST_BYTES", "SampleChecked", "check_sample", "check_sample_file"]

MOST_BYTES = 20_000_000


@dataclass(frozen=True)
class SampleChecked:
    """A sample held against a definition: everything that was compared; `differs` where anything is otherwise."""

    sample: str
    payroll: str
    checks: tuple[SampleCheck, ...]

    @property
    def differs(self) -> bool:
        """Whether the sample is otherwise than the definition in anything."""
        return any(one.differs for one in self.checks)


def check_sample_file(snapshot: Snapshot, path: Path, payroll: str = "") -> SampleChecked:
    """Return how the file at `path` compares; raises Refusal where it cannot be read, or the definition is unclear."""
    try:
        with path.open("rb") as file:
            content = file.read(MOST_BYTES + 1)
    except OSError as fault:
        raise Refusal(
            told(
                "{path} cannot be read ({strerror}); name a file that payroll's program takes.",
                path=path,
                strerror=why_of(fault),
            )
        ) from fault
    return check_sample(snapshot, path.name, content, payroll)


def check_sample(snapshot: Snapshot, name: str, content: bytes, payroll: str = "") -> SampleChecked:
    """Return how a sample compares with the definition of this name, or with the only one."""
    if len(content) > MOST_BYTES:
        raise Refusal(
            told(
                "{name} is larger than {most} MB; give a sample of a few hundred rows.",
                name=name,
                most=MOST_BYTES // 1000000,
            )
        )
    if not content.strip():
        raise Refusal(
            told(
                "{name} is empty; give a sample with a header and a few rows, as payroll's program takes it.", name=name
            )
        )
    definition = _definition(snapshot, payroll)
    asked = pay.asked_by(definition, [one.name for one in snapshot.settings.policy.differentials])
    known = {text for column in ("person", "number", "name") for text in snapshot.people[column].drop_nulls()}
    return SampleChecked(name, definition.name, tuple(pay.check_sample(content, asked, known)))


def _definition(snapshot: Snapshot, payroll: str) -> ImportDefinition:
    definitions = snapshot.settings.import_definitions
    if payroll:
        found = [one for one in definitions if one.name == payroll]
        if not found:
            named = ", ".join(one.name for one in definitions if one.name) or "none"
            raise Unknown(
                told(
                    'there is no payroll "{payroll}" in evenhand.toml; there is: {named}.', payroll=payroll, named=named
                )
            )
        return found[0]
    if len(definitions) > 1:
        named = ", ".join(one.name for one in definitions)
        raise Refusal(told("evenhand.toml has several payrolls, {named}; say which the sample is of.", named=named))
    if not definitions[0].columns:
        raise Refusal(
            told("evenhand.toml says nothing of payroll's columns; write a table [payroll.NAME] to check against.")
        )
    return definitions[0]
