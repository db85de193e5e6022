"""What is kept, and why: the answer to /privacy."""

POLICY = """<b>What is kept, and why</b>
Your coach runs this bot. To plan and count your training it keeps: your name as your coach wrote it, your Telegram account's number, \
where you live and travel (city, zone, country), what you said at the start (experience, complaints, goal, screening), promises and \
sessions and how they ended, sleep and effort as you tell them, and what you write.

Words, sleep and health are encrypted on the disk, the key kept apart. The raw text of messages is blanked a week after it was handled.

Who sees it: you (/mine) and your coach. It is not sold, not shown to anyone else, and nothing is trained on it beyond the forecast \
of this installation. Messages travel through Telegram, under Telegram's own policy.

You can take it along (/export), remove it all at once (/erase), pause (/pause) or end it (/stop). Copies in backups are gone when the \
backups expire. If data of yours should ever be exposed, your coach will tell you.

This is no medical device: it neither examines nor diagnoses. In an emergency call the emergency number."""

ERASE = (
    "This removes everything held about you, for good and at once: sessions, sleep, words, trips. Your coach is told only that you "
    "left. You may want /export first. Remove it all?"
)
ERASED = "Everything about you has been removed. Thank you for having been here. Goodbye."
STRANGER = "I only talk with coaches and their clients. If you were invited, please open the link that you were sent."
BAD_LINK = "That link does not work (any more). Please ask for a new one."
