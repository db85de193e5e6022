"""Illness of the client's own, and low mood: neither is judged here, both are passed on."""

import re

_ILL = re.compile(
    r"\b(?:i am|am|been|feel|feeling|felt|bit|got|still|really|so|too|fell|woke up|went|very|quite|"
    r"rather|totally|proper|am home|off) (?:a bit |really |so |very |quite |rather |proper |pretty |"
    r"too |kind of |kinda |rough and |half |still |feeling )*"
    r"(?:ill|sick(?! of\b)|poorly|unwell|under the weather|feverish|nauseous|queasy|seasick|rotten|"
    r"rough(?=.*\b(?:flu|cold|fever|ill|sick|virus|bug)\b)|achy all over|shivery|sniffly|snotty|"
    r"bunged up)\b"
    r"|^(?:ill|sick|poorly|unwell|seasick|ill in bed|sick in bed|flu|covid|fever|hungover and ill|cold|"
    r"a cold)(?: (?:today|again|sorry|since \w+|in bed|at home|still))*$"
    r"|\b(?:in bed|down|off|out|home|laid up|struck down|stuck in bed|hit|knocked out|floored|"
    r"suffering|wiped out|struggling|dealing|battling|fighting) (?:with |by )?(?:a |an |the |some |"
    r"this |kind of )*(?:nasty |bad |horrible |heavy |stinking |bit of )*(?:cold|flu|covid|fever|bug|"
    r"virus|stomach|infection|tonsillitis|migraine|food poisoning|norovirus|gastro|sinus\w*|"
    r"chest infection|something)\b"
    r"|\b(?:a|the|got|have|has|having|caught|catching|with|this|my|some|getting|bad|nasty|heavy|"
    r"stinking|terrible|horrible|head|chest|slight|little|bit of a|bit of) (?:cold(?! (?:shower|water|"
    r"plunge|feet|beer|swim|snap|dip|front|weather|out|room|in here|night|one|air|drink))|flu|fever|"
    r"temperature|cough|virus|stomach bug|tummy bug|bug|sore throat|infection|runny nose|tonsillitis|"
    r"chill|norovirus|covid|man flu|sniffles|lurgy|bronchitis|uti|upset stomach|dodgy stomach)\b"
    r"|\b(?:throwing up|threw up|vomit\w*|puking|puked|been sick|being sick|was sick|the runs|"
    r"diarrhoea|diarrhea|food poison\w*|sore throat|head cold|chest cold|high temperature|runny nose|"
    r"blocked nose|stomach (?:flu|bug)|man ?flu|tested positive|have covid|got covid|sinusitis|"
    r"tonsillitis|seasick|sea sick|nausea|nauseous|feverish|chills|norovirus|gastroenteritis)\b"
    r"|\b(?:coming|come|came|going|went) down with\b|\bcatching something\b|\b(?:fever|flu|covid|"
    r"a temperature|a bug)\b(?! (?:is going|going round|season|jab|shot|vaccine|pitch))|\bfeverish\b|"
    r"\bi have catch cold\b|\b(?:caught|catched) (?:a )?cold\b|\bcold and (?:cough|fever)\b"
)
_NOT_ILL = re.compile(
    r"\b(?:not|no longer|no|never|without|am over|got over|over|recovered from|better after|after|"
    r"negative for|instead of|gone|shook off|since)(?: (?:a|the|any|my|feeling|being|really|longer|"
    r"that|more|properly))* (?:ill|sick|fever|flu|cold|covid|cough|bug|unwell|temperature|virus)\b|"
    r"\b(?:cold|flu|fever|bug|cough|sickness) (?:is |has |all )?(?:gone|over|better|finished|"
    r"behind me)\b"
    r"|\bsick (?:of|session|view|gig|beat|show|workout|pump|day|leave)\b|\bthat was (?:a )?(?:ill|"
    r"sick)\b|\bsick (?:and tired)\b|\bcabin fever\b|\bcold (?:feet|in here|outside|out|water|shower|"
    r"plunge|beer)\b|\bworried sick\b|\bflu (?:jab|shot|vaccine|season)\b|\bhome ?sick\b|"
    r"\blove ?sick\b|\bcold turkey\b|\ba cold one\b|\bbeen (?:sick )?better\b|\bbug (?:in|with) (?:the|"
    r"my) (?:app|phone|software|system)\b"
)
_LOW = re.compile(
    r"\b(?:feel|feeling|felt|am|been|getting|bit|so|really|very|quite|pretty|kind of|kinda|a little|"
    r"just) (?:a bit |really |so |very |quite |pretty |kind of |kinda |a little |rather |just |pretty |"
    r"that |too )*"
    r"(?:low|down(?! (?:to|with|at|there|for|the))|blue|depressed|miserable|hopeless|worthless|useless|"
    r"empty|lonely|anxious|overwhelmed|burn(?:t|ed) ?out|fed up|defeated|isolated|lost|sad|tearful|"
    r"hollow|desperate|numb inside|ashamed|like a failure|like giving up|like shit|homesick|home sick|"
    r"panicky|stressed out|at the end of my)\b"
    r"|\b(?:depress\w+|burn(?:t|ed)? ?out|burnout|anxiety|panic attacks?|breakdown|mental health|"
    r"mentally|hopeless\w*|lonely|loneliness|crying|in tears|pointless|meaningless|worthless|homesick|"
    r"heartbroken|grieving|bereaved)\b"
    r"|\bhate (?:my ?self|my body|my life|myself)\b|\bwhat is the point\b|\bno point\b|\b(?:can|"
    r"could) not (?:cope|face (?:it|anything|people|the day|today|this)|go on|do this any ?more|"
    r"get out of bed|stop crying|take (?:it|much more|any more))\b|\btoo much (?:right now|"
    r"at the moment|for me|lately)\b|\beverything is too much\b|\bnot coping\b|"
    r"\bstruggling\b(?! (?:to (?:find|fit|get)|with the (?:squat|press|pull|weights|exercise)))"
    r"|\bno (?:motivation|desire|joy|interest)\b|\b(?:zero|lost (?:all )?(?:my )?) ?motivation\b|"
    r"\blost (?:all )?(?:my )?motivation\b|\bat (?:my|an) (?:lowest|end|all time low)\b|"
    r"\b(?:had enough|giving up on|given up on) (?:of )?(?:everything|life|myself|it all)?\b|"
    r"\bin a (?:bad|dark) (?:place|way|headspace|head space)\b|\bnot (?:ok|okay|doing well|doing great|"
    r"in a good place|myself)\b(?! with)|\b(?:hard|tough|rough|bad|difficult) (?:time|times|patch|days|"
    r"headspace)\b|\bmy head is not\b"
    r"|\b(?:died|passed away|funeral|in hospital|in the hospital|divorce|split up|broke up|break up|"
    r"lost my (?:job|dad|mum|mom|father|mother|brother|sister|friend|dog|cat)|miscarriage|cancer|"
    r"intensive care|heart attack|a stroke)\b"
)
_NOT_LOW = re.compile(
    r"\bnot (?:feeling )?(?:a bit |at all |too |so |that )?(?:low|down|depressed|lonely|anxious|sad|"
    r"stressed|overwhelmed)\b|\blow (?:bar|load|carb|tide|energy|row|weight)\b|\bfeel the burn\b|"
    r"\bsad (?:to miss|that|the show)\b|\bdied (?:laughing|on)\b|\b(?:phone|battery|engine|car|laptop|"
    r"wifi|van|generator) (?:has |just )?died\b|\blost in\b"
)


def is_unwell(clauses: list[str]) -> bool:
    """Whether the client says that they are ill themselves."""
    return any(_ILL.search(clause) and not _NOT_ILL.search(clause) for clause in clauses)


def is_low(clauses: list[str]) -> bool:
    """Whether the words sound low, or tell of grave news: the coach should see them."""
    return any(_LOW.search(_NOT_LOW.sub(" ", clause)) for clause in clauses)
