"""The gamma distribution's cumulative function and its quantiles, without a heavy library."""

from __future__ import annotations

from math import exp, lgamma, log

SMALLEST = 1e-300


def gamma_cdf(shape: float, x: float) -> float:
    """The regularised lower incomplete gamma function P(shape, x).

    Formula: the series below shape + 1, the continued fraction above.
    Source: Abramowitz and Stegun, Handbook of Mathematical Functions (1964), 6.5.29 and 6.5.31; Lentz's method.
    Valid: shape above 0, to 10^6; x of 0 and above.
    """
    if x <= 0:
        return 0.0
    front = exp(shape * log(x) - x - lgamma(shape))
    return front * _series(shape, x) if x < shape + 1 else 1 - front * _fraction(shape, x)


def gamma_quantile(shape: float, share: float) -> float:
    """The x below which a share of the distribution of this shape, and of scale 1, lies; by halving."""
    low, high = 0.0, shape + 1
    while gamma_cdf(shape, high) < share:
        high *= 2
    while high - low > 1e-13 * high:
        middle = (low + high) / 2
        low, high = (middle, high) if gamma_cdf(shape, middle) < share else (low, middle)
    return (low + high) / 2


def _series(shape: float, x: float) -> float:
    term = total = 1 / shape
    while term > 1e-17 * total:
        shape += 1
        term *= x / shape
        total += term
    return total


def _fraction(shape: float, x: float) -> float:
    b = x + 1 - shape
    c, d = 1 / SMALLEST, 1 / b
    value = d
    for step in range(1, 100_000):
        a, b = -step * (step - shape), b + 2
        d = 1 / _not_zero(b + a * d)
        c = _not_zero(b + a / c)
        value *= c * d
        if abs(c * d - 1) < 1e-15:
            break
    return value


def _not_zero(value: float) -> float:
    return value if abs(value) > SMALLEST else SMALLEST
