"""A name is one part of an address. Source: RFC 3986, sections 2.4 and 6.2.2.3."""

from __future__ import annotations

from urllib.parse import quote, urljoin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evenhand.terms.segments import as_segment, name_in_segment


@given(st.text(min_size=1))
def test_every_name_comes_back(name: str) -> None:
    assert name_in_segment(as_segment(name)) == name
    assert "/" not in as_segment(name)


@pytest.mark.parametrize("name", [".", "..", "../..", "./x", "~2F", "~", "print/slips.pdf"])
def test_no_name_leads_to_another_place(name: str) -> None:
    # urljoin resolves dot segments as a browser does (RFC 3986 section 5.2.4)
    address = f"/readers/{quote(as_segment(name), safe='')}"
    assert urljoin("http://127.0.0.1/readers/", f"http://127.0.0.1{address}").endswith(address)
    assert name_in_segment(as_segment(name)) == name


@given(st.text(alphabet="~/.27EF", min_size=1, max_size=6), st.text(alphabet="~/.27EF", min_size=1, max_size=6))
def test_two_names_never_share_a_part(one: str, other: str) -> None:
    assert (as_segment(one) == as_segment(other)) == (one == other)
