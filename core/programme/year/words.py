"""The year in words: a line a block, then what was given up."""

from collections.abc import Sequence

from core.programme.year.plan import PlannedBlock, YearPlan
from core.terms import Block


def year_words(plan: YearPlan) -> str:
    lines = [f"{plan.weeks} weeks from {plan.start:%-d %B %Y}", ""]
    lines += [block_words(each) for each in plan.blocks]
    if plan.given_up:
        lines += ["", "Given up:", *(f"– {each.what}: {each.why}." for each in plan.given_up)]
    return "\n".join(lines)


def block_words(each: PlannedBlock) -> str:
    """'4 Jan to 21 Feb: hypertrophy, 7 weeks, easier from 15 Feb; for Opening night'."""
    said = f"{each.first:%-d %b} to {each.last:%-d %b}: {each.block}, {each.weeks} {'week' if each.weeks == 1 else 'weeks'}"
    if each.deloads:
        said += f", easier from {_listed([f'{day:%-d %b}' for day in each.deloads])}"
    if each.block is Block.RETURN:
        caps = [f"{round(100 * share_of_week(week))} %" for week in range(1, each.weeks + 1)]
        said += f", at most {_listed(caps)} of the usual"
    return said + (f"; for {_listed(list(each.serves))}" if each.serves else "")


def share_of_week(week: int) -> float:
    """The part of the usual volume that is allowed in the 1st, 2nd, 3rd, 4th week back: cuts of 50, 30, 20 and 10 %.

    Caterisano et al. 2019, Strength Cond J 41(3):1-23; all of it from the fifth week on.
    """
    return {1: 0.5, 2: 0.7, 3: 0.8, 4: 0.9}.get(week, 1.0)


def _listed(words: Sequence[str]) -> str:
    return " and ".join(filter(None, (", ".join(words[:-1]), words[-1])))
