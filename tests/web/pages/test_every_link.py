"""Every link of a page leads to something, and to a place on it that is there."""

from __future__ import annotations

import re
from collections import Counter, deque
from html import unescape
from urllib.parse import parse_qsl, urldefrag, urljoin, urlsplit

import httpx

MOST_OF_A_KIND = 4
"""As many pages of a kind as are looked at: one is one's sort, the others are drawn alike."""


def kind_of(address: str) -> tuple[str, ...]:
    """Return what pages of one kind have in common: the words of their path, and what is asked of them."""
    parts = urlsplit(address)
    words = (part if re.fullmatch(r"[a-z-]+(\.[a-z]+)?", part) else "*" for part in parts.path.split("/"))
    return (*words, *sorted({name for name, _ in parse_qsl(parts.query, keep_blank_values=True)}))


def test_no_link_leads_to_nothing(at_mill: httpx.Client) -> None:
    base = str(at_mill.base_url).rstrip("/")
    waiting, seen, of_kind = deque([("/", "")]), dict[str, set[str]](), Counter[tuple[str, ...]]()
    wrong, points = list[str](), list[tuple[str, str, str]]()
    while waiting:
        address, linked_on = waiting.popleft()
        if address in seen or of_kind[kind_of(address)] >= MOST_OF_A_KIND:
            continue
        of_kind[kind_of(address)] += 1
        answer = at_mill.get(address)
        is_page = "text/html" in answer.headers.get("content-type", "")
        html = answer.text if is_page else ""
        seen[address] = set(re.findall(r'\bid="([^"]+)"', html))
        if answer.status_code not in (200, 303):
            wrong.append(f"{answer.status_code} {address} on {linked_on}")
        for link in map(unescape, re.findall(r'<a [^>]*href="([^"]+)"', html)):
            to, point = urldefrag(urljoin(base + address, link))
            if not to.startswith(base + "/"):
                continue
            place = to.removeprefix(base)
            points += [(address, place, point)] if point else []
            waiting.append((place, address))
    assert wrong == []
    assert len(seen) > 100
    assert [one for one in points if one[1] in seen and seen[one[1]] and one[2] not in seen[one[1]]] == []
