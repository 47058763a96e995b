"""Drawings of a hand at a reader, as SVG: what is right and what is wrong, drawn from circles and thick lines.

They show no make of reader: a plate, four posts, a hand. Parts carry classes, so that a page can colour them anew.
"""

from __future__ import annotations

from collections.abc import Sequence

__all__ = ["DRAWINGS", "drawing"]

WIDTH, HEIGHT = 460, 520
PALM = (
    ("M236 516 V400", 134, "butt"),
    ("M176 330 V402 M296 330 V402 M176 330 H296 M186 402 H286", 74, "round"),
)
FINGERS = (
    ("M170 320 L154 150", 56),
    ("M215 310 L209 112", 58),
    ("M260 312 L266 132", 56),
    ("M303 328 L322 190", 50),
    ("M172 420 L92 316", 60),
)
NAILS = "M145 156 q8 -12 17 -1 M199 118 q9 -12 19 0 M256 137 q10 -12 19 1 M313 195 q9 -10 17 2 M84 326 q2 -13 14 -14"
APART = (
    ("M166 318 L110 158", 56),
    *FINGERS[1:3],
    ("M303 328 L368 208", 50),
    ("M176 424 L62 352", 60),
)
APART_NAILS = (
    "M99 166 q4 -13 16 -6 M199 118 q9 -12 19 0 M256 137 q10 -12 19 1 M357 209 q12 -8 17 5 M54 360 q-1 -13 9 -17"
)
POSTS = ((187, 250), (238, 244), (290, 262), (134, 330))
INK, SKIN, LINES, PLATEN = "#3a3a3a", "#e3c9ab", "#9a7a58", "#f4f1ea"
RIGHT, WRONG, POST, POST_EDGE, GOLD = "#1d6b3f", "#a3291b", "#2f6f8f", "#1b3f52", "#d8a72b"


def _platen() -> str:
    return (
        f'<rect class="plate" x="12" y="12" width="436" height="496" rx="34" fill="{PLATEN}" stroke="{INK}" '
        'stroke-width="5"/>'
    )


def _posts() -> str:
    circles = "".join(f'<circle cx="{x}" cy="{y}" r="11.5"/>' for x, y in POSTS)
    return f'<g class="post" fill="{POST}" stroke="{POST_EDGE}" stroke-width="4">{circles}</g>'


def _strokes(thinner: int, fingers: Sequence[tuple[str, int]]) -> str:
    lines = [(path, width, cap) for path, width, cap in PALM] + [(path, width, "round") for path, width in fingers]
    return "".join(
        f'<path d="{path}" stroke-width="{width - thinner}" stroke-linecap="{cap}"/>' for path, width, cap in lines
    )


def _hand(lower: int = 0, fingers: Sequence[tuple[str, int]] = FINGERS, nails: str = NAILS) -> str:
    return (
        f'<g fill="none" stroke-linecap="round" stroke-linejoin="round" transform="translate(0 {lower})">'
        f'<g class="outline" stroke="{INK}">{_strokes(0, fingers)}</g>'
        f'<g class="skin" stroke="{SKIN}">{_strokes(10, fingers)}'
        f'<path d="M180 366 H290" stroke-width="64"/></g>'
        f'<path class="nail" d="{nails}" stroke="{LINES}" stroke-width="3"/></g>'
    )


def _arrows(*paths: str) -> str:
    lines = "".join(f'<path d="{path}"/>' for path in paths)
    return (
        f'<g class="arrow" fill="none" stroke="{POST_EDGE}" stroke-width="7" stroke-linecap="round" '
        f'stroke-linejoin="round">{lines}</g>'
    )


def _mark(*, is_right: bool) -> str:
    sign = "M378 74 l16 18 30 -38" if is_right else "M382 52 l40 40 M422 52 l-40 40"
    colour, name = (RIGHT, "right") if is_right else (WRONG, "wrong")
    return (
        f'<circle class="sheet" cx="402" cy="72" r="42" fill="#ffffff"/><g class="{name}" fill="none" '
        f'stroke="{colour}" stroke-linecap="round" stroke-linejoin="round"><circle cx="402" cy="72" r="38" '
        f'stroke-width="7"/><path d="{sign}" stroke-width="11"/></g>'
    )


def _from_the_side() -> str:
    """Draw a hand lying flat on the plate, as seen from the side."""
    arm = "M460 300 H340 Q290 294 250 306 H100"
    thumb = "M262 316 Q226 292 190 298"
    return (
        f'<rect class="plate" x="12" y="344" width="436" height="60" rx="14" fill="{PLATEN}" stroke="{INK}" '
        'stroke-width="5"/>'
        f'<g fill="none" stroke-linecap="round" stroke-linejoin="round"><path class="outline" d="{arm}" stroke="{INK}" '
        f'stroke-width="74"/><path class="skin" d="{arm}" stroke="{SKIN}" stroke-width="64"/>'
        f'<path class="nail" d="{thumb}" stroke="{LINES}" stroke-width="4"/></g>'
        + _arrows(
            "M150 150 V232 M150 232 l-14 -16 M150 232 l14 -16", "M290 138 V220 M290 220 l-14 -16 M290 220 l14 -16"
        )
    )


def _ring() -> str:
    return (
        f'<g class="ring" stroke="{INK}" stroke-width="4"><path d="M184 232 L241 230" stroke-width="24"/>'
        f'<path d="M186 232 L239 230" stroke="{GOLD}" stroke-width="16"/>'
        f'<path d="M213 202 l26 24 -26 30 -26 -30 z" fill="#ffffff"/></g>'
    )


def _gaps() -> str:
    """Draw a ring of dots around each post that no finger touches."""
    circles = "".join(f'<circle cx="{x}" cy="{y}" r="25"/>' for x, y in (POSTS[0], *POSTS[2:]))
    return f'<g class="wrong" fill="none" stroke="{WRONG}" stroke-width="6" stroke-dasharray="5 9">{circles}</g>'


def _stone_at_the_side() -> str:
    return (
        f'<g class="ring" stroke="{INK}" stroke-width="4"><path d="M239 205 L286 209" stroke-width="22"/>'
        f'<path d="M241 205 L284 209" stroke="{GOLD}" stroke-width="14"/>'
        f'<path d="M296 184 l20 26 -20 26 -20 -26 z" fill="#ffffff"/></g>'
    )


DRAWINGS = {
    "flat": lambda: _from_the_side() + _mark(is_right=True),
    "posts": lambda: (
        _platen()
        + _hand()
        + _posts()
        + _arrows("M116 190 h-34 M116 190 l-12 -9 M116 190 l-12 9", "M362 220 h34 M362 220 l12 -9 M362 220 l12 9")
        + _mark(is_right=True)
    ),
    "ring": lambda: _platen() + _hand() + _ring() + _mark(is_right=False),
    "apart": lambda: _platen() + _hand(fingers=APART, nails=APART_NAILS) + _posts() + _gaps(),
    "stone": lambda: _platen() + _hand() + _posts() + _stone_at_the_side(),
    "far": lambda: (
        _platen()
        + _posts()
        + _hand(lower=190)
        + _arrows("M60 420 V300 M60 300 l-14 18 M60 300 l14 18")
        + _mark(is_right=False)
    ),
}
"""What can be drawn: a hand `flat` on the plate, fingers at the `posts`, a `ring` turned up, a hand too `far` out; and
without saying whether it is right, fingers `apart` from their posts, a ring's `stone` at the side of its finger."""


def drawing(name: str, *, is_hidden: bool = False) -> str:
    """Return one of DRAWINGS as SVG; hidden from assistive software where words beside it say the same."""
    hidden = ' aria-hidden="true"' if is_hidden else ""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="hand" viewBox="0 0 {WIDTH} {HEIGHT}"{hidden}>'
        f'<clipPath id="edge-{name}"><rect width="{WIDTH}" height="{HEIGHT}"/></clipPath>'
        f'<g clip-path="url(#edge-{name})">{DRAWINGS[name]()}</g></svg>'
    )
