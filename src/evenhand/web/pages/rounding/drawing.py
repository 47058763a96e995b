"""A mean with its interval on a line with nought in the middle."""

from __future__ import annotations

from markupsafe import Markup

from evenhand.web.marks import image

__all__ = ["draw_interval"]

HEIGHT = 22


def draw_interval(
    mean: float, low: float | None, high: float | None, reach: float, says: str, *, alarming: bool
) -> Markup:
    """Return the mark; the line runs from `-reach` to `reach`, and an alarming mean is a diamond, not a dot.

    An end of the interval that lies beyond has no bar across it.
    """

    def x(amount: float) -> str:
        return f"{min(max(50 + 48 * amount / reach, 0), 100):.2f}%"

    middle = HEIGHT // 2
    drawn = [
        f'<line class="base" x1="0" x2="100%" y1="{middle}" y2="{middle}"/>',
        f'<line class="nought" x1="50%" x2="50%" y1="1" y2="{HEIGHT - 1}"/>',
    ]
    if low is not None and high is not None:
        drawn.append(f'<line class="interval" x1="{x(low)}" x2="{x(high)}" y1="{middle}" y2="{middle}"/>')
        drawn += [
            f'<line class="interval" x1="{x(end)}" x2="{x(end)}" y1="{middle - 5}" y2="{middle + 5}"/>'
            for end in (low, high)
            if abs(end) <= reach
        ]
    shape = '<path d="M0 -6 L6 0 L0 6 L-6 0 z"/>' if alarming else '<circle r="4"/>'
    kind = "mean alarming" if alarming else "mean"
    drawn.append(
        f'<svg class="{kind}" x="{x(mean)}" y="{middle}" width="1" height="1" overflow="visible">{shape}</svg>'
    )
    return image("spread", says, "".join(drawn), f' height="{HEIGHT}"')
