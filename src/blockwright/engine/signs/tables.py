"""The tables of the warning-sign grammar: plain data, for the phone as well (`sign_words.js`).

The long ones stand in `data/`, one pattern a line as `patterns.py` reads them. Which words
count is judgement about how lifters write, tuned on invented notes only (tests/engine/signs).
Sources of the rules: ACSM's major signs and symptoms (chest, arm and jaw pain, breath, faintness,
heart beat, swelling), Honda 2017 (dark urine after extreme work), common practice (the rest).
"""

from collections.abc import Mapping

from blockwright.engine.signs.data import (
    classes,
    contexts,
    harmless,
    meant,
    not_denials,
    not_slips,
    rules,
    weights,
)

# ----------------------------------------------------------------------------------------- words

CLASSES = classes.TEXT
"""By name of a class, its words; `_` joins the words of a phrase."""
MERGED = (
    ("out of breath", "breathless"),
    ("outta breath", "breathless"),
    ("out of puff", "breathless"),
    ("out of air", "breathless"),
)
"""Phrases read as one word."""
BREAKERS = "then good great fine ok okay strong nice while whilst because so"
"""Words over which a gap does not reach; nor over another part of the body, unless joined by
one of `JOINERS`."""
JOINERS = "and or to into through across of both my the plus under between behind"
HARD = "but though although however yet except tho cept until"
"""Words that end a clause as a full stop does."""
HARMLESS = harmless.TEXT
"""Phrases whose words say nothing of a sign; what stands around them still does."""
NOT_DENIALS = not_denials.TEXT
"""Denials that deny something other than the sign beside them."""
NOT_SLIPS = not_slips.TEXT
"""True words so near to a word of a sign that they would be read as it."""

# ----------------------------------------------------------------------------------------- rules

CHEST, BREATH, FAINT = "chest pain", "breathlessness", "faintness"
HEART, ARM = "an irregular or racing heart", "pain in arm, jaw or neck"
BLOOD = "coughed-up blood"
HEAD, URINE = "a sudden headache or change of sight", "dark urine"
SWELLING, NUMB = "extreme swelling or weakness", "numbness"
CALF, SHARP = "calf pain or swelling", "sharp pain"
POSSIBLE = "a possible warning sign"

QUESTIONS: Mapping[str, str] = {
    CHEST: "chest pain, or sore chest muscles?",
    BREATH: "out of breath beyond what the work explains, or breathing hard from hard work?",
    BLOOD: "blood that came up from the lungs, or from the gums, the nose or a bitten lip?",
    FAINT: "faint or dizzy, or only tired?",
    HEART: "a heart beating wrongly or racing without work, or a high pulse from hard work?",
    ARM: "pain in arm, jaw or neck that comes with effort, or a tired muscle or stiff neck?",
    HEAD: "a sudden headache or change of sight during effort, or an ordinary headache?",
    URINE: "urine dark as tea or cola, or something else?",
    SWELLING: "a muscle badly swollen or too weak to use, or the usual pump and soreness?",
    NUMB: "numb, tingling or a grip that fails without cause, or only tired hands?",
    CALF: "a calf that hurts or swells at rest, or sore from training?",
    SHARP: "a sharp, stabbing or popping pain, or an ordinary ache or a click without pain?",
    POSSIBLE: "something that may be a warning sign, or ordinary training talk?",
}
"""By sign, in the order in which they are told: what is asked where it is in doubt."""
RULES = rules.TEXT
"""By sign, a way to write it on each line: whether it is that sign beyond doubt or has to be asked
about, the contexts in which it is harmless, and the pattern."""
CONTEXTS = contexts.TEXT
"""By name, patterns which make a sign harmless when they stand in its sentence."""
ALWAYS = "long_ago"
"""The contexts that hold for every rule."""

# --------------------------------------------------------------------------------------- weights

_START, _, WEIGHTS = weights.TEXT.partition("\n")
"""Weights by bucket, in twentieths, a character each; `studies/sign_weights.py` writes them."""
START = int(_START)
"""What a note weighs before its first word; stands in the first line of the weights."""
OF_A_RULE, OF_A_SURE_RULE = 40, 20
"""What a rule weighs. Where the words alone do not lean to a sign, even a sure one is asked about:
on authors held out in turn 95 % of the sure signs stay sure, and of 90 harmless notes that were
told to stop 38 are asked about."""
MEANT = meant.TEXT
"""By word, a letter for each sign it speaks for and how much; the same study writes them."""
