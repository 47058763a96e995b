"""What is known of a key of a settings file: what it means, how it is written, what holds where it is silent.

Durations are told in the unit that a key ends in. A source is the law that allows or asks for a setting; where there is
none, the workplace decides, by agreement or by habit.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from evenhand.terms.languages import sentence

__all__ = ["COMMON_PRACTICE", "OWN_POLICY", "SettingKey", "SettingTable"]

Kind = Literal["number", "text", "choice", "yes_no", "day", "zone", "texts", "weekdays"]
"""How a value is written: a number, text, one of some, yes or no, a date, a time zone, or a list of texts."""

OWN_POLICY = sentence("the workplace's policy")
COMMON_PRACTICE = sentence("common practice, no source")
UNITS = (
    sentence("seconds"),
    sentence("minutes"),
    sentence("hours"),
    sentence("days"),
    sentence("years"),
)


@dataclass(frozen=True)
class SettingKey:
    """One key: its name in the file, what it is called and means, how it is written, and its source.

    `silent` says what holds where the file does not have it; empty where it must be there.
    """

    key: str
    title: str
    meaning: str
    kind: Kind
    silent: str
    cites: str = OWN_POLICY
    choices: tuple[str, ...] = ()

    @property
    def unit(self) -> str:
        """Return the unit that its number counts in, empty where the key does not say."""
        unit = self.key.rpartition("_")[2]
        return unit if self.kind in ("number", "choice") and unit in UNITS else ""


@dataclass(frozen=True)
class SettingTable:
    """A table of the file with its keys; `whole` says that it is written whole or not at all."""

    path: tuple[str, ...]
    title: str
    about: str
    keys: tuple[SettingKey, ...]
    whole: bool = False
