"""Read a policy file: what the workplace tells people of their hands, language by language."""

from __future__ import annotations

import hashlib
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from evenhand.terms.characters import escaped, hidden_in
from evenhand.terms.languages import sentence, told
from evenhand.terms.records import Refusal

__all__ = ["ELEMENTS", "PolicyFile", "PolicyWords", "digest_of", "read_policy"]

ELEMENTS: Mapping[str, str] = {
    "title": sentence("what the sheet is called"),
    "collected": sentence("that a biometric identifier is collected or stored, 740 ILCS 14/15(b)(1)"),
    "purpose": sentence("the specific purpose of collecting, storing and using it, 740 ILCS 14/15(b)(2)"),
    "term": sentence("the length of term for which it is collected, stored and used, 740 ILCS 14/15(b)(2)"),
    "retention": sentence("when it is destroyed, as the public retention schedule says, 740 ILCS 14/15(a)"),
    "other_way": sentence("the other way to clock, offered to everybody without a reason"),
    "release": sentence("the sentence that a person signs, 740 ILCS 14/15(b)(3)"),
    "refusal": sentence("the sentence that a person signs who does not agree"),
}
"""What each language of a policy must say, and why."""
LONGEST = 500_000
"""Letters of a file: some two hundred printed pages in all its languages."""
FEW_HEADINGS = 4
HEADING = "# "
"""What a line of `text` begins with that is a heading."""


@dataclass(frozen=True)
class PolicyWords:
    """The policy in one language, by element; `text` is whatever else the workplace wants to say, and may be empty."""

    language: str
    title: str
    collected: str
    purpose: str
    term: str
    retention: str
    other_way: str
    release: str
    refusal: str
    text: str = ""

    @property
    def parts(self) -> list[tuple[bool, str]]:
        """Return the paragraphs of what else is said, each with whether it is a heading."""
        lines = (line for line in self.text.splitlines() if line.removeprefix(HEADING.strip()).strip())
        return [(line.startswith(HEADING), line.removeprefix(HEADING)) for line in lines]

    @property
    def headings(self) -> list[str]:
        """Return the headings in their order, none where there are so few that nobody needs a list of them."""
        found = [text for is_heading, text in self.parts if is_heading]
        return found if len(found) >= FEW_HEADINGS else []


@dataclass(frozen=True)
class PolicyFile:
    """A policy file: its name, how lists of signed forms call this version, and its words by language."""

    name: str
    forms: tuple[str, ...]
    words: Mapping[str, PolicyWords]

    def spoken(self, language: str) -> PolicyWords:
        """Return the words in this language, or in the first of the file where it has none."""
        return self.words.get(language) or next(iter(self.words.values()))


def digest_of(text: str) -> str:
    """Return the SHA-256 of a policy file's text in UTF-8, as `sha256sum` prints it."""
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def read_policy(text: str, file: str, languages: tuple[str, ...]) -> PolicyFile:
    """Return what the text of a policy `file` says; `languages` are those it may speak.

    Raises Refusal, naming the place, what was seen and what to do, at the first thing that is missing or not
    understood: a notice that lacks an element is no notice.
    """
    if len(text) > LONGEST:
        raise Refusal(
            told(
                "{file} is longer than {most} letters; nobody reads that at a reader, shorten it.",
                file=file,
                most=LONGEST,
            )
        )
    try:
        said = tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        raise Refusal(
            told("{file} is not valid TOML: {fault}; correct that place.", file=file, fault=str(fault))
        ) from fault
    unknown = sorted(set(said) - {"name", "forms", *languages})
    if unknown:
        raise Refusal(
            told(
                "{file}: nobody knows the key {key}; it holds name, forms and a table for each language ({languages}).",
                file=file,
                key=unknown[0],
                languages=", ".join(languages),
            )
        )
    forms = said.get("forms", [])
    if not isinstance(forms, list) or not all(isinstance(form, str) and form.strip() for form in forms):
        raise Refusal(
            told("{file}, forms: expected a list of texts, as lists of signed forms name this version.", file=file)
        )
    words = {one: _words(said[one], one, file) for one in said if one in languages}
    if not words:
        raise Refusal(
            told(
                "{file} says nothing in any language; add a table such as [{language}].",
                file=file,
                language=languages[0],
            )
        )
    return PolicyFile(_text(said, "name", "", file), tuple(form.strip() for form in forms), words)


def _words(said: Any, language: str, file: str) -> PolicyWords:
    if not isinstance(said, dict):
        raise Refusal(told("{file}, {language}: expected a table [{language}].", file=file, language=language))
    unknown = sorted(set(said) - {*ELEMENTS, "text"})
    if unknown:
        raise Refusal(
            told(
                "{file}, {language}: nobody knows {key}; it says {elements} and text.",
                file=file,
                language=language,
                key=unknown[0],
                elements=", ".join(ELEMENTS),
            )
        )
    words = {element: _text(said, element, language, file) for element in ELEMENTS}
    return PolicyWords(language, **words, text=_text(said, "text", language, file) if "text" in said else "")


def _text(said: Mapping[str, Any], key: str, language: str, file: str) -> str:
    place = f"{file}, {language + '.' if language else ''}{key}"
    text = said.get(key)
    if not isinstance(text, str) or not text.strip():
        if key not in ELEMENTS:
            raise Refusal(told("{place} is missing; say it in quotes.", place=place))
        raise Refusal(told("{place} is missing; say it in quotes: {wanted}.", place=place, wanted=told(ELEMENTS[key])))
    lines = [" ".join(line.split()) for line in text.strip().splitlines()]
    hidden = next((line for line in lines if hidden_in(line)), None)
    if hidden is not None:
        raise Refusal(
            told(
                "{place}: “{text}” holds characters that do not show; write it without them.",
                place=place,
                text=escaped(hidden),
            )
        )
    return "\n".join(lines) if key == "text" else " ".join(line for line in lines if line)
