"""One small module a command, each with ``HELP``, ``configure(parser)`` and ``run(args) -> int``.

A module is imported whenever help is wanted, so what is heavy (numpy, SQLAlchemy, telegram) is imported inside ``run``.
"""
