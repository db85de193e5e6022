"""How invented people put things. Each list is one thing meant; ``{}`` stands for a number or a day."""

DONE = (
    "done",
    "Done!",
    "did it",
    "all done, felt good",
    "yep done",
    "finished just now",
    "did the whole thing",
    "trained, legs are jelly now",
    "session done before the get-in",
    "Done. {} min",
    "did it, {} minutes",
    "all done in the hotel gym",
    "done, knackered but happy",
)
SHORT = (
    "did half",
    "only managed {} min",
    "just {} minutes, then the call came",
    "did a short one",
    "started but had to stop after {} min",
    "managed half of it",
)
MISSED = (
    "can't today",
    "not today, sorry",
    "didn't make it",
    "no time, the load-in ran over",
    "skipped it",
    "nope, watch got swapped",
    "didn't train today",
)
MOVE = ("move it to {}", "can we do {} instead?", "{} instead please", "not today, {}")
LATER = ("later", "not yet", "will do it tonight", "still on the bus, later")
SLEPT = ("{}", "slept {}", "about {}", "{} hours", "slept {} h, ok")
EFFORT = ("{}", "about {}", "{} out of 10")
EXTRA = (
    "did an extra session, {} min",
    "trained {} minutes on my own today",
    "extra one today, {} min with bands",
)
ILL = (
    "I've got a cold, staying in bed",
    "feeling ill, fever since last night",
    "I'm sick today",
    "down with the flu",
)
QUESTIONS = (
    "should I go heavier on the squats?",
    "is it ok to train twice on Saturday?",
    "what shoes for the deck?",
    "can I swap the push-ups for dips?",
    "do I need a longer warm-up when it is cold on deck?",
)
FIGURES = ("that hill nearly killed me", "thought my heart would stop on that last set")
SIGNS = ("bit of a tight chest on the last set, fine now", "felt dizzy and had chest pain on the stairs")
PAINS = ("my lower back hurts a bit", "knee hurts when I squat", "shoulder is sore in a bad way")
THANKS = ("thanks!", "cheers", "thank you")
SMALL_TALK = ("we open tonight, wish me luck", "swell is up, everybody is green", "the truck is late again")
BACK = ("hey, I'm still alive", "sorry, it has been a lot", "back from the dead")
COACH_ANSWERS = (
    "Yes, but keep two repetitions in hand.",
    "Good question: stay as you are this week, and we look at it on Sunday.",
    "Take it easy and tell me on Friday how it went.",
)
COACH_NOTES = (
    "spoke on the phone, seen by a doctor, cleared to train",
    "seen by the ship's medic, all clear",
)
