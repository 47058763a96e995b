"""The workplace's own rules: dated numbers in `rules/<jurisdiction>/<rule>.toml` of the workspace.

A folder named after a shipped jurisdiction changes its numbers; one with another name makes a jurisdiction of that
name, and its `jurisdiction.toml` says with `based_on` which shipped one it changes.
"""

from __future__ import annotations

import tomllib
from pathlib import Path

from evenhand.store.settings_part import Part
from evenhand.terms.parameters import OwnRules, parse_parameters
from evenhand.terms.records import Refusal

__all__ = ["read_own_rules"]

ABOUT = "jurisdiction.toml"


def read_own_rules(directory: Path) -> dict[str, OwnRules]:
    """Return the workplace's own rules by jurisdiction, none where there is no such directory.

    Raises Refusal, naming the file, the key and what is wrong, for a file that cannot be understood.
    """
    if not directory.is_dir():
        return {}
    return {folder.name: _folder(folder) for folder in sorted(directory.iterdir()) if folder.is_dir()}


def _folder(folder: Path) -> OwnRules:
    about, based_on = folder / ABOUT, folder.name
    if about.exists():
        try:
            content = tomllib.loads(_text(about))
        except tomllib.TOMLDecodeError as fault:
            raise Refusal(f"{about} is not valid TOML: {fault}; correct that place.") from fault
        based_on = Part(about, "", content, ("based_on",)).text("based_on")
    files = {
        file.stem: parse_parameters(_text(file), str(file)) for file in sorted(folder.glob("*.toml")) if file != about
    }
    return OwnRules(folder.name, based_on, files)


def _text(file: Path) -> str:
    try:
        return file.read_bytes().decode("utf-8-sig")
    except (OSError, UnicodeDecodeError) as fault:
        raise Refusal(f"{file} cannot be read as text in UTF-8 ({fault}); save it again.") from fault
