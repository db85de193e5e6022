"""What the metronome does when something is due: for a client, for a coach, at night."""
