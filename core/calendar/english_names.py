"""What cities are called in English, where the gazetteer keeps the name of the country or a long one.

Every name stays a name to look a city up by. Accents are left out throughout, as an English keyboard leaves them out.
"""

from core.calendar.gazetteer import fold, unaccented

_NAMES = """
AR San Miguel de Tucumán = Tucuman
BE Brugge = Bruges | Gent = Ghent | Ieper = Ypres
CA Greater Sudbury = Sudbury | Québec = Quebec City
CH Luzern = Lucerne
CN Xi’an = Xi'an
DE Braunschweig = Brunswick | Frankfurt am Main = Frankfurt | Hannover = Hanover | Konstanz = Constance | Köln = Cologne
DK Århus = Aarhus | Helsingør = Elsinore
EG Sharm el-Sheikh = Sharm el Sheikh
ES A Coruña = La Coruna | Donostia / San Sebastián = San Sebastian | Las Palmas de Gran Canaria = Las Palmas
ES Sevilla = Seville
GB Kingston upon Hull = Hull
GR Chaniá = Chania | Irákleion = Heraklion | Pátra = Patras | Ródos = Rhodes
IQ Basrah = Basra
JP Nara-shi = Nara
KR Jeju City = Jeju
MA Fes = Fez
MN Ulan Bator = Ulaanbaatar
MX Acapulco de Juárez = Acapulco | León de los Aldama = Leon | Santiago de Querétaro = Queretaro
NL 's-Hertogenbosch = Den Bosch
PH Cebu City = Cebu | Makati City = Makati
RU Arkhangel’sk = Arkhangelsk | Nizhniy Novgorod = Nizhny Novgorod
SA Makkah = Mecca | Madinah = Medina
TO Nuku‘alofa = Nuku'alofa
UA Mykolayiv = Mykolaiv | Vinnytsya = Vinnytsia | Zaporizhzhya = Zaporizhzhia
US New York City = New York
"""
"""Country, the gazetteer's name = the English one; several to a line."""


def _table() -> dict[tuple[str, str], str]:
    pairs = (
        (line[:2], pair.split("=")) for line in _NAMES.strip().splitlines() for pair in line[3:].split("|")
    )
    return {(country, fold(native)): english.strip() for country, (native, english) in pairs}


_ENGLISH = _table()


def english_name(country: str, native: str) -> str:
    """The name that is printed: 'Köln' is Cologne, 'Málaga' Malaga."""
    return _ENGLISH.get((country, fold(native))) or unaccented(native)


OTHERWISE_CALLED = {"bali": "denpasar", "majorca": "palma", "mallorca": "palma"}
"""Names of islands that people give for the town where they land."""

TAKEN_FOR_GRANTED = frozenset(
    [
        ("BE", "Bruges"),
        ("CA", "Vancouver"),
        ("CN", "Suzhou"),
        ("ES", "Barcelona"),
        ("US", "Philadelphia"),
        ("US", "St. Louis"),
        ("ES", "Granada"),
        ("ES", "Pamplona"),
        ("ES", "San Sebastian"),
        ("ES", "Zaragoza"),
        ("IN", "Hyderabad"),
        ("IT", "Venice"),
        ("MX", "Cancun"),
        ("NO", "Bergen"),
        ("NZ", "Queenstown"),
        ("PK", "Islamabad"),
        ("SA", "Medina"),
        ("US", "Boston"),
        ("US", "Washington"),
    ]
)
"""The one that an English speaker means by a name that several large towns bear (our choice)."""
