"""Red flags, pain, illness, and what belongs before the coach. This goes before everything else in a turn."""

import datetime as dt
from collections.abc import Sequence

from bot.chats.buttons import Button, button
from bot.chats.client.plan import rest_of_the_week
from bot.chats.phrases import care as of_care
from bot.chats.phrases import client as say
from bot.chats.turn import Turn
from core.calendar.weeks import IsoWeek
from core.people.model import Client, Coach, Role
from core.people.records import RedFlag, Remark
from core.store import house
from core.store.lanes import Kind
from core.terms import Place
from core.usecases import care as deeds
from core.usecases import sent_sessions, sessions
from core.week.count import done
from core.wellbeing.cautions import PHYSIOTHERAPIST, safety_message

UNDER_WAY = dt.timedelta(days=1)


async def country_now(turn: Turn, client: Client) -> str | None:
    """The country where the client is at this moment: the emergency number is that of the place."""
    life = await house.circumstances(turn.tx, client)
    return life.where.stay_at(turn.at).country


async def alarm(turn: Turn, client: Client, words: str) -> None:
    """A red flag: stop, seek care, whom to call; the coach hears at once, and again until seen."""
    flag = await deeds.raise_red_flag(turn.tx, client, words, sure=True, at=turn.at)
    turn.touched.add(client.id)
    await turn.say(safety_message(await country_now(turn, client)), kind=Kind.SAFETY)
    await alert_coach(turn, client, flag)


async def ask_whether_meant(turn: Turn, client: Client, words: str) -> None:
    """Words that may be a figure of speech: one question at once, and until it is answered it counts as a red flag."""
    flag = await deeds.raise_red_flag(turn.tx, client, words, sure=False, at=turn.at)
    turn.touched.add(client.id)
    rows = [[button("Yes, I felt that", "flagyes")], [button("No, a figure of speech", "flagno")]]
    await turn.say(of_care.was_it_meant(), rows, kind=Kind.SAFETY)
    await alert_coach(turn, client, flag)


async def alert_coach(turn: Turn, client: Client, flag: RedFlag) -> None:
    coach = await house.coaches.get(turn.tx, client.coach_id)
    await send_alert(turn, coach, client, flag)


async def send_alert(turn: Turn, coach: Coach, client: Client, flag: RedFlag) -> None:
    life = await house.circumstances(turn.tx, client)
    told = await deeds.tell_coach_again(turn.tx, flag, turn.at)
    where = life.where.stay_at(turn.at)
    if coach.telegram_id is not None:
        await turn.speaker.say(
            coach.telegram_id,
            of_care.red_flag(client, told, where.place or where.zone, life.where.local_at(told.raised_at)),
            alert_rows(client, told),
            kind=Kind.SAFETY,
            key=f"flag:{flag.id}:{told.told}",
        )


def alert_rows(client: Client, flag: RedFlag) -> list[list[Button]]:
    return [
        [button("I have seen this", "flagseen", flag.id)],
        [
            button(f"Write to {client.name}"[:30], "write", client.id),
            button("Clear it", "flagclear", flag.id),
        ],
    ]


async def on_meant(turn: Turn, client: Client, _args: Sequence[str]) -> None:
    await turn.used()
    flag = await deeds.confirm_red_flag(turn.tx, client)
    if flag is None:
        await turn.say(say.stale_button())
        return
    await turn.say(safety_message(await country_now(turn, client)), kind=Kind.SAFETY)
    await alert_coach(turn, client, flag)


async def on_not_meant(turn: Turn, client: Client, _args: Sequence[str]) -> None:
    await turn.used()
    if not await deeds.deny_red_flag(turn.tx, client, turn.at):
        await turn.say(say.stale_button())
        return
    turn.touched.add(client.id)
    ahead = await rest_of_the_week(turn, client)
    await turn.say("\n".join([of_care.not_meant(), *([ahead] if ahead else [])]))
    coach = await house.coaches.get(turn.tx, client.coach_id)
    await turn.tell(coach.telegram_id, of_care.figure_of_speech(client))


async def pain(turn: Turn, client: Client, places: Sequence[Place], words: str) -> list[str]:
    """Pain is kept by place, and sessions adapt. Returns what to say of it."""
    often = await deeds.note_pain(turn.tx, client, places, words, turn.at)
    named = " and ".join(p.value for p in places)
    lines = [of_care.pain_noted(named)]
    if often:
        lines.append(PHYSIOTHERAPIST)
    return lines


# --- to the coach and back --------------------------------------------------------------------------------------------


async def pass_on(
    turn: Turn, client: Client, words: str, kind: str, *, asked: str = "", session: str = ""
) -> Coach:
    """Bring words before the coach with their context; a reply to that message finds its way back."""
    coach = await house.coaches.get(turn.tx, client.coach_id)
    life = await house.circumstances(turn.tx, client)
    week = IsoWeek.of(life.today(turn.at))
    promise = await house.promise_for(turn.tx, client.id, week)
    asks = await house.asks_of_week(turn.tx, client.id, week)
    remark = await house.remarks.add(
        turn.tx,
        Remark(
            id=0, client_id=client.id, said_by=Role.CLIENT, kind=kind, words=words, said_at=turn.at, week=week
        ),
    )
    so_far = (
        f"{done(asks)} of {promise.number}" if promise is not None and promise.number else "nothing promised"
    )
    stay = life.where.stay_at(turn.at)
    if coach.telegram_id is not None:
        await turn.speaker.say(
            coach.telegram_id,
            of_care.passed_on(
                client,
                words,
                kind,
                stay.place or stay.zone,
                life.where.local_at(turn.at),
                asked=asked,
                so_far=so_far,
                session=session,
            ),
            [[button("Answer", "write", client.id)]],
            kind=Kind.COACH_NOTE,
            key=f"remark:{remark.id}",
        )
    return coach


async def pass_on_media(turn: Turn, client: Client) -> None:
    """A video, a voice note, a picture: the coach gets it as it is, with its context: of which session, which exercise."""
    words = turn.incoming.text or f"[{turn.incoming.media}]"
    coach = await pass_on(turn, client, words, "media", session=await _session_under_way(turn, client))
    if coach.telegram_id is not None and turn.incoming.message_id is not None:
        body = {"from_chat_id": turn.chat_id, "message_id": turn.incoming.message_id}
        await turn.speaker.send(coach.telegram_id, "copyMessage", body, kind=Kind.COACH_NOTE)
    await turn.say(say.passed_on(coach.name))


async def _session_under_way(turn: Turn, client: Client) -> str:
    """The session that was opened last, within a day, and the exercise whose step stands on the screen; empty for none."""
    columns = house.sessions.table.c
    opened = await house.sessions.list(
        turn.tx,
        columns.client_id == client.id,
        columns.opened_at > turn.at - UNDER_WAY,
        order=[columns.opened_at.desc(), columns.id.desc()],
        limit=1,
    )
    if not opened:
        return ""
    number, step = turn.dialogue.state.get("at_step") or (0, 0)
    here = set(sent_sessions.keys_at(opened[0], step)) if number == opened[0].id else set()
    names = [name for key, name in sessions.exercises_in(opened[0].body) if key in here]
    return of_care.during(opened[0].title, names)
