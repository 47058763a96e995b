"""What an adapting reference does to scores: it hides drift, heals accepted steps, and learns a reader's dirt.

One feature of a hand wanders with variance q a visit, is presented with variance r, and the reference moves by the
share a towards each accepted presentation. The score looks at the difference of presentation and reference.

Source: Muth (1960), J. American Statistical Association 55:299-306, and the steady-state Kalman gain; Durbin and
Koopman, Time Series Analysis by State Space Methods, chapter 2.
"""

from __future__ import annotations

import math

__all__ = [
    "autocovariance",
    "best_adaptation",
    "difference_variance",
    "first_comparison_variance",
    "offset_learnt",
    "plateau",
    "return_variance",
    "visits_to_heal",
]


def difference_variance(q: float, r: float, a: float) -> tuple[float, float]:
    """Return the long-run variance of presentation minus reference, and of the reference's error before a visit."""
    return (q + 2 * a * r) / (a * (2 - a)), (q + a * a * r) / (a * (2 - a))


def autocovariance(q: float, r: float, a: float, lag: int) -> float:
    """Return the covariance of two differences `lag` visits apart; 0 only at the best adaptation."""
    _, error = difference_variance(q, r, a)
    return (1 - a) ** (lag - 1) * ((1 - a) * error - a * r)


def best_adaptation(q: float, r: float) -> float:
    """Return the share a that keeps the differences smallest."""
    ratio = q / r
    return (-ratio + math.sqrt(ratio * ratio + 4 * ratio)) / 2


def plateau(drift: float, a: float) -> float:
    """Return the offset at which a hand that drifts steadily per visit settles: a raised level, never a ramp."""
    return drift / a


def visits_to_heal(share: float, a: float) -> int:
    """Return the accepted visits until `share` of a step is left; a refused step never heals."""
    return math.ceil(math.log(share) / math.log(1 - a))


def offset_learnt(offset: float, share: float, a: float) -> tuple[float, float]:
    """Return the excess squared distance at a reader with `offset` and elsewhere, once a reference has learnt it.

    `share` of the visits are at that reader, to one reference. The elsewhere looks worse: so changes of a reader
    are dated by the first visits after them. The reference wanders between the two, which is the second term.
    """
    wandering = share * (1 - share) * a / (2 - a)
    return offset**2 * ((1 - share) ** 2 + wandering), offset**2 * (share**2 + wandering)


def return_variance(q_day: float, r: float, days: float) -> float:
    """Return the variance of the first difference after `days` away, at the best daily adaptation."""
    return r * best_adaptation(q_day, r) + q_day * days + r


def first_comparison_variance(r: float, n: int) -> float:
    """Return the variance of the first comparison with a reference that is the mean of `n` presentations."""
    return r * (1 + 1 / n)
