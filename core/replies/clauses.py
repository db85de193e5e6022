"""A message cut into clauses, and whose each of them is: the client's own, somebody else's, or nobody's."""

import re
from dataclasses import dataclass, replace

from core.calendar.places import find_places
from core.replies.things import OWNED
from core.replies.word_lists import words_of
from core.replies.wording import Words

_CUT = re.compile(
    r"(?:(?:^|(?<= ))([,.?])(?= |$)|"
    r"\b((?<!(?<!at )all )(?<!every day )(?<!any day )(?<!all days )(?<!week )(?<!anyday )(?<!everyday )(?<!everything )(?<!anything )(?<!any time )(?<!anytime )(?<!whatever )(?<!whenever )(?<!nothing )but|"
    r"though|although|however|whereas|(?<!not )(?<!or )(?<!ever )(?<!is )(?<!am )so(?= (?:no|not|could|"
    r"couldn|did|had|have|will|can|the|my|we|i|skipped|missed|only|just|it|there|let|lets|please|"
    r"stopped|today|monday|tuesday|wednesday|thursday|friday|saturday|sunday)\b)|then|because|while|"
    r"except that|and(?= (?:also |now |i am |am |we are |i |we )*(?:flying|fly|leaving|heading to|off to|travelling)\b)|and(?= i (?:already|also|still|even) (?:trained|did|got|finished|slept)\b)|no(?= i (?:skipped|missed|did|have|could|trained)\b))\b) ?"
)
_LONG = 18
"""Words in one breath, as they are dictated: beyond this, a clause is cut where a new fact begins."""
_NEW_FACT = re.compile(
    r" (?:and )?(?=(?:yes|anyway|trained|slept|effort|rpe|the (?:left|right) \w+ hurts|i (?:did|trained|slept|skipped|"
    r"missed|am|would call)|my (?:\w+ )?(?:back|knee|shoulder|neck|hip|ankle)|my session)\b)"
)

_LEADS = (
    r"(?:(?:my|our|the|a|an|one|of|half|all|some|both|poor|little|big|old|older|younger|best|new|whole|"
    r"entire|other|another|every|lighting|sound|stage|second|first|third|chief|head|assistant|deck|"
    r"lead|hotel|tour|company|and|also|today|yesterday|now|sorry|well|yes|no|oh|btw|two|three|2|3|4|"
    r"most|anyway|luckily|sadly|unfortunately|apparently|this|that|these|those|ok|not|only|even|it was|"
    r"it is|there is|because|as|since) )*"
)
OTHERS = (
    r"tenor|soprano|baritone|cellist|violinist|violist|pianist|trumpeter|bassist|other half|better half|ex|roomies?|bunkmate|bunkie|cabinmate|cabin mate|room mate|flattie|bestie|stepmum|stepdad|stepson|stepdaughter|grandson|granddaughter|landlady|landlord|deckhand|chef|electrician|sparky|carpenter|conductor|trainee|intern|apprentice|opponent|teammate|chaperone|purser|steward|stewardess|cadet|marshal|referee|judge|vicar|missus|hubby|housemate|godson|niece|nephew|wife|husband|partner|girlfriend|boyfriend|fiancee?|sons?|daughters?|kids?|child|children|baby|"
    r"toddler|twins|mum|mom|mummy|mother|dad|daddy|father|parents|brothers?|sisters?|grandma|gran|"
    r"granny|grandad|grandpa|grandmother|grandfather|nan|uncle|aunt|auntie|cousins?|friends?|mates?|"
    r"buddy|colleagues?|coworkers?|roommate|flatmate|boss|skipper|captain|bosun|cook|crew(?! change)|cast|company|"
    r"dancers?|actors?|actress|singers?|riggers?|technicians?|techs?|director|designer|manager|"
    r"operator|engineer|driver|neighbours?|guy|guys|girl|woman|man(?! flu)|men|women|people|passengers?|"
    r"everyone|everybody|everyone else|someone|somebody|anyone|nobody|others|team|dog|cat|he|she|they|"
    r"his|hers?|their|him|them|you|guest|client|physio|nurse|doctor|doc|medic|paramedic|surgeon|consultant|cardiologist|specialist|gp|character|rest of us|in-laws|"
    r"family|colleague of mine|friend of mine|lad|lads|bloke|blokes|chap|fella|stranger|lady|ladies|chorus|audience|punters?|student|teacher|pilot|musician|drummer|"
    r"guitarist|understudy|usher|surveyor|diver"
)
_OTHER_FIRST = re.compile(rf"^(?:and |also )?{_LEADS}(?:{OTHERS})\b")
_OURS = re.compile(
    r"^(?:and |also )?our (?!(?:session|training|flight|show|ship|gym)\b)(?:\w+ ){1,3}(?:has|is|was|"
    r"had|hurts?|got|can|keeps|feels|broke|fainted|collapsed|missed|skipped|flies|goes|leaves|lands|drives|travels)\b(?<!ship leaves)(?<!boat leaves)(?<!vessel leaves)(?<!bus leaves)(?<!train leaves)(?<!ferry leaves)(?<!plane leaves)(?<!boat goes)(?<!bus goes)(?<!tour goes)(?<!ferry goes)"
)
_MINE = re.compile(rf"\b(?:i|me|myself|mine|we|us|my(?! (?:{OTHERS})\b))\b")
_AFTER_OTHER = re.compile(rf"^(?:{_LEADS})(?:\w+ )?(?:{OTHERS})\b.*?\b(?:i|me|mine)\b")
_INCLUDED = re.compile(
    r"^(?:and )?(?:me|my ?self) (?:included|too|as well)\b|\b(?:including|includes?) (?:me|my ?self)\b"
)
_LEFT_OUT = re.compile(
    r"\b(?:except|apart from|other than|bar|save|not|unlike|next to|beside|opposite|behind|instead of) (?:for )?(?:me|i)\b"
)
"""'Everybody has a cold except me' is said of everybody else."""
_UNREAL = re.compile(
    r"^(?:and )?(?:if (?:only )?(?:i|we) (?:had|could|did|was|were)|i wish|wish (?:i|we)|"
    r"(?:i )?(?:would|should|could) have\b|(?:i )?(?:want|would like|would love|love|hope) to .*\b(?:one|some|"
    r"1) ?day\b|my (?:dream|goal|target|aim)|last (?:time|week was|year|month)\b|normally|usually|"
    r"i used to|back in (?:the day|my|19|20)|in the (?:play|show|film|movie|book|script|scene)|watched|"
    r"my character)"
)
_NAME = re.compile(
    r"(?:^|[.!?,;\n]\s*|\band |\bbut )(?:(?:[Oo]ld|[Pp]oor|[Bb]ig|[Ll]ittle|[Yy]oung|[Dd]ear|[Oo]ur|Uncle|Aunt|Auntie|Captain|Mr|Mrs|Dr) )*([A-Z][a-z]{2,15})(?:['’]s)? (?:(?:from|in|of|at|on|and) (?:the |our )?(?!\d)\w+ )?(?:(?:next door|upstairs|downstairs|opposite|apparently|also|reportedly|supposedly) )*(?:(?:(?:is|was|has|had|did|does|could|would)n['’]t|is|was|has|had|did|does|got|says|said|"
    r"skipped|missed|slept|blacked|fainted|collapsed|went|can|could|broke|hurt|feels|felt|wants|passed|"
    r"trained|finished|keeps|thinks|flies|goes|leaves|lands|starts|moves|travels|hurts|needs|says|sleeps|trains|keeled|fell|choked|threw|bumped|hit|banged|lost|came|left|gave|told|thought|took|stopped|suffered|nearly|almost)\b|and ([A-Z][a-z]*))"
)

_OWNER = re.compile(
    r"\b([A-Z][a-z]{2,15})(?:['’]s|(?<=s)['’]) (?:\w+ )?(?:knee|back|shoulder|neck|hip|ankle|wrist|elbow|foot|leg|arm|head|heart|chest|calf|session|trip|flight|cold|fever|birthday)\b"
)
"""'Jonas' knee', 'Ana's flight': what is theirs is not the client's."""


_NAME_IS = re.compile(
    r"\b([A-Z][a-z]{2,15})['’]s (?=(?:in|off|at|on|going|gone|flying|back|away|out|over|not|got|been|having|doing|sick|ill|always|still|also)\b)"
)
_OF_A_TRIP = re.compile(
    r"\b(?P<name>[A-Z][a-z]{2,15}) (?:is|was|has|got|gets|moved|moves) (?:now |been |got )?(?=(?:on|off|now|moved|cancel\w*|called|scrapped|postponed|"
    r"[Mm]on|[Tt]ue|[Ww]ed|[Tt]hu|[Ff]ri|[Ss]at|[Ss]un|next|not happening|not going ahead|tomorrow|to the|the \d|dead|pulled|dropped|axed)\w*\b)"
)
"""'Belfast was Monday' is said of a trip, and Belfast is nobody."""


@dataclass(frozen=True, slots=True)
class Clause:
    """A piece of a message between two stops.

    ``own`` when it speaks of the client, ``asks`` when it ends in a question mark, ``concludes`` when a 'so' leads up to it,
    ``reasons`` when a 'because' does.
    """

    text: str
    own: bool
    asks: bool
    real: bool = True
    concludes: bool = False
    reasons: bool = False


def clauses_of(words: Words) -> list[Clause]:
    names = _names(words.typed)
    pieces: list[Clause] = []
    owner_is_other = False
    for text, stop, lead in _pieces(words.plain):
        if starts_with_other(text, names):
            owner_is_other = True
        elif _MINE.search(text) or not _is_continued(text, pieces):
            owner_is_other = False
        own = not owner_is_other
        if pieces and _INCLUDED.search(text):
            pieces[-1] = replace(pieces[-1], own=True)
        real = not _UNREAL.search(text)
        pieces.append(
            Clause(
                text, own=own, asks=stop == "?", real=real, concludes=lead == "so", reasons=lead == "because"
            )
        )
        owner_is_other = owner_is_other and stop not in {".", "?"}
    return pieces


def starts_with_other(text: str, names: frozenset[str]) -> bool:
    """Whether a clause begins with somebody else and never comes to the client."""
    named = bool(names) and any(word in names for word in _first_words(text))
    if not (named or _OTHER_FIRST.search(text) or _OURS.search(text)):
        return False
    return not re.search(rf"\bi\b|(?<!for )\bme\b|\bmy {_OF_MYSELF}\b", _LEFT_OUT.sub(" ", text))


_ROLES = (
    r"(?:\w+ )?(?:ops?|wardrobes?|dressers?|wigs|lx|asm|dsm|swings?|oilers?|(?:second|first|chief) officer|mates?|lampies?|chippies?|sparks|flyman|board op|"
    r"ratings?|hands|stagehands?|crew|cast|chorus|violas?|cellos?|brass|strings|bass|tenors?|sopranos?|little one|assistant|boy|girl|kid)"
)
_OF_MYSELF = (
    r"(?:stomach|throat|head|nose|body|temperature|temp|fever|cold|cough|chest|flu|tummy|guts?|sinus\w*|lungs?|ears?|eyes?|legs?|back|knees?|shoulders?|hips?|neck|ankles?|"
    r"whole|voice|face|hands?|arms?|feet|foot|skin|belly|left|right|lower|upper|session|training|night|own|muscles?|joints?|elbows?|wrists?|calf|calves|hamstrings?|thighs?|groin|toes?|fingers?|heel)"
)
_OF_THE_DAY = r"(?:shift|flight|room|day|night|week|weekend|morning|evening|call|show|watch|hotel|cabin|trip|journey|drive|plan|job|work|life|alarm|dinner|food|place|gig|tour|contract)"
_SOMEBODY = re.compile(
    rf"\b(?P<mine>my (?={_OF_MYSELF}\b)|i\b|(?<!above )(?<!below )(?<!beside )(?<!next to )(?<!opposite )(?<!behind )(?<!with )(?<!near )(?<!of )me\b|myself\b|we\b|am\b)|"
    rf"\b(?:my|our|the|his|her|their|a|half the|some of the) (?:\w+ )?(?:{OTHERS}|{_ROLES})\b|\b(?:he|she|they)\b|"
    rf"\b(?:my|our) (?!(?:\w+ )?(?:{_OF_MYSELF}|{OWNED}|{_OF_THE_DAY})\b)(?:\w+ ){{1,2}}(?:has|had|have|was|is|are|got|caught|been)\b|\b(?:{_ROLES})(?= (?:is|are|all|got|has|have|off|out)\b)"
)


def said_of_another(text: str, at: int) -> bool:
    """Whether the last person named before a place in a clause is not the client: 'my son had a fever, so I was up'."""
    before = [one for one in _SOMEBODY.finditer(text) if one.end() <= at]
    return bool(before) and not before[-1]["mine"]


_CALLED = re.compile(
    r"(?:(?:old|poor|big|little|young|dear|lovely|sweet|uncle|aunt|auntie|captain|mr|mrs|ms|dr|our|and|also|even|then) )+(?=\w)"
)
"""What stands before a name: 'poor Nils', 'Uncle Rolf'."""


def _first_words(text: str) -> list[str]:
    called = _CALLED.match(text)
    return [text.split(" ", 1)[0], *(text[called.end() :].split(" ", 1)[:1] if called else [])]


def own_text(clauses: list[Clause]) -> str:
    """What the client says of themselves, clauses with a comma between."""
    return " , ".join(
        clause.text + (" ?" if clause.asks else "") for clause in clauses if clause.own and clause.real
    )


def _pieces(plain: str) -> list[tuple[str, str, str]]:
    """(text, the stop after it, the word that leads up to it) for each piece that has a word."""
    cut = []
    start, lead = 0, ""
    for found in _CUT.finditer(plain):
        cut.append((plain[start : found.start()].strip(), found[1] or ",", lead))
        start, lead = found.end(), found[2] or ""
    cut.append((plain[start:].strip(), ".", lead))
    merged: list[tuple[str, str, str]] = []
    for text, stop, lead in cut:
        if text:
            merged += [(breath, ends, lead) for breath, ends in _in_breaths(text, stop)]
        elif merged and stop == "?":
            merged[-1] = (merged[-1][0], stop, merged[-1][2])
    return merged


def _in_breaths(text: str, stop: str) -> list[tuple[str, str]]:
    """A clause of usual length as it is; a dictated one cut where it comes to something new."""
    if len(text.split()) <= _LONG:
        return [(text, stop)]
    *breaths, last = _NEW_FACT.split(text)
    return [*((breath, ",") for breath in breaths), (last, stop)]


def _is_continued(text: str, before: list[Clause]) -> bool:
    """Whether a clause without a subject of its own goes on about the one before it."""
    return bool(before) and bool(
        re.match(r"(?:and|or|with|was|is|has|had|been|now|went|needs?|got|threw|throwing|also)\b", text)
    )


def _names(typed: str) -> frozenset[str]:
    typed = _OF_A_TRIP.sub(lambda found: " " if _is_city(found["name"]) else found.group(), typed)
    found = [(name, "") for name in _OWNER.findall(typed)]
    found += [(name, "") for name in _NAME_IS.findall(typed) if not _is_city(name)]
    found += [
        (name, other) for name, other in _NAME.findall(typed) if not (_is_city(name) and _is_city(other))
    ]
    return frozenset(name.casefold() for name, _ in found if name.casefold() not in words_of("no_names.txt"))


def _is_city(name: str) -> bool:
    """'Vienna and Prague' are no two people."""
    found = find_places(name, forgiving=False) if name else []
    return bool(found) and found[0].population >= _LARGE_CITY


_LARGE_CITY = 100_000
