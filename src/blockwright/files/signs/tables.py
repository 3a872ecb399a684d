"""The tables of the warning-sign grammar: plain data, for the phone as well (`sign_words.js`).

The long ones stand in `files/data/signs/`, a text each, as `patterns.py` reads them. Which words
count is judgement about how lifters write, tuned on invented notes only (tests/files/signs).
Sources of the rules: ACSM's major signs and symptoms (chest, arm and jaw pain, breath, faintness,
heart beat, swelling), Honda 2017 (dark urine after extreme work), common practice (the rest)."""

from importlib import resources


def _text(name: str) -> str:
    file = resources.files("blockwright.files") / "data" / "signs" / f"{name}.txt"
    return file.read_text(encoding="utf-8")


# ----------------------------------------------------------------------------------------- words

CLASSES = _text("classes")  # By name of a class, its words; `_` joins the words of a phrase
MERGED = (
    ("out of breath", "breathless"),
    ("outta breath", "breathless"),
    ("out of puff", "breathless"),
    ("out of air", "breathless"),
    ("on the way down", "on lowering"),
    ("on the way up", "on lowering"),
)
"""Phrases read as one word; the last two are where in a lift, not where a pain goes."""
BREAKERS = "then good great fine ok okay strong nice while whilst because so"
"""Words over which a gap does not reach; nor over another part of the body, unless joined by
one of `JOINERS`."""
JOINERS = "and or to into through across of both my the plus under between behind"
HARD = "but though although however yet except tho cept until"
"""Words that end a clause as a full stop does."""
HARMLESS = _text("harmless")
"""Phrases whose words say nothing of a sign; what stands around them still does."""
NOT_DENIALS = _text("not_denials")  # Denials that deny something other than the sign beside them
NOT_SLIPS = _text("not_slips")
"""True words so near to a word of a sign that they would be read as it."""

# ----------------------------------------------------------------------------------------- rules

RULES = _text("rules")
"""By sign, a way to write it on each line: whether it is that sign beyond doubt or has to be asked
about, the contexts in which it is harmless, and the pattern."""
CONTEXTS = _text("contexts")
"""By name, patterns which make a sign harmless when they stand in its sentence."""
ALWAYS = "long_ago"  # The contexts that hold for every rule

# --------------------------------------------------------------------------------------- weights

_START, _, WEIGHTS = _text("weights").partition("\n")
"""Weights by bucket, in twentieths, a character each; `studies/sign_weights.py` writes them."""
START = int(_START)
"""What a note weighs before its first word; stands in the first line of the weights."""
OF_A_RULE, OF_A_SURE_RULE = 40, 20
"""What a rule weighs. Where the words alone do not lean to a sign, even a sure one is asked about:
on authors held out in turn 95 % of the sure signs stay sure, and of 90 harmless notes that were
told to stop 38 are asked about."""
MEANT = _text("meant")
"""By word, a letter for each sign it speaks for and how much; the same study writes them."""
