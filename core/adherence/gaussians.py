"""Gaussian beliefs of many clients at once, and mixtures of two of them."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from core.adherence.evidence import Array, Whole

NEGLIGIBLE: Final = -30.0  # in logarithms; what is less likely than that only slows the arithmetic


@dataclass(frozen=True, slots=True, kw_only=True)
class Gaussians:
    """Means (6, ..., B, C) and covariances (6, 6, ..., B, C)."""

    mean: Array
    cov: Array

    def of(self, clients: Whole | slice) -> "Gaussians":
        return Gaussians(mean=self.mean[..., clients], cov=self.cov[..., clients])


def merge(one: Gaussians, log_one: Array, other: Gaussians, log_other: Array) -> tuple[Gaussians, Array]:
    """The Gaussian with the mean and covariance of a mixture of two, and the mixture's weight."""
    total = np.logaddexp(log_one, log_other)
    share = np.exp(np.maximum(log_other - total, NEGLIGIBLE))
    apart = other.mean - one.mean
    mean = one.mean + share * apart
    cov = other.cov - one.cov
    cov *= share
    cov += one.cov
    cov += (share * (1 - share) * apart)[:, None] * apart[None]
    return Gaussians(mean=mean, cov=cov), total


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
