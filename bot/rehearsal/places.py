"""A few cities that a phone in a rehearsal can be in."""

from dataclasses import dataclass

from bot.rehearsal.botapi.models import Spot


@dataclass(frozen=True, slots=True)
class City:
    name: str
    spot: Spot
    zone: str


CITIES = (
    City("Auckland", Spot(-36.85, 174.76), "Pacific/Auckland"),
    City("Berlin", Spot(52.52, 13.40), "Europe/Berlin"),
    City("Chicago", Spot(41.88, -87.63), "America/Chicago"),
    City("Dubai", Spot(25.20, 55.27), "Asia/Dubai"),
    City("Halifax", Spot(44.65, -63.58), "America/Halifax"),
    City("Honolulu", Spot(21.31, -157.86), "Pacific/Honolulu"),
    City("Lisbon", Spot(38.72, -9.14), "Europe/Lisbon"),
    City("London", Spot(51.51, -0.13), "Europe/London"),
    City("Los Angeles", Spot(34.05, -118.24), "America/Los_Angeles"),
    City("Nairobi", Spot(-1.29, 36.82), "Africa/Nairobi"),
    City("New York", Spot(40.71, -74.01), "America/New_York"),
    City("Oslo", Spot(59.91, 10.75), "Europe/Oslo"),
    City("Reykjavik", Spot(64.15, -21.94), "Atlantic/Reykjavik"),
    City("Santiago", Spot(-33.45, -70.67), "America/Santiago"),
    City("Singapore", Spot(1.35, 103.82), "Asia/Singapore"),
    City("Sydney", Spot(-33.87, 151.21), "Australia/Sydney"),
    City("Tokyo", Spot(35.68, 139.69), "Asia/Tokyo"),
)
BY_NAME = {city.name: city for city in CITIES}
BY_SPOT = {city.spot: city for city in CITIES}
