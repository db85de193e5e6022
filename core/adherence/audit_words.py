"""The audit in words that a coach reads."""

from core.adherence.audit import OURS, Audit
from core.adherence.audit_choice import Excess
from core.adherence.scoring import Bin
from core.how_many import how_many

FEW = 20  # weeks; fewer say little


def in_words(audit: Audit) -> list[str]:
    """Sentences, most important first; one where there is nothing to judge yet."""
    if not audit.weeks:
        return ["There is no past week to judge yet: forecasts can be audited from the second week on."]
    bins = [said_and_kept(one) for one in reversed(audit.issued)]
    about = [on_the_whole(audit.excess)] if audit.excess else []
    ours = audit.chosen[OURS]
    about += [where_chosen(ours, audit.confidence)] if ours else []
    return [headline(audit), *bins, *about, _beside_rules(audit)]


def headline(audit: Audit) -> str:
    """The footnote of a digest: the commonest forecast and what came of it."""
    if not audit.issued:
        return "Our own record begins next week."
    return said_and_kept(max(audit.issued, key=lambda one: one.n))


def said_and_kept(one: Bin) -> str:
    few = (
        ", too few to tell"
        if one.n < FEW
        else f"; chance alone allows {round(100 * one.low)} to {round(100 * one.high)} %"
    )
    return f"When we said {round(100 * one.said)} %, {round(100 * one.kept)} % were kept ({how_many(one.n, 'week')}{few})."


def on_the_whole(whole: Excess) -> str:
    return f"On the whole we said {_points(whole)}."


def where_chosen(chosen: Excess, confidence: float) -> str:
    """What choosing by the odds costs: the largest that seems to be kept is often a lucky error."""
    return (
        f"Choosing the most sessions that seemed to reach {round(100 * confidence)} %, we would have said"
        f" {round(100 * chosen.said)} %, and {round(100 * chosen.kept)} % were kept ({how_many(chosen.n, 'week')}): {_points(chosen)}."
    )


def _points(found: Excess) -> str:
    less_or_more = "less" if found.by < 0 else "more"
    told = f"{abs(100 * found.by):.1f} points {less_or_more} than was kept"
    if found.interval is None:
        return told
    low, high = found.interval
    return f"{told}, give or take {50 * (high - low):.1f}"


def _beside_rules(audit: Audit) -> str:
    ours = audit.methods[OURS].log_loss
    name, best = min(
        ((name, score.log_loss) for name, score in audit.methods.items() if name != OURS),
        key=lambda pair: pair[1],
    )
    better = "more" if ours < best else "less"
    scores = f"log loss {ours:.3f} against {best:.3f}"
    return f"Over {how_many(audit.weeks, 'week')} this told {better} than the best simple rule, the {name} ({scores})."
