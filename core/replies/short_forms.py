"""How people shorten, slur and borrow words, and the plain form of each."""

import re

_THANKS = re.compile(
    r"\b(?:much(?:as)? (?:obliged|gracias)|mil gracias|vielen dank|danke sch(?:oe|ö)n|merci (?:beaucoup|bien)|muito obrigad[oa]|"
    r"obrigad[oa]|grazie(?: mille)?|tusen takk|takk|tack(?: s(?:aa|å|a) mycket)?|mange tak|kiitos(?: paljon)?|salamat(?: po)?|"
    r"maraming salamat(?: po)?|dzi(?:e|ę)kuj(?:e|ę)|d(?:e|ě)kuji|hvala(?: lijepa)?|spasibo|efharisto|tesekkurler|arigato\w*|"
    r"shukran|dhanyavaad|shukriya|mahalo|terima kasih|god bless(?: you)?|bless you)\b"
)
"""Thanks in other tongues, as travelling people pick them up."""
CONTRACTED = (
    (_THANKS, "thanks"),
    (re.compile(r"\bheads up\b"), " "),
    (re.compile(r"\b3/4 (?:of an |an )?(?:hour|hr)\b"), "45 min"),
    (re.compile(r"\b(?:minuten|minutos|minuti|minuter|minutter)\b"), "min"),
    (re.compile(r"\b(?:stunden|horas|heures)\b"), "hours"),
    (re.compile(r"\b(?:outta|oot o)\b"), "out of"),
    (re.compile(r"\barvo\b"), "afternoon"),
    (re.compile(r"\bthru\b"), "through"),
    (
        re.compile(r"(?<=es) y (?=[a-z]+(?:es|o)\b)|(?<=tag) und (?=[a-z]+tag\b)|(?<=di) et (?=[a-z]+di\b)"),
        " and ",
    ),
    (re.compile(r"\bmon (?=dieu|ami|amour|cher|coach)"), " "),
    (re.compile(r"\bst\.? john'?s\b"), "st johns"),
    (re.compile(r"\bst\. ?(?=[a-z]{3})"), "st "),
    (re.compile(r"(?<=[a-z]) '?n'? (?=turned|done|out|about|dusted)"), " and "),
    (re.compile(r"\b(y)(e|u)[eu]*(p|s|ah|a)[psah]*\b(?<!yes)(?<!yep)(?<!yup)(?<!yeah)(?<!yea)"), "yes"),
    (re.compile(r"\b(?:n+o{3,}|n+o+p+e{2,}|n{2,}o+)\b"), "no"),
    (re.compile(r"\bcan ?'?t\b|\bcannot\b"), "can not"),
    (re.compile(r"\bwon'?t\b"), "will not"),
    (re.compile(r"\bshan'?t\b"), "will not"),
    (re.compile(r"\bain'?t\b"), "am not"),
    (re.compile(r"\b(did|do|does|have|has|had|was|were|is|are|would|could|should|need)n'?t\b"), r"\1 not"),
    (re.compile(r"\bi ?'m\b|\bim\b"), "i am"),
    # soreness of the wrong kind is pain, and its 'bad' is no word about sleep, its 'way' no way home
    (
        re.compile(
            r"\b(?:sore|stiff),? (?:but |and )?(?:in a (?:bad|weird|worrying) way|not in a good way)\b"
        ),
        "painful",
    ),
    (
        re.compile(
            r"\bill (?=(?:do|try|go|be|get|make|train|have|take|let|fit|move|see|catch|probably|just|send)\b)"
        ),
        "i will ",
    ),
    (re.compile(r"\b(i|you|he|she|it|we|they|that|there)'ll\b"), r"\1 will"),
    (re.compile(r"\b(i|you|we|they)'ve\b"), r"\1 have"),
    (re.compile(r"\bive\b"), "i have"),
    (re.compile(r"\b(i|you|we|they|he|she)'d\b|\bid (?=rather|like|say|prefer)"), r"\1 would"),
    (re.compile(r"\bthought id\b"), "thought i would"),
    (re.compile(r"\b(you|we|they)'re\b"), r"\1 are"),
    (re.compile(r"\blet'?s\b"), "lets"),
    (
        re.compile(
            r"\b(it|what|that|there|here|he|she|who|where|when|how|heart|chest|pain|throat|head|room|(?<=my )back|knee|shoulder|neck|hip|elbow|ankle|wrist|calf|hamstring)'s\b"
        ),
        r"\1 is",
    ),
    (re.compile(r"\b(whats|hows|wheres|whens)\b"), lambda found: found[1][:-1] + " is"),
    (re.compile(r"\bdunno\b"), "do not know"),
    (
        re.compile(
            r"\bbc\b(?= (?:mon|tue|wed|thu|fri|sat|sun|the|show|rehearsal|i|it|my|of|the|we|they|he|she|no|gym|work|there|im|was|is|had)\b)"
        ),
        "because",
    ),
    (re.compile(r"\bidk\b"), "i do not know"),
    (re.compile(r"\b(gonna|gunna)\b"), "going to"),
    (re.compile(r"\bwanna\b"), "want to"),
    (re.compile(r"\bgotta\b"), "have to"),
    (re.compile(r"'s\b"), ""),
    (re.compile(r"(?<=s)'(?= )"), ""),
    (re.compile(r"(?<=\d)'(?!\d)"), " min "),
    (re.compile(r"\bw/o\b"), " without "),
    (re.compile(r"\b(?<=did )me (?=session|training|work ?out|\d|stretches)"), "my "),
    (
        re.compile(
            r"\b(chest|back|knee|neck|shoulder|hip|elbow|wrist|ankle|foot|arm|jaw)(?:'?s)? (?:paint|pane|"
            r"pan|pin|pian)\b"
        ),
        r"\1 pain",
    ),
    (re.compile(r"\bd[iy](?:ss|s|z|zz|sz)(?:y|i|ie|ey)\b"), "dizzy"),
    (re.compile(r"\bw/e\b"), " weekend "),
    (re.compile(r"\bw/c\b"), " week commencing "),
    (re.compile(r"\ba\.m\.?(?!\w)"), "am"),
    (re.compile(r"\bp\.m\.?(?!\w)"), "pm"),
)

_FORMS = {
    "tomorrow": "tmrw tmr tmw tmo tomoz tomorow tommorow tommorrow tomorro 2moro 2morrow 2mrw tomo",
    "tonight": "tonite 2nite 2night tnite tn",
    "yesterday": "yest yday ystd",
    "please": "pls plz plse pleas pleez",
    "thanks": "thx tx thnx thanx tnx ty tysm cheers ta thankyou gracias merci danke",
    "because": "cos coz cuz becuase",
    "you": "u ya'll",
    "your": "ur",
    "are": "r",
    "without": "w/o wo",
    "night": "nite",
    "rough": "ruff",
    "flu": "influenza",
    "with": "w/",
    "and": "& +",
    "before": "b4",
    "done": "dunzo donezo dne doen fertig erledigt listo hecho",
    "yes": "yep yup yeah yea yess yesss yeh yessir aye affirmative indeed",
    "no": "nope nah noo nooo nop naw negative",
    "ok": "okay okey k kk oki okie",
    "min": "mins minute minutes minuets mintues minuts mns mn",
    "hour": "hours hr hrs hrs. hours. huor huors houres",
    "session": "sesh sessions",
    "message": "msg",
    "appointment": "appt",
    "monday": "mon mondays mons lunes montag lundi",
    "tuesday": "tue tues tuesdays tu martes dienstag mardi",
    "wednesday": "weds wednesdays wensday wenesday wednsday miercoles mittwoch mercredi",
    "thursday": "thu thur thurs thurday thursdays thrusday thirsday jueves donnerstag jeudi",
    "friday": "fri fridays fryday viernes freitag vendredi",
    "saturday": "saturdays sabado samstag samedi",
    "sunday": "sundays domingo sonntag dimanche",
    "weekend": "wkend w/e wknd",
    "training": "trainin workout workouts",
    "going to": "gunna",
    "going": "goin",
    "something": "smth sth",
    "though": "tho",
    "about": "abt",
    "probably": "prob probs prolly",
    "until": "til till untill",
    "effort": "effrt",
    "rpe": "rpe:",
}
ALONE = {
    **dict.fromkeys(("dome", "dine", "fone", "don", "dun", "dond", "doone", "dpne", "doen"), "done"),
    **dict.fromkeys(("yws", "yse", "yas", "yrs", "tes", "ues", "ja", "si", "oui", "y"), "yes"),
    **dict.fromkeys(("noe", "mo", "bo", "nein", "non", "n"), "no"),
}
"""Slips and short forms that are read only where they are the whole message."""
SHORT = {short: long for long, forms in _FORMS.items() for short in forms.split()}
