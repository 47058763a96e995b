"""Published formulas of a steady queue; times in service times unless a unit is given.

`load` is arrivals a second times seconds of service [erlang]; `readers` serve one line. A queue with as much
load as readers never settles: its wait is infinite.
"""

from __future__ import annotations

import math
from decimal import Decimal, localcontext

import numpy as np

__all__ = [
    "chance_of_waiting_longer",
    "erlang_b",
    "erlang_c",
    "fixed_service_queue",
    "fixed_service_wait",
    "fixed_service_wait_near",
    "fixed_service_wait_within",
    "random_service_wait",
    "readers_for",
    "varied_service_wait",
]


def erlang_b(readers: int, load: float) -> float:
    """Return the chance that all readers are busy when nobody waits for one.

    Source: Erlang 1917, by the recursion B(0) = 1, B(k) = a B(k-1) / (k + a B(k-1)), which does not overflow.
    """
    blocked = 1.0
    for k in range(1, readers + 1):
        blocked = load * blocked / (k + load * blocked)
    return blocked


def erlang_c(readers: int, load: float) -> float:
    """Return the chance of having to wait, with random arrivals and random service (M/M/c).

    Source: Erlang 1917; Cooper, Introduction to Queueing Theory.
    """
    if load >= readers:
        return 1.0
    blocked = erlang_b(readers, load)
    return readers * blocked / (readers - load * (1 - blocked))


def random_service_wait(readers: int, load: float) -> float:
    """Return the mean wait of M/M/c: C / (c - a). Source: Erlang 1917."""
    return erlang_c(readers, load) / (readers - load) if load < readers else math.inf


def chance_of_waiting_longer(readers: int, load: float, wait: float) -> float:
    """Return the chance of waiting longer than `wait` in M/M/c: C exp(-(c - a) t). Source: Erlang 1917."""
    return erlang_c(readers, load) * math.exp(-(readers - load) * wait) if load < readers else 1.0


def varied_service_wait(load: float, cv2: float) -> float:
    """Return the mean wait at one reader whose service has squared coefficient of variation `cv2` (M/G/1).

    Source: Pollaczek 1930, Khinchine 1932.
    """
    return load * (1 + cv2) / (2 * (1 - load)) if load < 1 else math.inf


def fixed_service_wait_within(load: float, wait: float) -> float:
    """Return the chance of waiting at most `wait` at one reader with fixed service (M/D/1).

    Source: Erlang 1909, P(W <= t) = (1 - a) sum_k exp(a (t - k)) (a (k - t))^k / k!. The terms alternate and
    grow, so they are added up in as many digits as they cancel.
    """
    if load >= 1 or wait < 0:
        return 0.0
    with localcontext() as context:
        context.prec = 30 + math.ceil(2 * wait)
        a, t = Decimal(load), Decimal(wait)
        total = (a * t).exp()
        for k in range(1, math.floor(wait) + 1):
            total += (a * (t - k)).exp() * (a * (k - t)) ** k / math.factorial(k)
        return float((1 - a) * total)


def fixed_service_queue(readers: int, load: float) -> tuple[float, float]:
    """Return the mean number waiting and the chance that all readers are busy, with fixed service (M/D/c).

    Source: Crommelin 1932. Looked at one service time apart, the number present p satisfies
    p_j = sum_{k <= c} p_k Pois(j) + sum_{k > c} p_k Pois(j - k + c); cut off where nothing is left, and solved.
    """
    if load >= readers:
        return math.inf, 1.0
    from scipy.linalg import solve
    from scipy.stats import poisson

    # Each one more is rarer by about exp(-2 (1 - rho)), so that less than 1e-17 is cut off.
    most = readers + math.ceil(20 / (1 - load / readers)) + 20
    j, k = np.arange(most + 1)[:, None], np.arange(most + 1)[None, :]
    left = np.maximum(k - readers, 0)
    step = np.where(j >= left, poisson.pmf(np.maximum(j - left, 0), load), 0.0)
    equations = step - np.eye(most + 1)
    equations[-1] = 1.0  # the chances add up to one, in place of the equation that is cut off
    known = np.zeros(most + 1)
    known[-1] = 1.0
    present = solve(equations, known)
    waiting = np.maximum(np.arange(most + 1) - readers, 0)
    return float(waiting @ present), float(present[readers:].sum())


def fixed_service_wait(readers: int, load: float) -> float:
    """Return the mean wait of M/D/c: the mean number waiting over arrivals in a service time.

    Above 0.99 of full load the tail is too long to solve for, and `fixed_service_wait_near` stands in.
    Source: Crommelin 1932; Little 1961.
    """
    if load > 0.99 * readers:
        return fixed_service_wait_near(readers, load)
    return fixed_service_queue(readers, load)[0] / load if load else 0.0


def fixed_service_wait_near(readers: int, load: float) -> float:
    """Return the mean wait of M/D/c to within about 0.3 % for two to five readers at 0.8 to 0.9 of their load.

    Source: Cosmetatos 1975.
    """
    rho = load / readers
    if rho >= 1 or rho == 0:
        return math.inf if rho else 0.0
    more = (1 - rho) * (readers - 1) * (math.sqrt(4 + 5 * readers) - 2) / (16 * rho * readers)
    return 0.5 * (1 + more) * random_service_wait(readers, load)


def readers_for(arrivals_s: float, service_s: float, limit_s: float, share: float = 0.95) -> int:
    """Return the fewest readers with which `share` of the people wait at most `limit_s` [s], by M/M/c.

    `arrivals_s` is people a second, `service_s` what one takes [s]. Service at a reader varies less than M/M/c
    has it, so the answer is on the safe side.
    """
    load = arrivals_s * service_s
    readers = max(1, math.floor(load) + 1)
    while chance_of_waiting_longer(readers, load, limit_s / service_s) > 1 - share:
        readers += 1
    return readers
