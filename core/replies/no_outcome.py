"""Words that look as if they told what became of a session, and tell nothing of it: wishes, jests, other things done, doubts."""

import re

from core.replies.days import DAY

INTENDED = re.compile(
    r"\b(?:instead of|rather than) (?:(?:the|my|it|doing|going|to|a|training|hitting) )*\w+|"
    r"\b(?:(?:was|were) (?:just |really |so |very |only )?(?:going|about|planning|tempted|supposed|"
    r"hoping|meaning|close|ready|all set) to|(?:nearly|almost) (?=skip|miss|bail|did not|gave up|quit|"
    r"forgot)|(?:very |so |really )?(?:wanted|tempted|meant|planned|intended|hoped|tried|expected|"
    r"supposed) (?:to|on)\b|(?:i )?tried(?: it| hard)?$|(?:thought|thinking|think) (?:about|of)|"
    r"considered|contemplated|felt like|feel like|toyed with|planned(?= \d)|did not want to|"
    r"do not want to|(?:did|do) not (?:really )?(?:feel like|fancy)(?: it)?|without (?=skipp|miss)|"
    r"close to|on the verge of)[^,.?;]*?(?= and (?:then |i |we )?(?:did|went|made|finished|trained|"
    r"managed)\b|$)"
)
TO_DO_IT = re.compile(
    r"\b(?:was|were|wanted|meant|planned|intended|hoped|tried|supposed)\b(?!.*\b(?:skip|miss|bail|quit|"
    r"give up|cancel)\w*)"
)
NEVER_SKIPS = re.compile(
    r"\b(?:have |had )?(?:never|not) (?:missed|skipped|miss|skip) (?:one|any|a \w+)\b|\bno (?:problem|"
    r"worries|prob|stress|pain|excuses)\b|\bnot tired\b|\bno gain\b"
)
NO_LIMIT = re.compile(
    r"\bjust (?:over|under|shy of|short of|above|below|about)\b|\bjust (?:now|finished|done|did(?! (?:about |around |like |maybe |roughly )?(?:\d|half an|an? (?:hour|quarter)))|completed|got back|back|wrapped|came|got (?:it|home|in))\b|"
    r"\bmanaged (?:it|the (?:whole|full|session|entire|lot)|all|everything|to (?:do|finish|fit|"
    r"complete|get it))\b|\bnot (?:only|just)\b"
)
DID_NOT = re.compile(
    r"^(?:but |and |then )*(?:i )?(?:did not|resisted|held out)(?: in the end| after all| do it)?$"
)
"""After a temptation to skip: resisted."""
TAKES_BACK = re.compile(
    r"^(?:(?:but|and|lol|haha\w*|ok|well|hmm|oh|yeah|or) )*(?:not|nope|no|nah|not really|as if|right|i wish|in my dreams|if only|dream on|(?:just |only )?(?:kidding|joking)|jk|"
    r"said (?:no one|nobody)(?: ever)?|who am i kidding|not a chance|hell no|like hell|psych|(?:all )?lies|lie)(?: (?:lol|haha\w*|sorry|really))*$"
)
"""Alone after a 'done', it takes that back."""
SARCASTIC = re.compile(
    r"\bin my dreams\b|\bas if$|\byeah right\b|^(?:oh|yeah) sure\b|\bsaid (?:no one|nobody) ever\b|\bi wish$|\bfrom (?:the|my) (?:bar ?stool|sofa|couch|bed|armchair|pub)\b|"
    r"\bin my (?:head|mind|imagination|sleep)\b|\bin (?:spirit|theory|another life)\b|\b(?:at least|sort of|kind of|kinda)$|^(?:and |so |but )?that (?:is|was|counts as|makes) my (?:session|training|workout)(?: (?:for today|today|done))?$|\bor so i (?:say|claim)\b|\bdone ?ish\b|^(?:\w+ )?(?:swim|run|walk|hike|ride|yoga|pilates) (?:is |was )?(?:done|finished)$|\bnot (?:your|the) (?:session|programme|program|plan|one you)\b|\bmy own (?:thing|workout|training|programme|program)\b|\bif you (?:can )?(?:count|call)\b"
)
"""No 'done' beside it can be believed."""
TODAY_TO_COME = re.compile(
    r"^(?:and |but )?today (?:session |one |is )?(?:tonight|later|tomorrow|this evening)$"
)
NO_WORD_ON_IT = re.compile(
    r"\b(?:forgot|forgotten|left|lost|missed|missing) (?:my|the|all my|our) (?:\w+ )?(?:bands?|kit|shoes|trainers|belt|weights?|dumbbells?|gear|bag|clothes|shorts|bottle|headphones|straps|plates)\b|"
    r"\b(?:my )?(?:legs|arms|feet|body|brain|head) (?:are |is )?(?:done|finished)(?: in| for)?$|\bdefine (?:done|it)\b|"
    r"\bhave (?:only|just) (?:got )?(?:about )?\d+ min\b|\bonly have (?:about )?\d+ min\b|\bonly got \d+ min (?:before|until|till|free|spare|to|now)\b"
)
"""Kit left behind, tired legs, and time that is short: none of them tells what became of the session."""
CONFUSED = re.compile(
    rf"\b(?:thought|assumed|understood) (?:it|this|that|today|we|the session|mine) (?:was|is|were|had)\b.*|\b(?:was|is) (?:it )?(?:not )?(?:it|today|this|that) (?:not )?(?:on |for )?(?:a rest day|tomorrow|yesterday|{DAY})\b|"
    rf"\b{DAY} (?:is |was )?(?:yes|no)$"
)
"""Which day is meant, the client wonders, or tells of two: no plan."""
CARRIED = re.compile(
    r"\b(?:lifted|carried|pushed|pulled|pressed|hauled|dragged|shifted|squatted|benched|humped|moved) (?:\w+ ){0,3}(?:cases?|boxes|crates?|suitcases?|luggage|amps?|kit|gear|scenery|flats|"
    r"trunks?|props|furniture|bags?|cables?|chests?|equipment|anchors?|nets?|ropes?|barrels?|sets)\b(?: of \w+)?(?! of)"
)
"""Work, and no training."""
ITS_OBJECT = re.compile(
    r"\b(?:missed|missing|skipped|skipping|forgot|forgotten|finished|finishing|completed|done|did|"
    r"smashed|nailed|crushed|got through|made it (?:to|through)|trained|lifted|wrapped up|sorted|"
    r"cut short|left|stopped)(?P<object> (?:the|my|our|a|an|his|her|their|some|that|this|all the|"
    r"all my|another|loading|packing|reading|dinner|lunch|breakfast|work|customs|immigration|security|"
    r"rehearsals?|you|him|everyone|with (?:this|the|my|it all|that|everything|work|him|"
    r"them)|\d+(?= (?!min|hour|of\b|instead|before|after|km|and\b|at\b|in\b|on\b|out\b|x\b|effort|today|yesterday|this|so\b|"
    r"then|reps|sets|rounds|exercises|hard|good|solid|easy|times|sessions?|trainings?|rpe|over|with|for|because|but)[a-z]))\b(?: (?!(?:at|in|on|for|before|after|and|to|by)\b)[^\s,.?;]+){0,3})"
)
OF_TRAINING = re.compile(
    r"\b(?:sessions?|train\w*|work ?outs?|gym|sets?|rounds?|exercises?|circuits?|programme|program|"
    r"warm ?up|cool ?down|finisher|thing|lot|full|whole|entire|rest|version|one|ones|first|last|second|"
    r"half|squats?|lunges?|press|pulls?|push|rows?|ups|planks?|deadlifts?|hour|min|\d+|bit|few|most|"
    r"lighter|easier|it|alarm|day|time|slot|deal|job|reps?|strength|conditioning|mobility|core|legs?|"
    r"upper|lower|body|bands?|dumbbells?|weights?|kettlebells?|kit|green|park|hotel|cabin|deck|room|"
    r"corridor|corner|miss|pb|that|this|morning|afternoon|evening|week|month|chance|plan|stuff|"
    r"homework from you|ask|swim|run|yoga|walk|hike|class)\b"
)
REQUESTED = re.compile(
    r"\b(?:need|needed|want|send|like|prefer|get|give me|do you have|is there|got|have)(?: me|"
    r" us)? (?:a|an|the|something|any|anything)(?: \w+)? ?(?:short\w*|quick\w*|light\w*|easier|mini|"
    r"tiny)(?: (?:one|version|session|thing))?"
)
NOT_TOLD = re.compile(
    r"\bnot (?:quite |really |fully |completely )?(?:finished|done)\b(?! (?:it|with|yet|so far|today|"
    r"yesterday))|\b(?:ask me|let you know|tell you|get back to you|will (?:write|report|say)|"
    r"remind me)\b.*|\b(?:do not|not|can not) (?:think|sure|know|expect|believe|say|promise|"
    r"see myself)(?: if| that| whether| how| when)* i (?:will|can|could|would|am)\b.*|\b(?:doubt|"
    r"unlikely)\b.*|\b(?:all )?done (?:here|packing|shopping|eating|working|for work|loading|"
    r"with (?:this|the|my|it all|that|everything|work|him|them) (?!session|training|work ?out|gym|"
    r"squats|last|first))\b.*|\byes and no\b|\bnot done\b(?! (?:it|with|yet|so far|today|yesterday))|"
    r"\bdid what i could\b"
)
NOT_DONE = re.compile(r"^(?:it is |i am |is )?not (?:done|finished)$")
"""Said beside a 'done', it takes that back."""
