"""Phrases whose words say nothing of a sign."""

TEXT = r"""
dizzying|dizzy numbers|heights|sums
heart in mouth moment
heart shaped
<chest> puffed out
tight|tighter ~2 shirt|tshirt|top|jumper|vest ~4 <chest>
tight|tighter <chest> ~3 shirt|tshirt|top|jumper|vest
blacked out windows|glass
power blackout
passed out programmes|flyers|leaflets|sheets|bands|water|programs
faint|feint ~1 smell|pencil|marks|mark|line|lines|hope|praise|whiff
light headed to
giddy as
out cold by|at
knife hands
stabbing at ~1 buttons|keys|screen
saw|see|seeing double digit|digits|figures
spinning classes
on pins and needles waiting|for
senses|sense tingling
foot drop set|sets
warm calves
skipping|skipped ~2 x
numb from ~1 news|day|meeting
<chest> press|presses|pressing|fly|flyes|flies|flye|supported|support|dip|dips|day|days|workout
<chest> session|pump|machine|exercises|work|volume|strap|pass|expander|out|bump|height|level
<chest> up $
<chest> up and|on|out|tall|better|nicely|well|cue
<chest> first|opener|stretch|block|training|gains|growth|muscles|muscle|big|proud|cooked|fried
machine|incline|decline <chest> press
<chest> to bar|floor|bench|pad|knees|wall
bar|weight|load|it ~1 on|across|at ~2 <chest> ~1 was|is|at <kilos>
<kilos> ~2 on|across|at|to ~1 <chest> ^3 paused|pausing|pause|count|crunches|crunch|situp|situps|
    sit_ups|hypers|hyper|extensions|raises|bridges|bridge|carry|carries
band|bands|belt|strap ~1 round|around|across ~2 <chest> for ~2 resistance|press|presses|pressups|
    warmup|pull
heart side|line
<chest> hair|hairs
smelling|ammonia salts ~4 eyes|eye|nose|head
sweat|chalk|sun|soap|hair ~1 in ~1 eyes|eye ^4 see|blurry|blurred|watering|sting|stinging|stung
strap|straps|belt|sleeve ~3 slipped|slid|slipping
collapse|collapsed the|my set|sets|rest
<cannot> see ~2 mirror|timer|clock|tv|board|screen ^4 in_the_way|blocked|fogged|steamed
bar|touch|touched|touching|pause|paused|pausing|bounce|bounced|bouncing ~5 on|off|to|at|from|
    touching ~2 <chest>
off|to|onto|touched|touching the|my? <chest>
sticking|stuck|slow|stalled ~4 at|on|off|near ~1 <chest>
<clothes> ~3 tight|squeezed|pinched ~4 <chest>
upper|lower|inner|outer <chest> lagging|growing|bigger|filling
<good> ~1 stretch|squeeze|pump|burn|contraction ~5 <chest>
stretch|pump|contraction ~3 <chest>
<chest> ~1 burn|burning|burned ~1 nicely|well
tight pecs|pec
heart|hr|pulse rate? strap|monitor|zone|zones|band|watch|belt|data|average|avg|sensor|max|
    variability
<rate> ~2 strap|monitor|zone|zones|average|avg
heart was|is|wasnt|wasn't|isnt|isn't|not ~2 in
heart set|soul|warming|breaking|broken|break|throb
snap|crack|rip of
double digits|figures|booked|header
spinning with|plates
went|gone|go blank on
sore|scratchy|dry|strep throat
swollen gums|gum|glands|tonsils|throat|lip|ego|sinuses
about rhabdo
heart op|operation|surgery|scan|check|murmur
by|took|take|lose|lost|bless|broke|change heart
heart|hr|pulse|heart_rate|heartrate ~3 came|comes|come|dropped|recovered|settled|recovers ~2 fast|
    quick|quickly|well|nicely|down
calf|calves|calfs raise|raises|machine|press|work|day|stretch|stretches|exercises|sleeve|sleeves|
    raised|block|volume
spin|spinning class|bike|bikes|session
neck extension|extensions|curls|curl|harness|bridge|bridges|training|work
head down|up|clear|right|on|first|neutral|coach|space|band|rest|gear
behind the neck
neck press
head cold
hold|held|holding|brace|braced|bracing|big|belly|remember|remembered|forgot|forget ~3 <breath>
breath|breathe|breathing|air and brace|braced
breathe|breathing out|between|hold|through|deep|drill|drills|pattern|cue|work|squats|squat
air con|bike|squat|squats|runner|port|conditioning
fresh|dry|hot|cold air
numb|numbed ~1 from|with|by|of ~1 boredom|cold|ice|grief|freezing
mind numbing|numbingly|numb
numb to|skull
comfortably|bored numb
tingle|tingles|tingling|tingly ~3 excitement|joy|beta|pre|preworkout|alanine|prework
beta|pre|preworkout|alanine|prework ~8 tingle|tingles|tingling|tingly|itchy
numb|numbing cream
popped|popping by|round|over|along|up|off|ibuprofen|paracetamol|down|an|some
popped|popping in late|early|for|after|before|quick|quickly|and|to|at|between|on|today|tonight|
    yesterday
popped|pop|popping a pb|pr|pill|painkiller|balloon|wheelie|blister
pop music|song|songs|quiz|corn|tart|tarts|playlist
bar|pin|lid|bottle|button|ears|ear|cap|weights|plate|balloon|tyre popped|popping|pop
pop of|off|from ~1 floor|chest|ground|bottom|hole|blocks|pins
strap|straps|belt|band|bands|lace|laces|collar|clip|bar|cable|bottle|headphones|glove|gloves|wrap|
    wraps|sleeve|shoelace|rope|handle|chain|zip ~1 <pop>|<tear>
snapped|broke|tore|ripped the|my|a strap|belt|band|lace|laces|shoelace|cable|wrap|zip
more|some|good|nice|real|bit|plenty|lots|extra of? pop
sharp session|look|looking|cookie|focus|mind|increase|rise|jump|drop|contrast|technique|form|turn|
    start|finish|workout|reps|singles|eccentric|tempo|pencil|edge|edges|knurl|knurling|
    improvement|haircut|exhale|today|lads|lad
looked|looking|look|looks|bar|speed|mentally|moved|moving|technique|stay|stayed|mind|form ~2 sharp
took|take|taking|had|have|having|worth a stab
stab at|in_the_dark
knife ~1 through|thru ~1 butter
crack|cracked|cracking on|open|at|session|work|day|it|the|a|out|plate|phone|screen|jokes|my
snap|snapped|snapping a|some|pic|pics|chat|up|out|shut|photo|decision|city
tore|ripped|tear|tearing|rip through|into|up|along|open|physique|jeans|off|leggings|hands|callus|
    callous|shirt|shorts|skin
hands|hand|palm|palms|callus|callous|callouses|calluses|blister|shorts|trousers|leggings|jeans|
    shirt|skin ripped|tore|torn|tear|tearing|rip
shock|shocked how|that|by|to|horror
shot|shots of|glass|up|clock|put|down
shot|shoot|shooting hoops|video|film|pool
electric|electrical|electricity atmosphere|bike|toothbrush|gym|tonight|crowd
buzzing after|about|for|with|off|from|today|tonight|lights
race|racing|raced to|the|against|day|home|through|mate|each|kids|it|bike|prep|pace|season
pounding|pounded music|bass|pavement|pavements
skip|skipped|skipping|skips rope|the|a|set|last|breakfast|lunch|it|leg|this|that|accessories|
    warmup|warm|dinner|cardio|work|abs
hammer curl|curls|strength
hammered the|my|it|legs|chest|quads|glutes|back|arms
box|broad|jump jump|jumps|jumped|rope
jump|jumped|jumping ~1 up|to|from|on|5|10|2|rope|squat|squats|weight|between
double check|checked|session|day|time|up|set|sets|drop|overhand|leg|kettlebell|rep|reps|
    progression|dose|espresso
spots were|taken|all
spot on|me|him|her|needed|please
star|stars|rock|gold aligned|align|jump|jumps|star|sticker
vision board|for|of
blurry|blurred|bleary video|videos|photo|pic|picture|film|camera|clip|from_sleep
video|videos|picture|photo|clip|camera|screen|film|lens|lenses|glasses ~3 blurry|blurred|foggy|
    fogged|dark|misty|blury
faint line|lines|mark|marks|hope|smell|chalk|praise|memory|idea|hearted|music|sound|scratch|clue|
    whiff|of_heart
faint ~1 chalk|mark|line
blackout blind|blinds|curtain|curtains|week
black out blinds|curtains
collapse|collapsed|collapsing ~1 on|onto|into ~2 sofa|couch|bed|heap
knees|knee|hips|hip|form|technique|arch|foot|ankles|bench|chair|rack|shelf|tower|elbows|wrist|
    tent|brace|core|chest|upper_back|lats ~2 collapse|collapsed|collapsing
lights ~1 went|were|are out|off|in|at
fan|music|bike|bikes|wheel|wheels|plate|plates|bar|clips|collars|dumbbell ~3 spin|spinning|spun|
    spins
dark roast|chocolate|gym|outside|mornings|evening|already|night|in|by|when|beer|winter|out
black eye
heavy on the chest
numb bum|arse|butt|backside
black bar|bars|bumper|bumpers|plate|plates|belt|gym|shirt|hoodie|shorts|friday|iron|
    belt
grey|gray hoodie|bar|tee|shirt|shorts|plates|day|sky|skies|weather|area|tracksuit|hair|morning
red plate|plates|bull|bumper|bumpers|meat|light|lights|zone|band|lights
brown rice|bread|sugar|belt|sauce
coffee|tea and|with|then|was|is|tasted|before|first|shop|helped|break|kicked
drank|drink|drinking|drunk ~4 water|coffee|tea|coke|wine|beer|beers|cola|pepsi
wee man|lad|dram|nip|break|tweak|weight|while|jump|pump|session|walk|rest|tired|stretch|hill|pb|
    pr|easier|heavier|bit|lass|extra|more
wee bit|less
pissed off|about|it|down|with|that|at|wet
pissing down|about|it
bloody hard|good|hell|heavy|awful|great|tough|brutal|brilliant|tired|loved|cold|hot|slow|easy|nose
weak point|points|link|off|spot|sauce|effort|excuse|side|tea|part|from|at|bottom|lockout
pins were|out|set|at|too|safety|for|height|low|high
safety|squat pins
bed|asleep|sleep by|early|late|well|last|at
fell|fall|falling asleep ~2 sofa|couch|bus|train|early|reading|film|tv|straight|fast|by|at|watching
slept ~2 on ~2 arm|hand|side|shoulder|neck
dead lift|lifts|lifting|hang|hangs|stop|bug|bugs|tired|easy|good|on|weight|ball|simple|straight|
    happy|slow|set|last
legs dead|gone|like
jaw clenched
jaw dropped|dropping|drop|hit|floor
pain in the arse|ass|backside|butt|bum
no pain no gain
pride|ego|feelings|wallet ~1 hurt|hurts
pressure cooker|sensor|gauge|washer|off|on ~1 hit|perform|me
under|no|less|more|blood|abdominal|tyre pressure
pressed for
squeeze|squeezed ~4 in|before
tight schedule|for_time|turnaround|form|technique|setup|brace|lats|core|squeeze|on_time|deadline
heavy day|set|sets|single|singles|double|triple|weight|weights|session|bench|squat|squats|deads|
    work|pull|press|rep|reps|week|bag|load|loads|for|but|enough|legs|training
bar|weight|weights|it|everything|set|warmups|plates ~2 heavy
something ~2 changed|heavier|different|lighter|else|new|easy|easier
<good> ~1 burn
burn|burned|burning nicely|good|well|out|calories|fat
legs|quads|arms|triceps|biceps|glutes|lats|delts|shoulders|hamstrings on fire
grip width|work|training|position|pads|tape|shift|wide|narrow|trainer|better|good|great|fine|ok|
    solid|held|holding|improving|exercise|trainers
hook|mixed|close|wide|neutral|over grip
hand cream|sanitiser|gel|dryer
hands|hand cold|cream|taped|chalked
foot position|placement|work|drive|slipped
side plank|planks|bends|raise|raises|delt|delts|step
arm|leg|hand day|bike
power clean|cleans|lifting|cut|snatch|rack|nap
eyes on the|bar|prize
eyes up|forward|ahead|closed|open|shut|straight|fixed|down
eye for|on|level|candy|opener
nose ~1 bled|bleed|bleeding|bloody
nosebleed
blood blister|blisters|test|tests|flow|sugar|type|donation|sample|pressure|work|pump|pumping
sick pump|session|weight|song|kids|kid|leave
back off|down|in|to|up|at|on|from|day|squat|squats|extension|extensions|again|after|set
up|down|at ~1 back
came|come|coming|get|got|getting|going|bring|step|stepped|put|went back
hip hop|thrust|thrusts|hinge
knee sleeves|wraps|sleeve
elbow sleeves|sleeve|wraps
rested|resting|rest ~1 hours|well|fully
like death
swollen ego|head
green plate|band|light|tea|smoothie|bumper
"""[1:]
