"""The figures of a running bot, in the text format that Prometheus reads."""

from collections.abc import Iterator, Mapping, Sequence

from bot.dispatcher import Dispatcher
from bot.receiver import Receiver
from bot.sender import Sender
from core.store.state_of_queues import StateOfQueues


def metrics_text(
    state: StateOfQueues,
    receiver: Receiver,
    dispatchers: Sequence[Dispatcher],
    sender: Sender,
    *,
    at_s: float,
    ages_s: Mapping[str, float],
) -> str:
    """Prometheus' text.

    :param at_s: the present instant of the house, in seconds of the epoch.
    :param ages_s: how long ago the last of each happened: poll, tick.
    """
    oldest = 0.0 if state.oldest_to_handle is None else max(0.0, at_s - state.oldest_to_handle.timestamp())
    families = [
        _counter("received", "Updates stored since the start.", receiver.received),
        _counter("handled", "Updates handled since the start.", sum(d.handled for d in dispatchers)),
        _counter(
            "stumbled",
            "Attempts to handle an update that failed, since the start.",
            sum(d.failed for d in dispatchers),
        ),
        _counter(
            "refused", "Times the server asked us to wait (429), since the start.", sender.recorder.refused
        ),
        _ended(sender),
        _gauge("to_handle", "Updates that wait to be handled.", state.to_handle),
        _gauge("oldest_to_handle_seconds", "Age of the oldest of them.", oldest),
        _seconds_since(ages_s),
        _gauge("set_aside", "Updates of the last seven days that could not be handled.", state.set_aside),
        _by(
            "due",
            "Messages that are due, by lane.",
            "lane",
            {k.name.lower(): v for k, v in state.due.items()},
        ),
        _by(
            "to_look_at",
            "Messages of the last seven days whose end somebody may want to look at.",
            "state",
            {k.value: v for k, v in state.ended.items()},
        ),
    ]
    return "".join(line + "\n" for family in families for line in family)


def _counter(name: str, says: str, value: float) -> Iterator[str]:
    yield from _family(f"{name}_total", says, "counter")
    yield f"keptword_{name}_total {value:g}"


def _gauge(name: str, says: str, value: float) -> Iterator[str]:
    yield from _family(name, says, "gauge")
    yield f"keptword_{name} {value:g}"


def _by(name: str, says: str, label: str, values: dict[str, int]) -> Iterator[str]:
    yield from _family(name, says, "gauge")
    for key, value in values.items():
        yield f'keptword_{name}{{{label}="{key}"}} {value}'


def _seconds_since(ages_s: Mapping[str, float]) -> Iterator[str]:
    yield from _family("seconds_since", "How long ago the last one succeeded.", "gauge")
    for what, age in ages_s.items():
        yield f'keptword_seconds_since{{what="{what}"}} {age:.1f}'


def _ended(sender: Sender) -> Iterator[str]:
    yield from _family("messages_total", "Messages that ended since the start, by how.", "counter")
    for state, count in sender.recorder.ended.items():
        if count:
            yield f'keptword_messages_total{{state="{state}"}} {count}'


def _family(name: str, says: str, kind: str) -> Iterator[str]:
    yield f"# HELP keptword_{name} {says}"
    yield f"# TYPE keptword_{name} {kind}"
