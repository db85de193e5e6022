"""What the page sends when somebody does something on it."""

from pydantic import BaseModel, Field

from bot.rehearsal.botapi.trouble import Kind

LONGEST_STEP = 24 * 7 * 4  # hours


class Words(BaseModel):
    text: str
    reply_to: int | None = None


class Start(BaseModel):
    payload: str = ""


class Tap(BaseModel):
    message: int
    data: str


class Correction(BaseModel):
    message: int
    text: str


class Whereabouts(BaseModel):
    place: str
    reply_to: int | None = None


class Sticker(BaseModel):
    emoji: str = Field(default="\N{WAVING HAND SIGN}", min_length=1, max_length=16)


class Group(BaseModel):
    title: str = Field(min_length=1, max_length=128)


class Blocking(BaseModel):
    blocked: bool


class Step(BaseModel):
    hours: int = Field(gt=0, le=LONGEST_STEP)


class Playing(BaseModel):
    on: bool


class Newcomer(BaseModel):
    name: str = Field(min_length=1, max_length=60)
    zone: str


class Planned(BaseModel):
    kind: Kind
    method: str = ""
    times: int = Field(default=1, gt=0)
