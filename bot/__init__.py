"""The outside: Telegram, the metronome, HTTP, the command line. Knows the domain."""
