"""Ways to write each sign."""

TEXT = r"""
[chest pain]
ask: <deny> ~1 right ~2 <chest>|<heart>
ask: <chest> ~2 catching|caught|catches
ask: <chest> ~2 thing|issue|episode|trouble|problem|attack|again
ask: thing|feeling|sensation|discomfort|trouble ~3 <chest>
ask: <chest> ^8 <bad>
ask: <bad> ^6 <chest>
sure: <chest> =5 <pain>
sure: <bone> =6 <ache>|<burn>|<press>|<odd>|<sharp>|<stab>|<heavy>|<sore>
sure -doms: <chest> =5 <press>
sure: <press> ~4 <ribs>|<heart>
ask -doms -work: <chest> =5 <ache>|<burn>
sure: <chest> =5 <stab>|elephant|<sharp>|killing
ask: killing ~2 <chest>
ask: <heavy> ~3 <chest>
ask: <chest> <be> <very>? <very>? <heavy>|<odd>|<dead>
ask: <odd> ~1 feeling|sensation ~4 <chest>
ask: something|weight ~3 <chest>
ask: <odd>|<dead> ~1 in|across|round ~2 <chest>
ask: <chest> <deny> ~2 right|happy|normal|great|good|pleasant
ask -doms: <chest> ~1 bothering|grumbling|complaining|unhappy|playing
sure: brick|rock|plate|anvil|lump|knot|weight|pressing|band|fist ~3 in|on|across|round|around ~3
    <chest>
sure: <heart> =3 <pain>|<ache>|<burn>|<press>|<stab>|<sharp>
sure: pain|ache|pressure|tightness ~4 near|over|around|by ~2 heart
sure: angina|heart_attack|heartattack|chestpain|chestpains|chesttightness
ask: <chest> =3 <sore> ~6 walking|breathe|breathing|breath|stairs|rest|effort|cough
ask: ribs =3 crushing|squeezing|vice|band

[breathlessness]
sure: <breath> ~1 <cannot> come|go|fill
ask -hard_work: breathing hard|heavy|heavily|fast ~2 just|setting|loading|warming|from
ask -hard_work: short|low|starved ~1 air|oxygen|breath
ask -hard_work: not|barely|hardly ~1 enough ~1 air|breath|oxygen
ask -hard_work: minutes|mins|min|ages|forever|long ~6 breath ~1 back
ask -hard_work: breathing|breath ^5 <bad>|off
ask -hard_work: catch|catching|get|getting|recover|recovering ~3 breath ~5 forever|ages|long|
    minutes|mins|min|while|hour
sure: <cannot> ~2 <breath>|breathing
sure: <cannot> ~3 get|catch|find|take|draw|suck|pull|hold ~4 <breath>
sure: <cannot> ~2 talk|speak ~3 breath|puffing|panting
ask -hard_work: short|shortness|shorter of ~1 <breath>
ask -hard_work: ran|run|running out ~1 of <breath>
ask -hard_work: heavy|hard|fast|rapid breathing
ask -hard_work: breathing ~3 hard|heavy|fast ~6 after|still|minutes|min|rest|nothing|walking
ask -hard_work: lose|lost|losing ~2 breath|wind
sure: lungs|lung wont|won't|wouldnt|wouldn't|not|cant|can't|couldnt|couldn't fill|open|work|
    expand|inflate
ask -hard_work: <breath>|breathing|breaths ~2 short|shallow|restricted
ask -hard_work: short|shallow|quick breaths|breathing
sure: breathing|breathe ~1 through ~2 straw
ask -hard_work: <cannot> ~3 sentence|talk|words
ask -hard_work: minute|minutes|min|mins|ages ~2 before|until|till ~2 talk|speak|breathe
ask -hard_work: sob
sure: fight*|gasp*|starved|hungry|desperate ~1 for ~1 air|breath|oxygen
sure: air hunger|starved
ask -hard_work: <breath>|breathing <be> <be>? <very>? <very>? labored|laboured|hard|difficult|
    shallow|
    ragged|tight|rough|weird|odd|funny|wrong|off|awful|terrible|short|restricted|painful|heavy
sure: labored|laboured|shallow|difficult|painful|ragged breath*
ask -hard_work: lungs|lung =3 tight|tightness|full|hurt|hurts|hurting|closing|closed|pain|
    squeezed|half|empty|water
sure -hard_work: <gasp>|short_of_breath =8 <no_effort>
ask -hard_work: <gasp>
ask -hard_work: <breath> ~2 gone|went|left_me|ran_out
ask -hard_work: no|zero breath|air|puff
ask: wheez*
sure: <gasp> =5 scary|worrying|scared|nothing|resting|no_reason

[coughed-up blood]
sure: haemoptysis|hemoptysis
sure: <cough> ^8 <blood>
sure: <blood> ^8 <cough>
sure: <blood> ~4 phlegm|sputum|mucus|spit|saliva|froth|foam
sure: phlegm|sputum|mucus|spit|saliva|froth|foam ^6 <blood>
sure: red|pink|rusty ~2 froth*|foam*|phlegm|sputum|mucus|spit
sure: phlegm|sputum|mucus|spit|froth|foam ^4 red|pink|rusty
ask: <cough> ^8 red|pink|rusty ~2 in|on|stuff|streak*|spot*|speck*|bits|fleck*
ask: red|pink|rusty ~2 stuff|streak*|spot*|speck*|bits|fleck* ^6 <cough>
ask -not_lungs: spat|spit|spitting|spits|spew*|hocked|threw_up|throwing_up|vomit*|puked|puking|sick
    ^6 <blood>
ask -not_lungs: <blood> ^4 spat|spit|spitting|vomit*|puke
ask: <blood> ~1 came|come|comes|coming|brought|bring|bringing up

[faintness]
ask: spinny|swimmy|whoozy|dizzied|faintish|light_headed_ness
ask: room|floor|ceiling|ground|walls|gym ~1 moved|moving|swaying|tilting|spinning|wobbled|turning
ask: <be> unsteady|off_balance ~3 standing|stood|up|feet|head
ask: needed|had to ~2 lie|lay|sit ~1 down ~8 head|white|grey|dark|sick|spinning|shaky|cold
ask: felt|feel|feeling myself going|go|drifting|slipping
ask -cause: head ~2 foggy|fuzzy|cloudy|light
ask: dont|don't|cant|can't|didnt|didn't remember ~2 hitting|falling|rep|rerack|racking|reracking|
    floor|finishing|last|lift|set|it
ask: head ~1 gone
sure: <faint>
sure: <everything> <be> <very>? <very>? <colour>
ask -thing: went|gone|going|turned|came|looked|go <very>? <very>? white|grey|gray|pale|ashen|
    green|black|blank
sure: <place> =3 <spin>
ask: <be> <very>? swimmy|floaty|spinny|spacey|whoozy
ask: stars ~3 eyes|everywhere|set|stood|standing
sure: saw|seeing|see|seen ~1 stars
ask: nearly|almost|about|thought|close|going ~4 go|going|went|dropped|drop|fell|fall over|down|
    under|out
sure: came|come|coming|woke|wake ~2 round|around|to|up ~2 floor|ground|bench|mat|deck
sure: went|dropped|fell ~1 down like
ask: <place> ~2 going|goes|went|was round|around|sideways|wavy|fuzzy
ask: like|about|nearly|almost|thought ~5 drop|fall|fell|collapse|go_down|fall_over|going_down
ask: hearing|sounds|sound|noise|voices ~2 muffled|far|distant|faded|went
ask: legs ~1 went|gone|disappeared from ~1 under
ask: fell off|over|backwards|sideways ~3 bench|standing|getting|dizzy|rack|when
ask: shaky|sweaty|pale|cold|shaking|clammy ~2 pale|sweaty|clammy|grey|white
ask: hit ~1 deck|floor|ground|mat|tarmac
sure: <everything> ~2 dimmed|dimming|faded|darkened|blurred|greyed|grayed|darkening
sure: woke|came|come|wake ~2 on|in ~2 floor|ground|bench|mat|deck|platform|rack|ambulance|mats
ask: legs|knees ~1 buckled|went|gave ~4 head|dizzy|grey|black|faint
sure: vision|sight|hearing ~2 closing|closed|faded|fading|fade|fades|went|going|narrow*
ask: ears ~1 ringing|rang|rushing|whooshing
ask: unsteady|off_balance|lost_balance|lost_my_balance|couldnt_balance|couldn't_balance ~4 feet|
    standing|stood|head|walking
ask: wobbly ~3 stood|standing|stand|head|feet|walking
ask: head =3 funny|weird|strange|odd|rush*|gone|hollow

[an irregular or racing heart]
sure: irregular|abnormal ~1 rhythm|beat|pulse|heart|heartbeat|ecg
ask -nerves: <heart> ^6 <bad>
sure: <palp>
ask -nerves: <heart> =5 <beat>
sure: <heart> ~5 <beat> =8 nothing|reason|rest|resting|sitting|lying|easy|warm|warmup|bed
ask: <heart> <be> <very>? <very>? <odd>|mad|fast|quick|high
ask: <heart> <deny> ~2 right|normal|regular|steady|happy
sure: heart ~2 in ~1 mouth|throat|ears
ask -hard_work: <heart> ~3 mph|dozen|mile_a_minute
ask -nerves: <heart> ~1 beating
ask: <heart> ~1 wont|won't|wouldnt|wouldn't|not|didnt|didn't slow*|settl*|calm*
ask: <heart> ~1 going|goes|went ~4 like|clappers|mad|fast|ape|off|ballistic|train
ask -hard_work -between: <rate> =6 <rate_bad>
ask: <rate> ~4 high|sky|through ~6 rest|resting|sitting|nothing|reason|easy|warmup|warm
sure: flutter*|fluttery ~4 <chest>|throat|neck
sure: <chest> =4 flutter*|pounding|thumping|racing|skipping|jumping|palpitating
sure: miss*|skip*|extra|dropped|dropping ~3 beat|beats|heartbeat|heartbeats
ask: beat* ~4 irregular*|funny|wrong|all_over|uneven*|too_fast|out_of

[pain in arm, jaw or neck]
ask -neck_cause: <jaw> =5 <pain>|<ache>|<burn>|<press>|<odd>|<heavy>|<sore>|<stab>|<sharp>
ask -tired_arm: left <arm>|bicep|shoulder|wrist =5 <pain>|<ache>|<press>|<odd>|<heavy>|<dead>|
    <stab>
ask -tired_arm: <pain>|<ache>|<odd>|<press>|<heavy>|<stab> ~4 left <arm>
ask: <pain>|<ache>|<stab>|<press>|<burn>|feeling|it ~3 down|up|into|through|to|across|radiat*|
    spread*|travel*|shoot* ~4 <arm>|<jaw>|<neck>|both_arms|arms
ask -tired_arm: <arm> <be> <very>? <very>? <heavy>|<odd>|achy|aching
ask -neck_cause -doms: <neck> =4 <pain>|<ache>
ask: <pain>|<ache>|<press>|<burn>|<stab> ~2 between ~3 blades|shoulders
sure: radiat* ~5 <arm>|<jaw>|<neck>|shoulder|back
ask: <arm> =3 <pain>|<ache> ~6 left|radiat*|jaw|chest|finger*
ask: <arm> ~8 left ~3 <ache>|<heavy>|<pain>
ask: <ache>|<pain> ~8 <arm> left

[a sudden headache or change of sight]
ask -cause: bad|sore|banging|thumping head
ask -cause: head|skull ~1 went|goes|gone bang|pop|boom|snap
sure -cause: <headache> =6 sudden*|instant*|thunderclap|worst|splitting|exploding|nowhere|mid|
    bang|stonking|crushing|blinding|pounding|intense|straining|brace|braced|effort|set|rep|lift*|
    pushed|hit|came
ask -cause: <headache>
ask: head ~2 about|going ~2 explode|burst|blow|pop|split
ask -cause: pressure|pain ~3 behind ~2 eye|eyes
sure: <everything> ~1 doubled|blurry|blurred|blur|double|fuzzy|hazy|wavy|dim
sure: wavy|sparkly|jagged|shimmering|shiny lines|lights|patch|patches
sure: thunderclap
ask -cause: <head> =5 <burst>
ask -cause: <pain>|<stab>|<sharp>|<press> ~4 <head>|behind_my_eyes|behind_the_eyes|eyeballs
sure: <eyes> =5 <blur>
sure: <spotty>
ask: blurry|blurred|blurriness|blurring
ask: <eyes> <be> <very>? <very>? <odd>
sure: spots|flashes|sparkles|dots|lights|floaters ~4 eyes|eye|vision|sight
sure: seeing|saw|see double|spots|two|lights|flashes|sparkles|dots|black|things
sure: cant|can't|couldnt|couldn't|cannot|could_not|barely|hardly see|focus ~3 out|straight|
    properly|eye|eyes|anything|mirror|plates|for|after|right|left|bar|clearly
ask: couldnt|couldn't|cannot|cant|can't|could see|focus my? eyes|properly|anything
sure: lost|losing|lose|loss|half|missing ~4 vision|sight|eyesight|field
sure: <stroke>
sure: face|mouth|smile|eyelid ~2 droop*|drooped|dropped|sagg*|lopsided
ask: words|speech ~4 slurr*|wrong|jumbled|funny|garbled|stuck

[dark urine]
sure -drink: <pee_only> ^6 <brown>
sure -drink: <brown> ~6 <pee_only>
sure -drink: water <be>|like|colour|color|came|passed ~3 <brown>
sure: <brown> ~1 coloured|colored|colour|color? <pee>
sure: passing|passed ~2 <brown> water|urine|stuff|blood
ask: <pee_only> ~6 dehydrated|syrup|strange|weird|funny|odd

[extreme swelling or weakness]
ask: <rhabdo>
ask -swell_old -pump: <muscle>|<limb> =5 <swell>
ask -swell_old -pump: swollen|swelled|swelling|ballooned|oedema|edema
ask: cant|can't|cannot|couldnt|couldn't|unable|wont|won't|wouldnt|wouldn't|hardly|barely ~2
    straighten|bend|extend|unbend|lift|raise|use ~3 arm|arms|elbow|elbows|leg|legs|fingers ~12
    day|days|still|swollen|hot|since|huge|later|week|on
ask: arms|legs|elbows|arm|elbow wont|won't|wouldnt|wouldn't|cant|can't bend|straighten|move|lift|
    work|hold
ask -fatigue -pump: <cannot> ~2 straighten|bend|unbend my? arms|arm|elbows|elbow|legs
ask -swell_old: twice|double|triple ~4 size|thickness|big
ask -pump: arms|legs|elbows|fingers ~2 stuck|locked ~2 bent|degrees|90|half
ask -fatigue -pump: arms|legs|arm|leg dont|don't|wont|won't|stopped|doesnt|doesn't ~1 work|
    working|hold|function
sure: <cannot> ~2 hold|lift|pick ~2 phone|cup|kettle|fork|mug|toothbrush|spoon
sure: too weak to
sure: so weak ~2 i? cant|can't|cannot|couldnt|couldn't|could|that
ask: <extreme> ~1 weak|weakness|powerless
ask -fatigue: no strength|power ~1 at ~1 all|left|in ~8 since|days|day|later|arms|legs|swollen
ask: <cannot> ~2 get|stand|hold|lift|pick|raise|walk|climb ~5 toilet|kettle|cup|myself|chair|
    toothbrush|head|comb|hair|phone|mug ~8 weak*|swollen|dead|strength|hot|huge
ask: weak*|swollen|strength ~8 <cannot> ~2 get|stand|hold|lift|pick|raise|walk|climb
ask: muscle*|muscles ~4 breakdown|rigid|solid

[numbness]
ask -fatigue: <hand> ~3 no|zero strength|grip|power|feeling|control
ask -fatigue: <grip> ~3 quits|quit|dies|switches|failed|fails ~5 warning|reason|left|right|suddenly
sure: <numb>
sure: <limb>|<hand> ~2 fell|fall|falls|falling|gone|went|going|goes|go|is|was|felt|feels|feel ~2
    <asleep>
ask: dead|numb|lifeless|useless|rubbery|prickly ~1 <hand>|arm|arms|leg|foot|feet|toes
ask: <hand>|toes|feet|arm|foot =3 buzz*|fizz*|prickl*|zap*|electric*
sure: <cannot> ~1 feel ~3 <limb>|<hand>|anything|bar
sure: lost|lose|losing|loss|no|zero|little|reduced|hardly|without ~2 feeling|sensation ~3 in|on|
    down|from|to? ~2 <limb>|<hand>
ask: lost|losing|lose|loss|no ~2 feeling|sensation|touch
sure: shock|shocks|jolt|jolts|zap|zing|electric*|lightning|current|buzz* ~4 arm|arms|leg|legs|
    spine|back|neck|hand|fingers|foot
sure -fatigue: <lose> ~3 <grip> =6 <out_of_blue>
sure -fatigue: <grip> ~5 <lose>|weak|dead =6 <out_of_blue>
ask -fatigue: lost|lose|losing|loss ~2 grip
ask -fatigue: grip ~5 vanish*|disappear*|cut_out|switched_off|just_went|deserted|gone|weak*
ask -fatigue: <hand> ~1 <lose>|weak|useless|stopped ~4 opened|working|strength|power|weak|nothing|
    on_its|by|for|mug|kettle
sure: <hand> just|suddenly ~1 opened|stopped|went|quit|gave|died
ask -fatigue: <hand> =2 weak|weakness|clumsy|useless|powerless
sure -fatigue: <cannot> ~2 close|open|make|move|use|work|grip|feel|hold|squeeze|pinch|control ~4
    <hand>|a_fist|anything|pen|cup
ask: <hand> wont|won't|wouldnt|wouldn't|not|stopped|cant|can't close|open|move|work|do|grip|obey|
    listen|working|responding|shut
ask: keep|kept|keeps dropping|dropped things|stuff|cups|mugs|plates
ask: dropped|dropping a|my? mug|cup|phone|keys|kettle|glass
sure: weak*|weakness ~3 one side|arm

[calf pain or swelling]
ask: <calf> =8 moving|move|standing|walking ~0 still|around|much|all|normally
ask: <calf> ~6 not ~1 moving|using|training|trained
sure: <one_calf> =3 <pain>|<ache>|<sore> ~5 rest|resting|sitting|bed|night|lying|nothing
sure: <calf> =6 <swell>|hot|red|warm|lump|lumpy|huge|massive|enormous|thicker|twice|double|bigger|
    discoloured|purple|puffy|shiny|bulging
ask -doms: <calf> =8 rest|resting|sitting|sat|lying|bed|night|sofa|desk|couch|flight|nothing|
    chair|woke|drive|sleep|still|car|plane|overnight|elevated
ask -doms: <one_calf> =5 <pain>|<ache>|<stab>
ask -doms: one|left|right|single <calf> =6 <pain>|<ache>|<sore>|tender|tight
ask -doms -work: calves =4 <pain>
ask -doms: behind ~2 knee ~5 swollen|throbbing|hot|aching|ache|pain
ask: swollen|throbbing|ache|pain ~3 behind ~2 knee
sure: dvt|clot|blood_clot
ask -doms: <one_calf> ~4 walk|weight|stand|hobbl*|limp*

[sharp pain]
ask: sharp ^4 in|at|under|behind ~2 <part>
sure: <sharp> ~2 <pain>|<ache>|<stab>|shock|tweak|pull|pinch|catch|pop|crack|feeling|nip
sure: <pain>|<ache> ~3 <sharp>
ask: <sharp> =6 <part>
sure: <ache>|<pain>|<stab> ^3 <sharp>
sure: sharp as
sure: stabbing|stabby|stabs
sure: <stab> =5 <part>|<pain>
sure: like|got|being|been ~3 knife|stabbed|stab|needle|dagger|skewer|poker
ask -painless: <part> =5 <pop>
ask -painless: <thing> ~3 <pop>
sure -painless: <part> ~2 <tear>
sure -painless: felt|heard|feel|hear ~3 pop|snap|tear|rip|crack|crunch|twang|ping|ripping|tearing|
    popping|snapping|click|clunk|something_go|something_give
ask: went|go|goes|going|gone pop|bang|ping|twang|snap|crack|crunch
sure: something|summat|smth ~1 popped|snapped|tore|gave|ripped|went|pinged|cracked|pulled|shifted|
    moved|slipped|twanged|let
ask: back|knee|shoulder|hamstring|pec|elbow|hip|groin|bicep|achilles|quad|calf ~1 went|gave|goes|
    gone ~8 rep|sharp|pain|set|sudden*|bang|out|hurt*|locked|spasm*
sure: <pain>|<ache>|<stab> ~2 like|as ~3 knife|electric*|needle*|lightning|glass
sure -painless: felt|feel|heard|think|thought ~2 <part> go|give|went|gave|pull|pulled|tear|rip|
    snap|pop|popped|tore
ask: my? back|knee|shoulder|hamstring|hammy|pec|elbow|hip|groin|bicep|achilles|quad just|suddenly?
     went|gave $
ask: knee|elbow|shoulder|ankle|hip|back ~1 gave|gives way|out
ask: bang|crack ~2 from|in ~2 <part>
sure: stabbed in
ask: like someone|somebody|being ~1 kicked|hit|shot|stabbed|whacked
sure: popped|popping|came|pop out of place|joint|socket
sure: searing|lancing|piercing|excruciating|shooting pain*|ache*|hurt*?
"""[1:]
