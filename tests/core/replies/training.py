"""Makes the weights of the second opinion from the invented sentences that the rules were built with.

    python -m tests.core.replies.training

Multinomial logistic regression with a ridge, by gradient descent from zero: the same sentences give the same weights.
"""

from collections import Counter
from collections.abc import Sequence
from functools import cache
from pathlib import Path

import numpy as np
import numpy.typing as npt
from scipy import sparse

from core.replies import second_opinion
from core.replies.meaning import Asked
from core.replies.second_opinion import BIAS, OUTCOMES, flag_traits, outcome_traits
from core.replies.wording import plain_words
from tests.core.replies.corpora import Row, rows

DATA = Path(second_opinion.__file__).parent / "data"
RIDGE = 3e-5
STEPS = 500
STEP = 4.0
MOMENTUM = 0.9
LEAST = 16
"""Hundredths: what weighs less is not worth its line."""
Numbers = npt.NDArray[np.float64]
Example = tuple[set[str], int]


def outcome_examples(replies: Sequence[Row]) -> list[Example]:
    """The traits of each reply, and which of OUTCOMES it tells."""
    names = [outcome and outcome.value for outcome in OUTCOMES]
    return [
        (
            outcome_traits(plain_words(row["text"]).plain, Asked(row["asked"])),
            names.index(row["means"].get("outcome")),
        )
        for row in replies
    ]


def flag_examples(replies: Sequence[Row], flags: Sequence[Row]) -> list[Example]:
    """Red flags and harmless words, and every reply: most are harmless, and shall be left alone."""
    return [
        *((flag_traits(plain_words(row["text"]).plain), int(row["flag"] != "nothing")) for row in flags),
        *((flag_traits(plain_words(row["text"]).plain), int("urgent" in row["means"])) for row in replies),
    ]


def weights_of(examples: Sequence[Example], classes: int) -> dict[str, Numbers]:
    """What each trait that occurs twice is worth for each class."""
    counts = Counter(trait for traits, _ in examples for trait in traits)
    known = {trait: number for number, trait in enumerate(sorted(t for t, n in counts.items() if n > 1))}
    table, bias = _fitted(_matrix(examples, known), np.eye(classes)[[label for _, label in examples]])
    return {BIAS: bias} | {trait: table[number] for trait, number in known.items()}


def _matrix(examples: Sequence[Example], known: dict[str, int]) -> sparse.csr_matrix:
    places = [
        (line, known[trait], len(traits) ** -0.5)
        for line, (traits, _) in enumerate(examples)
        for trait in sorted(traits)
        if trait in known
    ]
    lines, columns, worth = zip(*places, strict=True)
    return sparse.csr_matrix((worth, (lines, columns)), shape=(len(examples), len(known)))


def _fitted(matrix: sparse.csr_matrix, said: Numbers) -> tuple[Numbers, Numbers]:
    turned = matrix.T.tocsr()
    table = np.zeros((matrix.shape[1], said.shape[1]))
    speed, bias = np.zeros_like(table), np.zeros(said.shape[1])
    for _ in range(STEPS):
        sums = matrix @ table + bias
        shares = np.exp(sums - sums.max(axis=1, keepdims=True))
        off = shares / shares.sum(axis=1, keepdims=True) - said
        speed = MOMENTUM * speed - STEP * (turned @ off / len(said) + RIDGE * table)
        table += speed
        bias -= STEP / 10 * off.mean(axis=0)
    return table, bias


def text_of(weights: dict[str, Numbers]) -> str:
    """One line a trait, in hundredths; what weighs next to nothing is left out."""
    lines = [(trait, [round(100 * float(one)) for one in row]) for trait, row in weights.items()]
    kept = [(trait, row) for trait, row in sorted(lines) if max(map(abs, row)) >= LEAST]
    return "".join(f"{trait}\t{' '.join(map(str, row))}\n" for trait, row in kept)


@cache
def all_weights() -> dict[str, str]:
    """The text of each file of weights, by its name."""
    replies, flags = rows("replies", "built with"), rows("red_flags", "built with")
    outcomes = weights_of(outcome_examples(replies), len(OUTCOMES))
    flagged = weights_of(flag_examples(replies, flags), 2)
    ahead = {trait: row[1:] - row[:1] for trait, row in flagged.items()}
    return {"likely_outcomes.txt": text_of(outcomes), "likely_flags.txt": text_of(ahead)}


def main() -> None:
    for name, text in all_weights().items():
        (DATA / name).write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
