"""True words near to a word of a sign."""

TEXT = r"""
faintly sharper numbering dizzyingly
ached aches acted acting arches arial attaches bache banana batches bathing beard bearing beaten
beating berth blend blond bloom bounding breach breading breadth break breaking breaks breast
breathtaking breeding brother brow browns brows brushing burning burping burring burying buying
calls calm calms calve camp camper camping camps carve carved champ champs chant chants chart
charts chase cheap cheat cheats cheek cheers chefs chess chest chested chests choose clamps clash
clutch coach coffees collapses construction contracted contraction copped crap crash crashing
crawl cross crow crowd crown cruising danger dangers darts dirtiness dislocate division dizzily
doable doubled doubler doubles doubly downs dropped drown dwelling earring earth elective
electrics expanding explore exploring exposing facial facing fainter faintest fairing fairly fast
fatness fault feeding feedings feeling feels fielding filling fillings finders finer fines finger
fingered fitness flattening flattering flints flipping flirt floors fluttery force forearm
forehead founding frown gains games gaps gas gasps gassy glass grasp grasped grasping grass
grounding hammer hamming hard harsh hart haste hatch headed heading headline headlines headroom
heads headset heap heard hearing hears hearts heat heath heather heating heats heaving heavy herd
hiding hint hoped hopped hounding hourly hours hunt hunts hurl hurried hurry hurst inflate
irregularly jacks jars jaws jazz knee landing law laws leaving lighting lightness lunge lunged
lunges lunging machine machines main mains makes marching marsh match mind mined mines mission
named naming naps nearing nine numba number numbered numbers numpy pace paced paces pacing pages
paid pain paint painted painting paints pair paired pairs panes pant pants parenthesis parts past
pasta paste pasted pasting patch path paths pause peach peak peaks peas perch picking pickles
pickling pinch pines pinned pint pints pitch plant planted planting poach points poppy popular
porch pouring puffin puffs pulled pulling pumped pumping punch punting racing racking racks raging
raising ranging rating reading regular revision rhino rightness ripping rounding rushing saint
scare score scored searing seating sections selected sell selling sells separate session shaft
shake shape shaped shapes shard share shared sharing shark sharpen sharper shell shelling shells
shift shipping shirt shop shopped shops shorn short shorts shout sing sipping skewed skewer
skidding skiing skill slipped slipping snap snapper snapping soles soon sores sounding space
spacer spaces spacey spam spanning sparkle sparkler spell spelled spelling spells spelt spending
spin sping spinner spoon spring squeezes stab stable stabs stack stacked stacks stage stair stairs
stake staring start starts states stats stays stepped steps sting stings stink stolen stopped
stops straight stranger strengthen strengths string strings strong stubbed stubs swapped swapping
sweat sweating sweats sweaty sweep sweeping sweet swell swelled swelter swept swilling swim swims
swing swinging swings swiping swishing switch taming tapping tearing tended tenth threat threats
throw throwing thrown throws ticket tight tighter tightest tightly timber tingle tinker tiredness
tiring toppled total tracing training trapped trashing treadmill twine upright urge urgent version
visions weaken weakens wearing wedding weekend weekness welling wheat wheel wheels winder window
windy wines winner witness zipped zipping
"""[1:]
