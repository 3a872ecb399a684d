"""Typing slips: a word nobody knows that is nearly a word of a sign is read as that word."""

from functools import cache, lru_cache

from rapidfuzz.distance import OSA

from blockwright.engine.signs.patterns import classes_of
from blockwright.engine.signs.words import CLASSES

LEAST_LETTERS, TWO_SLIPS_FROM = 5, 9
FUZZY_CLASSES = (
    "chest bone jaw pain ache gasp faint palp headache numb swell sharp stab one_calf rhabdo"
)
FUZZY_WORDS = """
heart heartbeat breath breathe breathing tight tightness pressure crushing squeezing burning
racing pounding fluttering skipping irregular blurry blurred vision double urine brown coffee
blacked popped tearing snapped weakness strength feeling fingers spinning electric
"""
"""Words whose slips are worth reading: each class's, and some of others."""

NOT_SLIPS = """
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
"""
"""True words so near to a word of a sign that they would be read as it."""


@lru_cache(maxsize=8192)
def corrected(word: str) -> str:
    """The word of a sign that was meant, or the word itself.

    One slip (a letter wrong, missing, too many, or two exchanged) in words of five letters or
    more, two from nine letters on; the first letter must be right.
    """
    if len(word) < LEAST_LETTERS - 1 or word in _known() or not word.isalpha():
        return word
    best, fewest = word, 3
    for meant in meant_words().get(word[0], ()):
        most = 2 if min(len(meant), len(word) + 1) >= TWO_SLIPS_FROM else 1
        slips = OSA.distance(word, meant, score_cutoff=most)
        if slips <= most and slips < fewest:
            best, fewest = meant, slips
    return best


@cache
def _known() -> frozenset[str]:
    words = {word for entries in classes_of(CLASSES).values() for e in entries for word in e}
    return frozenset(words) | frozenset(NOT_SLIPS.split())


@cache
def meant_words() -> dict[str, tuple[str, ...]]:
    """By first letter, in a fixed order: the words that may have been meant."""
    classes = classes_of(CLASSES)
    fuzzy = {e[0] for name in FUZZY_CLASSES.split() for e in classes[name] if len(e) == 1}
    words = sorted(w for w in fuzzy | {*FUZZY_WORDS.split()} if len(w) >= LEAST_LETTERS)
    return {first: tuple(w for w in words if w[0] == first) for first in {w[0] for w in words}}
