"""Spreadsheets that a coach sends: programmes and years, and everything that is none of them."""

import base64
import datetime as dt
import io
import zipfile
from typing import Any

import openpyxl
import pytest

from core.programme.kept import OwnExercise
from core.programme.movements import our_library
from core.programme.sheets.cells import LARGEST, Sheet, write_xlsx
from core.programme.sheets.programme import COLUMNS, read_programme
from core.store import house
from core.store import programme as shelves
from core.store.engine import Store
from core.store.queue_tables import outbox
from core.terms import Pattern, Room
from core.usecases import keeping, own
from tests.playhouse import CLIENT_ID, COACH_ID, Message, Play, said_to

HEAD = ",".join(COLUMNS) + "\n"
TWO = HEAD + "strength,1,1,Goblet squat,3,8 to 12,,2,60,20,\nstrength,1,2,Dumbbell hip thrust,3,10,,2,60,,\n"
YEAR = "name,from,to,kind,importance,wants\nOpening night,2027-03-20,,event,3,strength\nBreak,2027-02-01,2027-02-10,holiday\n"


@pytest.fixture
async def play(store: Store) -> Play:
    stage = Play(store)
    await stage.coach()
    await stage.client()
    await stage.client(7102, "Otis")
    return stage


async def send(play: Play, content: str | bytes, name: str = "programme.csv", **extra: Any) -> str:
    raw = content.encode() if isinstance(content, str) else content
    return said_to(await play.sends_file(COACH_ID, raw, name, **extra), COACH_ID)


async def written_for(play: Play, name: str) -> list[str]:
    async with play.store.reading() as tx:
        [client] = await house.person_by_name(tx, name)
        return [each.words for each in await own.programme_of(tx, client)]


async def press(play: Play, label: str) -> str:
    return said_to(await play.presses(COACH_ID, label), COACH_ID)


async def test_a_programme_is_shown_for_a_client_and_kept_by_a_tap(play: Play) -> None:
    assert await send(play, TWO) == "A programme: 2 sessions, 2 exercises. For whom?"
    assert "for Otis: 1 week, 2 sessions, 2 exercises" in (await press(play, "Otis")).replace(
        "<b>", ""
    ).replace("</b>", "")
    assert await written_for(play, "Otis") == []
    assert "Taken in: 2 sessions for Otis" in await press(play, "Take it in")
    words = await written_for(play, "Otis")
    assert "Goblet squat, 3 × 8 to 12 repetitions, 2 left in reserve, 20 kg; rest 60 s" in words[0]
    assert len(words) == 2
    assert await written_for(play, "Mara") == []


async def test_a_second_programme_says_what_it_replaces(play: Play) -> None:
    await send(play, TWO)
    await press(play, "Otis")
    await press(play, "Take it in")
    await send(play, TWO)
    said = await press(play, "Otis")
    await press(play, "Take it in")
    assert "takes the place of the 2 sessions from your last file for Otis" in said
    assert len(await written_for(play, "Otis")) == 2


async def test_a_programme_is_taken_back_and_the_one_before_holds_again(play: Play) -> None:
    one = HEAD + "strength,1,1,Back squat,5,5,,2,120,60,\n"
    for content in (one, TWO):
        await send(play, content)
        await press(play, "Otis")
        await press(play, "Take it in")
    assert len(await written_for(play, "Otis")) == 2
    said = await press(play, "Undo")
    assert "Taken out again: 2 sessions for Otis; the 1 session of your file before" in said
    [words] = await written_for(play, "Otis")
    assert "Back squat" in words


async def test_a_first_programme_is_taken_back_altogether_and_only_once(play: Play) -> None:
    await send(play, TWO)
    await press(play, "Otis")
    taken = next(m for m in await play.presses(COACH_ID, "Take it in") if m.buttons)
    assert "mine to build again" in await press(play, "Undo")
    assert await written_for(play, "Otis") == []
    again = await play.presses(COACH_ID, "", data=taken.buttons["Undo"])
    assert "had its day" in said_to(again, COACH_ID)


async def test_an_older_programme_than_the_last_cannot_be_taken_back(play: Play) -> None:
    last = list[Message]()
    for _ in range(3):
        await send(play, TWO)
        await press(play, "Otis")
        last = await play.presses(COACH_ID, "Take it in")
    data = [m.buttons["Undo"] for m in await play.waiting(COACH_ID) if "Undo" in m.buttons]
    assert len(data) == 3
    assert last[-1].buttons["Undo"] == data[-1]
    assert "had its day" in said_to(await play.presses(COACH_ID, "", data=data[0]), COACH_ID)
    assert len(await written_for(play, "Otis")) == 2
    async with play.store.reading() as tx:
        assert len(await shelves.own_sessions.list(tx)) == 4  # the last, and the one before it


async def test_what_went_out_comes_back_for_the_same_client(play: Play) -> None:
    await play.says(COACH_ID, "/programme")
    workbook, _ = await play.presses(COACH_ID, "Mara")
    content = base64.b64decode(workbook.payload["files"]["document"]["content"])
    assert "for <b>Mara</b>" in await send(play, content, "programme.xlsx")
    await press(play, "Take it in")
    rows = read_programme(content, "programme.xlsx", our_library())
    assert len(await written_for(play, "Mara")) == len({(row.week, row.session) for row in rows})


async def test_a_reply_to_the_file_that_went_out_is_for_its_client(play: Play) -> None:
    await play.says(COACH_ID, "/programme")
    sent, _ = await play.presses(COACH_ID, "Mara")
    await mark_sent(play, sent, 900)
    await play.says(COACH_ID, "/clients")
    said = await send(play, TWO, reply_to_message={"message_id": 900})
    assert "for <b>Mara</b>" in said


async def test_a_file_in_reply_to_a_clients_words_is_for_the_client(play: Play) -> None:
    said = await play.says(CLIENT_ID, "coach, could you send me the plan as a file?")
    await mark_sent(play, next(m for m in said if m.chat_id == COACH_ID), 901)
    sent = await play.sends_file(COACH_ID, TWO.encode(), "plan.csv", reply_to_message={"message_id": 901})
    assert "copyMessage" in [m.method for m in sent if m.chat_id == CLIENT_ID]


async def test_a_file_that_is_written_to_a_client_is_not_taken_in(play: Play) -> None:
    await play.says(COACH_ID, "/write")
    await play.presses(COACH_ID, "Mara")
    await play.presses(COACH_ID, "Go on")
    sent = await play.sends_file(COACH_ID, TWO.encode(), "plan.csv")
    assert "copyMessage" in [m.method for m in sent if m.chat_id == CLIENT_ID]


async def mark_sent(play: Play, message: Message, number: int) -> None:
    async with play.store.begin() as tx:
        await tx.execute(
            outbox.update().where(outbox.c.id == message.id).values(state="sent", message_id=number)
        )


async def test_every_bad_cell_is_named_at_once(play: Play) -> None:
    said = await send(play, HEAD + "strength,1,1,Goblet sqat,40,8,,,,,\nstrenth,1,1,Zzz,3,x,,,,,\n")
    assert said.splitlines() == [
        "Nothing was taken in.",
        "sheet 1, row 2, column D (exercise): there is no exercise 'Goblet sqat': did you mean 'Goblet squat'?",
        "sheet 1, row 2, column E (sets): '40' is not a whole number from 1 to 12.",
        "sheet 1, row 3, column F (repetitions): 'x' is not a number such as 8 or a range such as '8 to 12'.",
        "sheet 1, row 3, column A (block): 'strenth' is none of return, hypertrophy, strength, power, power endurance, taper, rest.",
        "sheet 1, row 3, column D (exercise): there is no exercise 'Zzz': add it as an exercise of your own first.",
    ]


async def test_a_programme_with_more_sessions_than_are_kept_is_refused_and_the_old_one_stays(
    play: Play,
) -> None:
    await send(play, TWO)
    await press(play, "Otis")
    await press(play, "Take it in")
    many = "".join(f"strength,{w},{n},Goblet squat,3,8,,,,,\n" for w in range(1, 21) for n in range(1, 12))
    await send(play, HEAD + many)
    await press(play, "Otis")
    assert "The programme has 220 sessions" in await press(play, "Take it in")
    assert len(await written_for(play, "Otis")) == 2


async def test_a_year_opens_for_a_client_and_its_rows_are_there(play: Play) -> None:
    assert "Whose year?" in await send(play, YEAR, "year.csv")
    said = await press(play, "Otis")
    assert "20 Mar: Opening night (event, strength, 3 of 3)" in said
    assert "1 to 10 Feb: Break (holiday)" in said


async def test_a_year_as_a_workbook_comes_to_the_year_that_is_open(play: Play) -> None:
    header = tuple(YEAR.split("\n", 1)[0].split(","))
    dated = [header, ("Opening night", dt.date(2027, 3, 20), None, "event", 3.0, "strength")]
    await play.says(COACH_ID, "/year")
    await play.presses(COACH_ID, "Mara")
    said = await send(play, write_xlsx([Sheet("Year", tuple(dated))]), "year.xlsx")
    assert "Mara: the year" in said
    assert "20 Mar: Opening night (event, strength, 3 of 3)" in said


async def test_a_year_of_a_hundred_lines_is_refused_whole(play: Play) -> None:
    await play.says(COACH_ID, "/year")
    await play.presses(COACH_ID, "Mara")
    head = YEAR.split("\n", 1)[0]
    many = "".join(f"\nTrip {n},2027-01-{n % 28 + 1:02},,trip,," for n in range(100))
    assert "there would be 100 lines; a year has up to 60" in await send(play, head + many, "year.csv")
    assert "Trip 0" not in said_to(await play.says(COACH_ID, "Break,2027-02-01,2027-02-10,holiday"), COACH_ID)


async def test_the_words_under_a_programme_may_say_for_whom(play: Play) -> None:
    assert "for <b>Otis</b>" in await send(play, TWO, caption="this is for Otis")


async def test_who_goes_takes_along_what_waited_for_a_tap(play: Play) -> None:
    await send(play, TWO)
    await press(play, "Otis")
    async with play.store.begin() as tx:
        [otis] = await house.person_by_name(tx, "Otis")
        await keeping.erase(tx, otis)
        assert (await house.dialogue_of(tx, COACH_ID, play.at)).state == {}
    assert "had its day" in await press(play, "Take it in")


async def test_an_exercise_that_is_gone_at_the_tap_is_told_of(play: Play) -> None:
    async with play.store.begin() as tx:
        coach = await house.coach_by_telegram(tx, COACH_ID)
        assert coach is not None
        own = OwnExercise(
            id=0,
            coach_id=coach.id,
            name="Flight case lift",
            pattern=Pattern.HINGE,
            room=Room.NONE,
            made_at=play.at,
        )
        await shelves.own_exercises.add(tx, own)
    assert "For whom?" in await send(play, TWO.replace("Goblet squat", "Flight case lift"))
    async with play.store.begin() as tx:
        await shelves.own_exercises.remove(tx)
    assert "there is no exercise 'Flight case lift'" in await press(play, "Otis")


async def test_a_year_with_faults_changes_nothing(play: Play) -> None:
    await play.says(COACH_ID, "/year")
    await play.presses(COACH_ID, "Mara")
    said = await send(play, YEAR.replace("2027-03-20", "2027-13-20").replace("holiday", "party"), "year.csv")
    assert said.startswith("Nothing was changed:")
    assert "2027-13-20" in said
    assert "party" in said


def a_zip_bomb() -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("xl/worksheets/sheet1.xml", b" " * 80_000_000)
    return out.getvalue()


def a_workbook_of(rows: int) -> bytes:
    book = openpyxl.Workbook(write_only=True)
    page = book.create_sheet("Programme")
    for _ in range(rows):
        page.append(["x"])
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


@pytest.mark.parametrize(
    ("name", "content", "says"),
    [
        ("plan.csv", b"x" * (LARGEST + 1), "The file has 5 MB; I read up to 5 MB."),
        ("plan.csv", b"x" * 30_000_000, "The file has 30 MB; I read up to 5 MB."),
        ("plan.xlsx", b"PK\x03\x04 and then nothing", "not a whole .xlsx"),
        ("plan.xlsx", a_zip_bomb(), "unfolds to 80 MB"),
        ("plan.csv", b"block\n" + b"x\n" * 1_000_000, "more than 20000 rows"),
        ("plan.xlsx", a_workbook_of(25_000), "more than 20000 rows"),
        ("plan.csv", b"\x00\x01\x02", "neither .xlsx nor .csv"),
        ("plan.csv", b"", "cannot tell what plan.csv is"),
        ("plan.csv", b"a,b,c\n1,2,3\n", "cannot tell what plan.csv is"),
        ("plan.xlsx", b"\xd0\xcf\x11\xe0 old", "old .xls file or has a password"),
        ("plan.xls", b"\xd0\xcf\x11\xe0 old", "old .xls file: save it as .xlsx"),
        ("plan.pdf", b"%PDF", "I read spreadsheets, .xlsx or .csv"),
        ("tour.ics", b"BEGIN:VCALENDAR", "for the client to send"),
        ("", b"x", "I read spreadsheets, .xlsx or .csv"),
    ],
)
async def test_files_that_are_nothing_get_a_clear_sentence(
    play: Play, name: str, content: bytes, says: str
) -> None:
    assert says in await send(play, content, name)


async def test_without_a_name_the_kind_that_the_phone_says_counts(play: Play) -> None:
    file = {"file_id": "d", "file_size": 10, "mime_type": "text/csv; charset=utf-8"}
    update: dict[str, Any] = {"update_id": 9, "message": {**envelope(), "document": file}}
    async with play.store.reading() as tx:
        assert await play.house.wants(tx, update, play.at) is not None


async def test_a_strangers_file_is_not_wanted(play: Play) -> None:
    file = {"file_id": "d", "file_name": "plan.csv", "file_size": 10}
    update: dict[str, Any] = {"update_id": 9, "message": {**envelope(8123), "document": file}}
    async with play.store.reading() as tx:
        assert await play.house.wants(tx, update, play.at) is None


def envelope(user: int = COACH_ID) -> dict[str, Any]:
    return {"message_id": 9, "date": 1, "chat": {"id": user, "type": "private"}, "from": {"id": user}}


async def test_a_button_of_a_file_that_was_left_has_had_its_day(play: Play) -> None:
    await send(play, TWO)
    await press(play, "Otis")
    await press(play, "Not now")
    assert "had its day" in await press(play, "Take it in")
    assert await written_for(play, "Otis") == []
