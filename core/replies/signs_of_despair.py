"""Words of despair: thoughts of suicide, of harming oneself, an overdose."""

from core.replies.meaning import Urgency
from core.replies.sign import sign

OF_DESPAIR = (
    sign(
        r"kill(?:ing)? my ?self\b|end(?:ing)? (?:it all|my life|my own life)\b|(?:want|wanting|wanted|"
        r"going|thinking|ready|thought|think|thoughts) (?:to|of|about) (?:just )?end(?:ing)? it\b|(?:want|"
        r"wanted|wish|like|love) to (?:just )?(?:die|be dead|disappear forever|not wake up)\b|(?:rather|"
        r"better off|wish i (?:was|were)) (?:be )?dead\b|suicid\w*\b|not (?:really |even |actually |exactly |particularly |much )?want to (?:be alive|be around|be here(?! for| until)|live(?! (?:in|at|on|with|near|like) (?!this world|pain|the world|myself))|exist|"
        r"wake up|go on|be alive)(?: any ?more)?\b|better off (?:without me|if i (?:was|were) (?:not|gone|"
        r"dead))\b|(?:no|any|a) (?:reason|point) (?:to|in|for) (?:live|living|going on|carry on|"
        r"carrying on)\b|not (?:see|have) (?:a|any) (?:reason|point) (?:to|in) liv\w*\b|(?:want|thinking|"
        r"think|urge|urges|going|thoughts|thought|feel like|need)(?: \S+){0,2} (?:hurt|hurting|harm|"
        r"harming|cut|cutting) my ?self\b|self ?harm\w*\b|(?:took|taken|take|"
        r"swallowed)(?: \S+){0,3} (?:too many|all (?:my|the)|a lot of) (?:\w+ )?(?:pills|tablets|meds|"
        r"painkillers|paracetamol)\b|overdos\w*\b|can not go on (?:like this|any ?more|living)\b|"
        r"life is not worth\b|not worth living\b"
    ),
    sign(
        r"want (?:to be |to get )?out of (?:life|this life|living|it all|this world)\b|(?:wish|hope|hoping|rather|love)(?: \S+){0,7} (?:not|never) wak\w+ up\b|(?:hurting|harming|cutting|burning) my ?self (?:again|on purpose|to (?:cope|feel|sleep|calm))\b|"
        r"(?:nobody|no one|no body) would (?:even )?(?:miss|notice|care)(?: \S+){0,4} (?:gone|here|dead|disappeared|around|vanished|me)\b|(?:(?:do|can|could|did) not (?:really |even )?(?:see|have)|there is|seeing|see|have) (?:the |a |any |no |little |much )?point (?:in|of|to) (?:carrying on|going on(?! (?:about|with|to))|living(?! (?:out of|in|at|on|near|with))|being here|being alive)\b",
    ),
    sign(
        r"(?:hurting|harming) my ?self\b|(?:done|finished|through) with (?:everything|life|it all|this life|living|the world)\b(?! (?:on|in|i|that|before|for|else|to do))|thinking (?:a lot )?(?:about|of) (?:the )?(?:railing|bridge|edge|pills|water below|rope|end)$|"
        r"(?:can|could) not (?:do|take|bear|face|stand) (?:this|it|life|living) (?:any ?more|much longer)\b.*\b(?:life|goodbye|end|world|without me)\b",
        nothing_if=r"(?:afraid|scared|worried|avoid\w*|without|risk\w*|technique|form|lifting|squat\w*|deadlift\w*)",
        level=Urgency.ASK,
    ),
    sign(
        r"(?:took|taken|take|swallowed) (?:the |a |all |my )*(?:whole |full |entire |too many )?(?:strip|pack|packet|box|"
        r"bottle|handful)s? of (?:the |my )?(?:pain ?killers|pills|tablets|sleeping|paracetamol|ibuprofen|meds)\b|"
        r"(?:took|taken|swallowed|had|ate|downed|necked) (?:like |about |around |maybe )?(?:[1-9]\d|a dozen|"
        r"a (?:whole )?handful of|a fistful of)(?: of)? (?:\w+ )?(?:paracetamols?|ibuprofens?|painkillers?|pills|"
        r"tablets|sleeping|tylenol|aspirins?)\b|(?:swallowed|took|taken|necked|downed|ate) (?:a |the )?(?:load|loads|"
        r"bunch|lots?|whole lot|bottle|box|strip|stack|heap|fistful|handful)s? of (?:\w+ )?(?:pills|tablets|meds|"
        r"pain ?killers|paracetamols?|sleeping)\b",
        nothing_if=r"(?:scene|rehears\w+|costume|in act|on stage|choreograph\w*|fake|prop)",
    ),
)
