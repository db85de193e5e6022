"""One invented client: reads what comes, lives by a temper, and answers late, in words, twice, from the road, or not at all."""

import datetime as dt
import random
import zoneinfo
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from bot.rehearsal.botapi.models import Message
from bot.rehearsal.people import sayings
from bot.rehearsal.people.plans import Agenda, Deed, when_awake
from bot.rehearsal.people.sight import Sight, labels_of, number_in, session_in
from bot.rehearsal.temper import Ending, Temper, ending_of, minutes_until_answer

TAPS = {Ending.DONE: "Done", Ending.SHORT: "A short one", Ending.MISSED: "Can't "}
WORDS = {Ending.DONE: sayings.DONE, Ending.SHORT: sayings.SHORT, Ending.MISSED: sayings.MISSED}
FIRST_ANSWERS = ("I agree", "45", "Nothing hurts", "None of these", "8 h", "Yes, that", "Yes")
CITIES = ("Lisbon", "Singapore", "Oslo", "Chicago", "Dubai", "Berlin", "Sydney")


@dataclass(slots=True, kw_only=True)
class ClientPerson:
    """``zone`` and ``away`` are where they are now; the crowd keeps both true."""

    chat: int
    name: str
    temper: Temper
    chance: random.Random
    agenda: Agenda
    zone: str
    away: bool = False
    city: str = ""
    promised: int = 2
    drifting: bool = False
    ill_until: dt.date | None = None
    fates: dict[int, Ending] = field(default_factory=dict)  # by the message that asked

    # Reading

    def read(self, message: Message, sight: Sight, at: dt.datetime) -> None:
        """See a message of the bot's, and make up one's mind."""
        if self.drifting and not self._comes_back(sight):
            return
        reading = READINGS.get(sight)
        if reading is not None:
            reading(self, message, at)

    def _comes_back(self, sight: Sight) -> bool:
        if sight is Sight.WEEKLY and self.chance.random() < self.temper.returns:
            self.drifting = False
        return not self.drifting

    def home(self, message: Message, at: dt.datetime) -> None:
        del message
        self._say(at, self.chance.uniform(0.3, 2), self.city)

    def question(self, message: Message, at: dt.datetime) -> None:
        """One of the first questions: nothing to declare, the rest as it comes."""
        labels = [label for label in labels_of(message) if label != "Back"]
        known = [label for want in FIRST_ANSWERS for label in labels if label.startswith(want)]
        self._tap(
            at, self.chance.uniform(0.1, 1.5), known[0] if known else self._pick(tuple(labels)), message
        )

    def prompt(self, message: Message, at: dt.datetime) -> None:
        today = self._local(at).date()
        begins, minutes = session_in(message.text, today)
        start = begins.replace(tzinfo=zoneinfo.ZoneInfo(self.zone)).astimezone(dt.UTC)
        if "did you sleep" in message.text and self.chance.random() < 0.6:
            hours = round(min(9.5, max(4.0, self.chance.gauss(7.1, 1.0))) * 2) / 2
            self._say(at, self.chance.uniform(1, 12), self._pick(sayings.SLEPT).format(f"{hours:g}"))
        if self.chance.random() > self.temper.answers:
            return
        ending = ending_of(self.temper, self.chance, promised=self.promised, away=self.away)
        self.fates[message.id] = ending
        if ending in {Ending.DONE, Ending.SHORT}:
            self._train(message, at, start, minutes, ending)
        else:
            self._decline(message, at, ending)

    def _train(
        self, message: Message, at: dt.datetime, start: dt.datetime, minutes: int, ending: Ending
    ) -> None:
        if self.chance.random() < 0.35:
            self._tap(start, -5, "Show the session", message)
        elif self.chance.random() < 0.05:
            self._say(at, 3, self._pick(sayings.LATER))
        over = max(start, at) + dt.timedelta(minutes=minutes if ending is Ending.DONE else minutes // 2)
        self._answer(message, over, ending, minutes)

    def _decline(self, message: Message, at: dt.datetime, ending: Ending) -> None:
        if ending is Ending.MISSED:
            self._answer(message, at, ending, 0)
        elif self.chance.random() < self.temper.words:
            day = (self._local(at) + dt.timedelta(days=self.chance.choice((1, 2)))).strftime("%A")
            self._say(at, self._late(), self._pick(sayings.MOVE).format(day))
        else:
            self._tap(at, self._late(), "Another day", message)

    def _answer(self, message: Message, at: dt.datetime, ending: Ending, minutes: int) -> None:
        """By button or in words, and now and then twice."""
        late = self._late()
        if self.chance.random() < self.temper.words:
            spoken = self._pick(WORDS[ending])
            words = spoken.format(minutes if ending is Ending.DONE else max(5, minutes // 2))
            as_reply = self.chance.random() < 0.3
            self._add(at, late, Deed.REPLY if as_reply else Deed.SAY, words, message.id)
        else:
            self._tap(at, late, TAPS[ending], message)
        if self.chance.random() < self.temper.muddles:
            again = ending if self.chance.random() < 0.7 else self._pick(tuple(TAPS))
            self._tap(at, late + self.chance.uniform(0.2, 30), TAPS[Ending(again)], message)

    def follow_up(self, message: Message, at: dt.datetime) -> None:
        if self.chance.random() > self.temper.answers * 0.8:
            return
        ending = ending_of(self.temper, self.chance, promised=self.promised, away=self.away)
        if ending in {Ending.DONE, Ending.SHORT} and self.chance.random() < self.temper.words:
            self._say(at, self._late(), self._pick(WORDS[ending]).format(25))
            return
        self._tap(
            at,
            self._late(),
            TAPS[ending] if ending in {Ending.DONE, Ending.SHORT} else "Not this time",
            message,
        )

    def session(self, message: Message, at: dt.datetime) -> None:
        """The last piece of a session that was opened: mostly the answer is under way already."""
        if self.chance.random() < 0.25:
            self._tap(at, self.chance.uniform(12, 50), "Done", message)

    def offer(self, message: Message, at: dt.datetime) -> None:
        self.promised = number_in(message.text) or self.promised
        if self.chance.random() > self.temper.takes_days:
            return
        labels = ("That fits",) * 8 + ("Pick days", "Another number", "Another time")
        self._tap(at, self._late(), self._pick(labels), message)

    def yes(self, message: Message, at: dt.datetime) -> None:
        if self.chance.random() < 0.6:
            label = next(label for label in labels_of(message) if label.startswith("Yes, "))
            self._tap(at, self._late(), label, message)

    def days(self, message: Message, at: dt.datetime) -> None:
        """Choose days one after another, then say so."""
        wanted = number_in(message.text.replace("day", "session")) or 1
        free = [label for label in labels_of(message) if "•" not in label and label != "Yes, these"]
        for minute, label in enumerate(self.chance.sample(free, min(wanted, len(free))), start=1):
            self._tap(at, minute * 0.2, label, message)
        self._tap(at, 2.5, "Yes, these", message)

    def fewer(self, message: Message, at: dt.datetime) -> None:
        labels = labels_of(message)
        wanted = max(1, self.promised + self.chance.choice((-1, -1, 1)))
        label = str(wanted) if str(wanted) in labels else labels[0]
        self._tap(at, 1, label, message)

    def effort(self, message: Message, at: dt.datetime) -> None:
        rating = self.chance.choice((4, 5, 6, 6, 7, 7, 8))
        roll = self.chance.random()
        if roll < 0.55:
            self._tap(at, 1, str(rating), message)
        elif roll < 0.55 + 0.2 * self.temper.words:
            self._say(at, 1.5, self._pick(sayings.EFFORT).format(rating))
        elif roll > 0.985:
            self._tap(at, 2, "Take it back", message)

    def repair(self, message: Message, at: dt.datetime) -> None:
        label = self._pick(("Another day", "Another day", "Ten minutes now", "Let it go", "", ""))
        if label in labels_of(message):
            self._tap(at, self.chance.uniform(0.5, 6), label, message)

    def move(self, message: Message, at: dt.datetime) -> None:
        self._tap(at, 0.5, self._pick(tuple(labels_of(message))), message)

    def clash(self, message: Message, at: dt.datetime) -> None:
        self._tap(at, 0.5, self._pick(("Both", "Swap")), message)

    def extra(self, message: Message, at: dt.datetime) -> None:
        if self.chance.random() < self.temper.extras:
            self._tap(at, self._late(), "Show me", message)
        elif self.chance.random() < 0.3:
            self._tap(at, self._late(), "Not this week", message)

    def better(self, message: Message, at: dt.datetime) -> None:
        well = self.ill_until is None or self._local(at).date() > self.ill_until
        if self.chance.random() < self.temper.answers:
            self._tap(at, self._late(), "Better, back on" if well else "Not yet", message)

    def manner(self, message: Message, at: dt.datetime) -> None:
        self._tap(at, self.chance.uniform(1, 40), "No, a figure of speech", message)

    def sleep(self, _message: Message, at: dt.datetime) -> None:
        if self.chance.random() < self.temper.answers * 0.85:
            hours = round(min(9.5, max(4.0, self.chance.gauss(7.0, 1.0))) * 2) / 2
            self._say(at, self._late() / 2, self._pick(sayings.SLEPT).format(f"{hours:g}"))

    def weekly(self, message: Message, at: dt.datetime) -> None:
        self._tap(at, self._late(), self._pick(("Done", "Show me ten", "Not this week")), message)

    def welcome(self, message: Message, at: dt.datetime) -> None:
        if self.chance.random() < 0.3:
            self._tap(at, 3, "I did train", message)
            self._say(at, 5, self._pick(("Tuesday", "Tuesday and Friday", "Monday and Thursday")))

    def room(self, message: Message, at: dt.datetime) -> None:
        self._tap(at, 2, self._pick(("a hotel gym", "no equipment", "dumbbells")), message)

    # A week of one's own

    def begin_week(self, at: dt.datetime) -> None:
        """What the week will bring that nobody asked about. ``at``: somewhere on its Monday."""
        temper, roll = self.temper, self.chance.random
        if self.drifting:
            if roll() < temper.returns * 0.5:
                self._some_day(at, self._pick(sayings.BACK))
                self.agenda.add(at, self.chat, Deed.RETURN)
            return
        if roll() < temper.drifts:
            self.agenda.add(at + dt.timedelta(hours=self.chance.uniform(0, 120)), self.chat, Deed.DRIFT)
            return
        self._take_notions(at)

    def _take_notions(self, at: dt.datetime) -> None:
        """Things that come to mind in a week, each by itself."""
        temper, roll = self.temper, self.chance.random
        minutes = self.chance.choice((20, 30, 40))
        for share, words in (
            (temper.extras, sayings.EXTRA),
            (temper.wonders, sayings.QUESTIONS),
            (temper.hurts, sayings.PAINS),
            (4 * temper.alarms, sayings.FIGURES),
            (temper.alarms, sayings.SIGNS),
            (0.06, (*sayings.SMALL_TALK, *sayings.THANKS)),
            (temper.pauses, ("/pause",)),
        ):
            if roll() < share:
                self._some_day(at, self._pick(words).format(minutes))
        if roll() < temper.stops:
            day = self._some_day(at, self._pick(("/stop", "stop")))
            self.agenda.add(
                when_awake(day + dt.timedelta(days=self.chance.uniform(2, 12)), self.zone),
                self.chat,
                Deed.SAY,
                "back",
            )
        if roll() < temper.blocks:
            day = when_awake(at + dt.timedelta(days=self.chance.uniform(0, 6)), self.zone)
            self.agenda.add(day, self.chat, Deed.BLOCK)
            self.agenda.add(
                when_awake(day + dt.timedelta(days=self.chance.uniform(1, 9)), self.zone),
                self.chat,
                Deed.UNBLOCK,
            )
        if roll() < temper.colds:
            day = self._some_day(at, self._pick(sayings.ILL))
            self.ill_until = self._local(day).date() + dt.timedelta(days=self.chance.choice((2, 3, 5)))
        if roll() < temper.wanders and not self.away:
            self._tell_trip(at)

    def pause(self, message: Message, at: dt.datetime) -> None:
        self._tap(at, 1, self._pick(tuple(labels_of(message))), message)
        if self.chance.random() < 0.4:
            self._say(at, self.chance.uniform(2000, 9000), "back")

    def _tell_trip(self, at: dt.datetime) -> None:
        first = self._local(at).date() + dt.timedelta(days=self.chance.randint(4, 10))
        last = first + dt.timedelta(days=self.chance.randint(2, 6))
        city = self._pick(CITIES)
        self._some_day(at, f"in {city} from {first.day} {first:%b} to {last.day} {last:%b}", within=2.5)

    def _some_day(self, at: dt.datetime, words: str, *, within: float = 6.5) -> dt.datetime:
        day = at + dt.timedelta(days=self.chance.uniform(0.2, within))
        self.agenda.add(when_awake(day, self.zone), self.chat, Deed.SAY, words)
        return day

    # Small things

    def _late(self) -> float:
        return minutes_until_answer(self.temper, self.chance, away=self.away)

    def _pick(self, choice: tuple[str, ...]) -> str:
        return self.chance.choice(choice)

    def _say(self, at: dt.datetime, minutes: float, words: str) -> None:
        self._add(at, minutes, Deed.SAY, words, 0)

    def _tap(self, at: dt.datetime, minutes: float, label: str, message: Message) -> None:
        self._add(at, minutes, Deed.TAP, label, message.id)

    def _add(self, at: dt.datetime, minutes: float, deed: Deed, words: str, message: int) -> None:
        when = (at + dt.timedelta(minutes=minutes)).replace(microsecond=0)
        self.agenda.add(when_awake(when, self.zone), self.chat, deed, words, message)

    def _local(self, at: dt.datetime) -> dt.datetime:
        return at.astimezone(zoneinfo.ZoneInfo(self.zone))


READINGS: Mapping[Sight, Callable[[ClientPerson, Message, dt.datetime], None]] = {
    Sight.HOME: ClientPerson.home,
    Sight.QUESTION: ClientPerson.question,
    Sight.PROMPT: ClientPerson.prompt,
    Sight.FOLLOW_UP: ClientPerson.follow_up,
    Sight.SESSION: ClientPerson.session,
    Sight.OFFER: ClientPerson.offer,
    Sight.YES: ClientPerson.yes,
    Sight.DAYS: ClientPerson.days,
    Sight.FEWER: ClientPerson.fewer,
    Sight.EFFORT: ClientPerson.effort,
    Sight.REPAIR: ClientPerson.repair,
    Sight.MOVE: ClientPerson.move,
    Sight.CLASH: ClientPerson.clash,
    Sight.EXTRA: ClientPerson.extra,
    Sight.BETTER: ClientPerson.better,
    Sight.MANNER: ClientPerson.manner,
    Sight.SLEEP: ClientPerson.sleep,
    Sight.WEEKLY: ClientPerson.weekly,
    Sight.WELCOME: ClientPerson.welcome,
    Sight.ROOM: ClientPerson.room,
    Sight.PAUSE: ClientPerson.pause,
}
