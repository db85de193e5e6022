"""People as they are looked up."""

import unicodedata

import pytest

from core.people.model import Client, Coach
from core.store import house
from core.store.engine import Store


@pytest.mark.parametrize("typed", ["Åsa Öberg", "åsa öberg", "ÅSA ÖBERG", " Åsa Öberg ", "Åsa  Öberg"])
async def test_a_name_is_found_however_it_is_typed(store: Store, typed: str) -> None:
    """SQLite knows the small letters of English alone, and some keyboards write a letter and its ring apart."""
    async with store.begin() as tx:
        coach = await house.coaches.add(tx, Coach(id=0, name="Ines Prado"))
        for name in ("Åsa Öberg", "Asa Oberg"):
            await house.clients.add(tx, Client(id=0, coach_id=coach.id, name=name))
        for form in ("NFC", "NFD"):
            found = await house.person_by_name(tx, unicodedata.normalize(form, typed))
            assert [client.name for client in found] == ["Åsa Öberg"]
