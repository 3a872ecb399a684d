"""What makes a sign harmless in its sentence."""

TEXT = r"""
[doms]
doms|dom's|stretch*
from|after ~4 <day>|<work>
<day> ~1 doms
muscle soreness
usual soreness
<day> session|workout
since ~3 leg day

[work]
from|after|off|of|on|with ~3 <work>
<work> ~1 doms|burn

[hard_work]
<hard_work>|5x10|10x10|3x20
10|12|15|20|25|30|twenty|thirty|fifteen ~1 rep|reps
as|is|was|like|completely|perfectly|pretty|but|just|the|my ~1 <expected>
<expected> for
<expected> after
good way|sense

[cause]
little|enough|more ~1 water
<cause>

[fatigue]
<fatigue>

[nerves]
nerves|nervous|excite*|adrenaline|music|<hard_work>|caffeine|preworkout|coffee
pr attempt
max attempt
before the comp|meet
pre workout
as|is <expected>

[painless]
painless*|nicely|satisfying
no|not|without|never ~2 pain|painful|hurt|sore|issue|issues|problem|bother
didnt|didn't|doesnt|doesn't|wasnt|wasn't ~1 hurt|painful|sore|bother
pain free
like|as always
as usual

[neck_cause]
from clench*
slept|sleep|sleeping|pillow|desk|shrugs|screen|work|driving|crick|stiff|dentist|chewing|gum|
    toothache|tooth|dental|wisdom|filling

[tired_arm]
curls|curl|pump|doms|tricep*|bicep*|pumped|sleeve|bruise*|jab|vaccine|burn*
from|after ~3 <day>|<work>
side|hand weaker

[not_lungs]
bit|bitten|biting|nose|nosebleed|lip|tongue|dentist|tooth|teeth|gum|gums|mouthguard|flossing|
    brushing|ulcer|blister|filling

[drink]
drank|drink|drinking|sipped|bought|brewed|machine|bottle|roast|beetroot|vitamins
cup of
before lifting|training|session

[between]
hot|heat
between ~1 sets

[pump]
pump|pumped|lol|haha|joke*
after ~2 curls

[long_ago]
as a? kid|child|teen|teenager|boy|girl|student
years|yrs|yr|year ago|back
used to
grew out of
fully|long|all healed
gone ~1 years|yrs
old ~3 rupture|tear|dislocation|injury
last year ~5 gone|healed|fine|sorted
when i was ~3 kid|young|child|little|school

[thing]
pin|strap|belt|band|lace|laces|chalk|button|collar|clip|shirt|headphones|bar|glove|gloves|wrap|
    sleeve|callus|callous|blister|balloon|cable|bottle|shorts|leggings|jeans|trousers|skin|hands|
    picture|pic|photo|music

[swell_old]
boxing|hay|hayfever|old
insect|bite|sting|wasp|bee|ego|pride
since surgery
head is
with pride
"""[1:]
