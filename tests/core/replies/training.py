"""Makes the weights of the second opinion from the invented sentences that the rules were built with.

    python -m tests.core.replies.training

Multinomial logistic regression with a ridge that bears harder on what is common; the same sentences give the same weights.
"""

from collections import Counter
from collections.abc import Sequence
from functools import cache
from pathlib import Path

import numpy as np
import numpy.typing as npt
from scipy import sparse
from scipy.optimize import minimize

from core.replies import second_opinion
from core.replies.meaning import Asked
from core.replies.second_opinion import BIAS, OUTCOMES, flag_traits, outcome_traits
from core.replies.wording import plain_words
from tests.core.replies.corpora import Row, rows

DATA = Path(second_opinion.__file__).parent / "data"
RIDGE_OF_OUTCOMES, RIDGE_OF_FLAGS = 1e-5, 3e-5
RARITY = 1.25
"""How much more freely a trait is weighed the fewer messages have it: the power of the log of their share."""
STEPS = 250
TENTHS = 10
LEAST = 5
"""Tenths: what weighs less is not worth its line (cross-validated: no worse, at two thirds of the size)."""
RARE = 3
"""A trait that fewer messages have teaches nothing that holds for others."""
OF_FLAGS, OF_CARE = 0.66, 0.06
"""The shares that all sentences written about red flags have in the learning, and all replies that tell of pain or illness; the other
replies have the rest. So it does not depend on how many of each have been written."""
Numbers = npt.NDArray[np.float64]
Example = tuple[set[str], int, float]
"""Traits, class and weight."""


def outcome_examples(replies: Sequence[Row]) -> list[Example]:
    """The traits of each reply, and which of OUTCOMES it tells."""
    names = [outcome and outcome.value for outcome in OUTCOMES]
    return [
        (
            outcome_traits(plain_words(row["text"]).plain, Asked(row["asked"])),
            names.index(row["means"].get("outcome")),
            1.0,
        )
        for row in replies
    ]


def flag_examples(replies: Sequence[Row], flags: Sequence[Row]) -> list[Example]:
    """Red flags and harmless words, and every reply: most are harmless, and shall be left alone."""
    of_care = [row for row in replies if CARE & row["means"].keys()]
    others = [row for row in replies if not CARE & row["means"].keys()]
    return [
        *_weighed([(row["text"], row["flag"] != "nothing") for row in flags], OF_FLAGS),
        *_weighed([(row["text"], "urgent" in row["means"]) for row in of_care], OF_CARE),
        *_weighed([(row["text"], "urgent" in row["means"]) for row in others], 1 - OF_FLAGS - OF_CARE),
    ]


CARE = frozenset({"pain", "unwell", "urgent"})


def _weighed(sentences: Sequence[tuple[str, bool]], share: float) -> list[Example]:
    each = share / len(sentences)
    return [(flag_traits(plain_words(text).plain), int(flag), each) for text, flag in sentences]


def weights_of(examples: Sequence[Example], classes: int, ridge: float) -> dict[str, Numbers]:
    """What each trait that is not too rare is worth for each class."""
    counts = Counter(trait for traits, _, _ in examples for trait in traits)
    known = {trait: number for number, trait in enumerate(sorted(t for t, n in counts.items() if n >= RARE))}
    scale = np.array([(np.log(len(examples) / (counts[trait] + 1)) / 5) ** RARITY for trait in known])
    matrix = _matrix(examples, known) @ sparse.diags(scale)
    counted = np.array([weight for _, _, weight in examples])
    table, bias = _fitted(
        matrix.tocsr(), np.eye(classes)[[label for _, label, _ in examples]], counted, ridge
    )
    return {BIAS: bias} | {trait: table[number] * scale[number] for trait, number in known.items()}


def _matrix(examples: Sequence[Example], known: dict[str, int]) -> sparse.csr_matrix:
    places = [
        (line, known[trait], len(traits) ** -0.5)
        for line, (traits, _, _) in enumerate(examples)
        for trait in sorted(traits)
        if trait in known
    ]
    lines, columns, worth = zip(*places, strict=True)
    return sparse.csr_matrix((worth, (lines, columns)), shape=(len(examples), len(known)))


def _fitted(
    matrix: sparse.csr_matrix, said: Numbers, counted: Numbers, ridge: float
) -> tuple[Numbers, Numbers]:
    turned, (width, classes) = matrix.T.tocsr(), (matrix.shape[1], said.shape[1])
    each = (counted / counted.sum())[:, None]

    def loss(flat: Numbers) -> tuple[float, Numbers]:
        table, bias = flat[: width * classes].reshape(width, classes), flat[width * classes :]
        sums = matrix @ table + bias
        sums -= sums.max(axis=1, keepdims=True)
        powers = np.exp(sums)
        total = powers.sum(axis=1, keepdims=True)
        lost = float((each * (np.log(total) - (sums * said).sum(axis=1, keepdims=True))).sum())
        off = (powers / total - said) * each
        slope = turned @ off + ridge * table
        return lost + ridge / 2 * float((table**2).sum()), np.concatenate([slope.ravel(), off.sum(axis=0)])

    start = np.zeros(width * classes + classes)
    found = minimize(loss, start, jac=True, method="L-BFGS-B", options={"maxiter": STEPS, "ftol": 1e-11}).x
    return found[: width * classes].reshape(width, classes), found[width * classes :]


def text_of(weights: dict[str, Numbers]) -> str:
    """One line a trait, in tenths; what weighs next to nothing is left out."""
    lines = [(trait, [round(TENTHS * float(one)) for one in row]) for trait, row in weights.items()]
    kept = [(trait, row) for trait, row in sorted(lines) if max(map(abs, row)) >= LEAST or trait == BIAS]
    return "".join(f"{trait}\t{' '.join(map(str, row))}\n" for trait, row in kept)


@cache
def all_weights() -> dict[str, str]:
    """The text of each file of weights, by its name."""
    return weights_from(rows("replies", "built with"), rows("red_flags", "built with"))


def weights_from(replies: Sequence[Row], flags: Sequence[Row]) -> dict[str, str]:
    outcomes = weights_of(outcome_examples(replies), len(OUTCOMES), RIDGE_OF_OUTCOMES)
    flagged = weights_of(flag_examples(replies, flags), 2, RIDGE_OF_FLAGS)
    ahead = {trait: row[1:] - row[:1] for trait, row in flagged.items()}
    return {"likely_outcomes.txt": text_of(outcomes), "likely_flags.txt": text_of(ahead)}


def main() -> None:
    for name, text in all_weights().items():
        (DATA / name).write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
