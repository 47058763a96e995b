"""The colours of the pages: the style sheet's tokens have the contrast that reading needs, in light and in dark."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from evenhand import web

STYLE = (Path(str(web.__file__)).parent / "static" / "evenhand.css").read_text()
DOCS = Path(__file__).parents[2] / "docs" / "look.md"

# Source: Web Content Accessibility Guidelines 2.2, 1.4.3 (text, 4.5 to 1) and 1.4.11 (what tells something, 3 to 1)
TEXT, GRAPHICS = 4.5, 3.0
READ = [(ink, ground) for ink in ("ink", "quiet", "accent", "alarm") for ground in ("paper", "sheet", "tint")]
READ += [("alarm", "alarm-tint"), ("ink", "alarm-tint"), ("ink", "over"), ("accent-ink", "accent")]
TOLD = [(ink, ground) for ink in ("ordinary", "over-line", "line-strong", "focus") for ground in ("paper", "sheet")]


def tokens(scheme: str) -> dict[str, str]:
    light, dark = re.findall(r":root \{(.*?)\}", STYLE, re.DOTALL)[:2]
    told = dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6})", light))
    return told | (dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6})", dark)) if scheme == "dark" else {})


def luminance(colour: str) -> float:
    # Source: Web Content Accessibility Guidelines 2.2, definition of relative luminance
    channels = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [one / 12.92 if one <= 0.04045 else ((one + 0.055) / 1.055) ** 2.4 for one in channels]
    return sum(weight * one for weight, one in zip((0.2126, 0.7152, 0.0722), linear, strict=True))


def contrast(one: str, other: str) -> float:
    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def test_contrast_is_measured_as_the_guidelines_do() -> None:
    # Source: the same, 1.4.3: black on white is 21 to 1; #767676 on white is the lightest grey of 4.5 to 1
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") > TEXT > contrast("#777777", "#ffffff")


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_what_is_read_and_what_tells_something_stands_out(scheme: str) -> None:
    told = tokens(scheme)
    faint = {pair: contrast(told[pair[0]], told[pair[1]]) for pair in READ}
    assert {pair: ratio for pair, ratio in faint.items() if ratio < TEXT} == {}
    faint = {pair: contrast(told[pair[0]], told[pair[1]]) for pair in TOLD}
    assert {pair: ratio for pair, ratio in faint.items() if ratio < GRAPHICS} == {}


def test_every_token_is_described_as_it_is() -> None:
    described = {
        name: (light, dark)
        for name, light, dark in re.findall(
            r"^\| `([\w-]+)` \| `(#\w{6})` \| `(#\w{6})` \|", DOCS.read_text(), re.MULTILINE
        )
    }
    light, dark = tokens("light"), tokens("dark")
    assert described == {name: (colour, dark[name]) for name, colour in light.items()}
