"""A local Bot API server: a faithful subset, in memory, on a clock that can be moved.

It speaks to the bot exactly as Telegram would, over real HTTP, errors and limits included; ``bot.rehearsal.phone`` is the other
side, what people do with their phones.
"""
