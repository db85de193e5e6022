"""A client sees what the coach sees of them."""

from core.store.engine import Store
from tests.playhouse import CLIENT_ID, Play, said_to


async def test_what_was_said_stands_on_the_day_that_it_was_where_it_was_said(store: Store) -> None:
    """Wednesday noon in Greenwich is Thursday in Auckland."""
    play = Play(store)
    await play.coach()
    await play.client(zone="Pacific/Auckland", country="NZ", place="Auckland")
    await play.says(CLIENT_ID, "my knee hurts")
    assert "Thu 26 Nov, you: my knee hurts" in said_to(await play.says(CLIENT_ID, "/mine"), CLIENT_ID)
