"""The programme: movements, blocks and the year, the week, one session, progression, and spreadsheets of them all."""
