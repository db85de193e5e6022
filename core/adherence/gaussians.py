"""Gaussian beliefs of many clients at once, and mixtures of two of them.

A covariance is symmetric, so only its upper triangle is kept, row after row: 21 numbers of 36, and as much less to compute.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np

from core.adherence.evidence import Array, Whole

COMPONENTS: Final = 6
PACKED: Final = COMPONENTS * (COMPONENTS + 1) // 2
_upper = np.triu_indices(COMPONENTS)
PAIR: Final = np.zeros((COMPONENTS, COMPONENTS), dtype=int)
"""Where the covariance of two components stands; ``cov[PAIR]`` is the full matrix, ``PAIR[i]`` all that is about i."""
PAIR[_upper] = PAIR[_upper[::-1]] = np.arange(PACKED)
NEGLIGIBLE: Final = -30.0  # in logarithms; what is less likely than that only slows the arithmetic


@dataclass(frozen=True, slots=True, kw_only=True)
class Gaussians:
    """Means (6, ..., B, C) and covariances (21, ..., B, C)."""

    mean: Array
    cov: Array

    def of(self, clients: Whole | slice) -> "Gaussians":
        return Gaussians(mean=self.mean[..., clients], cov=self.cov[..., clients])


def merge(one: Gaussians, log_one: Array, other: Gaussians, log_other: Array) -> tuple[Gaussians, Array]:
    """The Gaussian with the mean and covariance of a mixture of two, and the mixture's weight."""
    total = np.maximum(log_one, log_other)
    total = total + np.log(1 + np.exp(-np.abs(log_one - log_other)))
    share = np.exp(np.maximum(log_other - total, NEGLIGIBLE))
    apart = other.mean - one.mean
    mean = one.mean + share * apart
    cov = other.cov - one.cov
    cov *= share
    cov += one.cov
    cov += outer(share * (1 - share), apart)
    return Gaussians(mean=mean, cov=cov), total


def outer(factor: Array, vector: Array) -> Array:
    """The upper triangle of factor * vector * vector^T, (21, ...)."""
    packed = np.empty((PACKED, *vector.shape[1:]), dtype=vector.dtype)
    for at in range(COMPONENTS):
        first = PAIR[at, at]
        np.multiply(factor * vector[at], vector[at:], out=packed[first : first + COMPONENTS - at])
    return packed


def log_sum(terms: Array) -> Array:
    """The logarithm of the sum of exponentials over the first axis."""
    top = terms.max(axis=0)
    total: Array = top + np.log(np.exp(terms - top).sum(axis=0))
    return total


def put(whole: Gaussians, part: Gaussians, clients: Whole) -> Gaussians:
    return Gaussians(
        mean=put_array(whole.mean, part.mean, clients), cov=put_array(whole.cov, part.cov, clients)
    )


def put_array(whole: Array, part: Array, clients: Whole) -> Array:
    copy = whole.copy()
    copy[..., clients] = part
    return copy
