"""Sentences that name a command, as a page says them: by the page on which the same is done.

Jobs word their sentences for whoever works with commands; who works with pages is not sent to a shell.
"""

from __future__ import annotations

import re

__all__ = ["PAGE_OF", "WITHOUT_PAGE", "on_pages", "with_pages"]

PAGE_OF = {
    "consent campaign": "the page Consent",
    "consent policies": "the page Consent",
    "consent policy add": "the form on the page Consent",
    "consent policy example": "the form on the page Consent",
    "consent sheets": "the page Consent",
    "consent show": "the person's page under Consent",
    "dispute answer": "the page Sign-off",
    "dispute list": "the page Sign-off",
    "enrol change": "“Plan its rest again” on the page Enrolment day",
    "enrol list": "the page Round",
    "enrol plan": "the page Enrolment day",
    "enrol show": "the page Round",
    "handoff changes": "the page Hand-off",
    "handoff settle": "the page Hand-off",
    "hours why": "the day's page under Hours",
    "layouts": "the page Files",
    "leavers": "the page Leavers",
    "ledger": "the page Ledger",
    "missing suggestions": "the list of suggestions",
    "people": "the page People",
    "readers": "the page Readers",
    "settle": "the page Today",
    "settled": "the page “what is settled”, under Today",
    "signoff list": "the page Sign-off",
    "steps example": "“Your own steps” under Round",
    "steps list": "“Your own steps” under Round",
    "strays": "the page Strays",
    "supervisors succession": "“If they leave” on a reader's page",
    "take": "the page Files",
    "takes": "the page Files",
    "takes again": "“Read it again” on the page of the take, under Files",
    "takes back": "“Take it back” on the page of the take, under Files",
    "today": "the page Today",
}
"""The page, or what is pressed there, by the words of a command; its arguments are left out."""
WITHOUT_PAGE = ("ledger verify", "new", "rebuild", "serve", "watch")
"""Commands that no page stands for: what makes a workspace or mends its store, serves it or watches a folder, and what
a note says to whoever holds it outside."""

NAMED = re.compile(
    rf"`evenhand ({'|'.join(re.escape(one) for one in sorted(PAGE_OF, key=len, reverse=True))})(?: [^`]*)?`"
)

APART = re.compile(r"(<(?:textarea|code|pre)\b.*?</(?:textarea|code|pre)>|<[^>]*>)", re.DOTALL)
"""What is no sentence of a page: tags, and what stands in a field or is quoted."""


def on_pages(sentence: str) -> str:
    """Return a sentence with the page in place of each command for which there is one."""
    return NAMED.sub(lambda found: _in_place(found, sentence[: found.start()].rstrip()), sentence)


def _in_place(found: re.Match[str], before: str) -> str:
    """Return the page that stands for a command, with a capital where a sentence begins with it."""
    page = PAGE_OF[found[1]]
    return page[:1].upper() + page[1:] if before.endswith((".", "!", "?")) else page


def with_pages(html: str) -> str:
    """Return a page with its sentences as `on_pages` says them; what is quoted from a file or written in stays."""
    if "`evenhand " not in html:
        return html
    return "".join(part if part[:1] == "<" else on_pages(part) for part in APART.split(html))
