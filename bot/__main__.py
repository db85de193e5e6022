"""``python -m bot`` is the command ``keptword``."""

from bot.cli import main

raise SystemExit(main())
