"""Sentences that name a command, as a page says them: by the page on which the same is done.

Jobs word their sentences for whoever works with commands; who works with pages is not sent to a shell.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from evenhand.terms.languages import ENGLISH, sentence

__all__ = ["PAGE_OF", "WITHOUT_PAGE", "on_pages", "with_pages"]

PAGE_OF = {
    "consent campaign": sentence("the page Consent"),
    "consent policies": sentence("the page Consent"),
    "consent policy add": sentence("the form on the page Consent"),
    "consent policy example": sentence("the form on the page Consent"),
    "consent sheets": sentence("the page Consent"),
    "consent show": sentence("the person's page under Consent"),
    "dispute answer": sentence("the page Sign-off"),
    "dispute list": sentence("the page Sign-off"),
    "enrol change": sentence("“Plan its rest again” on the page Enrolment day"),
    "enrol list": sentence("the page Round"),
    "enrol plan": sentence("the page Enrolment day"),
    "enrol show": sentence("the page Round"),
    "handoff changes": sentence("the page Hand-off"),
    "handoff settle": sentence("the page Hand-off"),
    "hours why": sentence("the day's page under Hours"),
    "layouts": sentence("the page Files"),
    "leavers": sentence("the page Leavers"),
    "ledger": sentence("the page Ledger"),
    "missing suggestions": sentence("the list of suggestions"),
    "people": sentence("the page People"),
    "readers": sentence("the page Readers"),
    "settle": sentence("the page Today"),
    "settled": sentence("the page “what is settled”, under Today"),
    "signoff list": sentence("the page Sign-off"),
    "steps example": sentence("“Your own steps” under Round"),
    "steps list": sentence("“Your own steps” under Round"),
    "strays": sentence("the page Strays"),
    "supervisors succession": sentence("“If they leave” on a reader's page"),
    "take": sentence("the page Files"),
    "takes": sentence("the page Files"),
    "takes again": sentence("“Read it again” on the page of the take, under Files"),
    "takes back": sentence("“Take it back” on the page of the take, under Files"),
    "today": sentence("the page Today"),
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


def on_pages(text: str, say: Callable[[str], str] = ENGLISH) -> str:
    """Return a text with the page, in the language of `say`, in place of each command for which there is one."""
    return NAMED.sub(lambda found: _in_place(say(PAGE_OF[found[1]]), text[: found.start()].rstrip()), text)


def _in_place(page: str, before: str) -> str:
    """Return the page that stands for a command, with a capital where a sentence begins with it."""
    return page[:1].upper() + page[1:] if before.endswith((".", "!", "?")) else page


def with_pages(html: str, say: Callable[[str], str] = ENGLISH) -> str:
    """Return a page with its sentences as `on_pages` says them; what is quoted from a file or written in stays."""
    if "`evenhand " not in html:
        return html
    return "".join(part if part[:1] == "<" else on_pages(part, say) for part in APART.split(html))
