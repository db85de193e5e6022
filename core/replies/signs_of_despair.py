"""Words of despair: thoughts of suicide, of harming oneself, an overdose."""

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
)
