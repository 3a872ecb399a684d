"""When a sign that was matched does not count: denied, only supposed, or of another person.

A denial must touch its sign: only fillers ("feel any", "sign of") and other signs of a list with
"or" stand between, in the same clause. Two denials make none."""

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from .patterns import compiled, lines
from .reading import word_set

if TYPE_CHECKING:
    from .reading import NoteReading, Place

SIGN_CLASSES = (
    "chest heart pain ache burn press gasp breath faint spin beat palp headache blur spotty numb "
    "asleep grip swell rhabdo sharp stab pop jaw neck calf brown pee weak eyes"
)
"""Classes whose words may stand in a list of what is denied."""
PLAIN_PAIN = """
<joint> ^5 <low> $
<joint> ^5 <low> on|when|with|after|at|today|for|or|of|out|max
<pain>|<ache>|<sore> ~1 <low> in|at|on ~4 <joint>
<joint> ~2 bit|little|slightly|mildly|tad ~2 pinch*|<ache>|<sore> $
<joint> ~2 bit|little|slightly|mildly|tad ~2 pinch*|<ache>|<sore> on|in|at|during|after|when
<joint> <be>? hurt|hurts|pain|ache|aches|aching|achy|sore <low>?
  going_down|coming_down|going_up|coming_up|on_lowering|at_bottom|at_top|at_the_bottom|at_the_top $
"""
"""A joint or muscle and how much it hurts: pain to train round, no sign, if nothing says more."""
MORE = (
    "chest heart burn press gasp breath faint spin beat palp headache blur spotty numb asleep grip "
    "swell rhabdo sharp stab pop jaw neck calf brown pee weak eyes head lose cannot stroke cough "
    "blood extreme deny more"
)
"""Classes that say more than a plain pain."""
PINCHES = "pinch pinching"  # Of the class `press`, but of a joint they say no more than a pain
MOVES = "going coming"  # Before a "down" that ends its clause: where in a lift
PRONOUNS = "i you u we it he she they your"
OWNERS = "my a the our another some training gym old new"
UNSURE = "as like sure know wonder wondering unsure dunno was idea"
"""Before "if": it happened, or may have."""
CAME = "been come came return returned appear appeared there happen happened present show"
NO_ANSWER = "reason idea sleep way doubt warning joke longer more"  # After "no": it answers nothing
YES = ("yes", "yeah", "yep", "it did", "they did", "i did", "it was", "i was", "i had")
NOT_ME = "to beside with behind near by of"
"""Before "me": somebody else is spoken of ("the lad next to me")."""


def is_plain_pain(reading: "NoteReading") -> bool:
    """Whether a note says of a place only that it hurts, and how little: what the bands for pain
    are for (`safety.pain_stop_above`)."""
    said = enumerate(reading.classes)
    says_more = any(word_set(MORE) & {*here} for at, here in said if not _is_of_lift(reading, at))
    patterns = () if says_more else (one for line in lines(PLAIN_PAIN) for one in compiled(line))
    return any(True for one in patterns for _ in reading.matches(one, aloud=True))


def _is_of_lift(reading: "NoteReading", at: int) -> bool:
    """Whether a word that may say more says how or where a joint hurts in a lift."""
    moves = reading.tokens[at] == "down" and reading.is_mark(at + 1)
    return reading.tokens[at] in word_set(PINCHES) or (
        moves and at > 0 and reading.tokens[at - 1] in word_set(MOVES)
    )


def counts(reading: "NoteReading", places: "Sequence[Place]") -> bool:
    """Whether a match is a sign."""
    taken = {i for a, b in places for i in range(a, b)}
    if any(_denied(reading, a, taken) for a, _ in places):
        return False
    end = places[-1][1]
    if _denied_after(reading, end) or _is_no(reading, _answer(reading, end)):
        return False
    supposed = _supposed(reading, places, taken) and not is_yes(reading, end)
    return not supposed and not _of_another(reading, places)


def _walk(
    reading: "NoteReading", index: int, taken: set[int], over: frozenset[str] = frozenset()
) -> Iterator[int]:
    """Words before `index` that touch it: over fillers and other signs of a list."""
    index -= 1
    while index >= 0 and not reading.hard[index]:
        if reading.soft[index] and not _in_list(reading, index):
            return
        yield index
        passes = index in taken or reading.soft[index] or reading.tokens[index] in over
        if not (passes or _is_bare(reading, index)):
            return
        index -= 1


def _is_bare(reading: "NoteReading", index: int) -> bool:
    """Whether the word is a filler, a sign's or "or"."""
    here = reading.classes[index]
    is_or = reading.tokens[index] in ("or", "nor")
    return is_or or "filler" in here or bool(word_set(SIGN_CLASSES) & here.keys())


def _in_list(reading: "NoteReading", comma: int) -> bool:
    """Whether the comma stands in a list "a, b or c": nothing but its words to the clause's end."""
    has_or = False
    for index in range(comma + 1, len(reading.tokens)):
        if reading.hard[index]:
            break
        has_or = has_or or reading.tokens[index] in ("or", "nor")
        if not reading.soft[index] and not _is_bare(reading, index):
            return False
    return has_or


def _denied(reading: "NoteReading", index: int, taken: set[int]) -> bool:
    for before in _walk(reading, index, taken):
        if before in reading.denials and before not in taken:
            return not _denied_twice(reading, before)
    return False


def _denied_twice(reading: "NoteReading", denial: int) -> bool:
    index = denial - 1
    while index >= max(denial - 4, 0) and not reading.is_mark(index):
        here = reading.classes[index]
        if "deny" in here:
            return denial not in range(index, max(here["deny"]))
        if "filler" not in here and reading.tokens[index] not in ("i", "say", "there"):
            return False
        index -= 1
    return False


def _denied_after(reading: "NoteReading", end: int) -> bool:
    """ "Chest pain: none", "numbness 0 of 10", "tingling never came back"."""
    if reading.is_mark(end):
        return False
    following = reading.tokens[end + 1] if end + 1 < len(reading.tokens) else ""
    if "after_no" in reading.classes[end] and end not in reading.silent:
        return following not in word_set(NO_ANSWER)
    came = word_set(CAME) & {*reading.tokens[end + 1 : end + 3]}
    return end in reading.denials and bool(came)


def _answer(reading: "NoteReading", end: int) -> range:
    """The clause behind the mark that ends a sign's, or a yes without one ("palpitations: yes")."""
    tokens = reading.tokens
    near = range(end, min(end + 4, len(tokens)))
    mark = next((i for i in near if tokens[i] in (",", "?", ".", *YES)), None)
    if mark is None or (tokens[mark] == "." and mark != end):
        return range(0)
    stop = start = mark if tokens[mark] in YES else mark + 1
    while not reading.is_mark(stop):
        stop += 1
    return range(start, stop)


def _is_no(reading: "NoteReading", answer: Sequence[int]) -> bool:
    """ "Dizzy? no", "numbness, none at all": the next clause is nothing but a denial."""
    said = [reading.classes[i] for i in answer]
    if not said or "said_no" not in said[0]:
        return False
    return all("said_no" in here or "said_rest" in here for here in said)


def is_yes(reading: "NoteReading", end: int) -> bool:
    """ "Stop if dizzy. It did", "asked about chest pain, yes": it was more than supposed.
    `end`: the word behind the sign."""
    answer = _answer(reading, end)
    said = " ".join(reading.tokens[i] for i in answer) + " "
    return said.startswith(tuple(f"{yes} " for yes in YES)) and not any(
        i in reading.denials for i in answer
    )


def _supposed(reading: "NoteReading", places: "Sequence[Place]", taken: set[int]) -> bool:
    """ "Stop if dizzy", "read about chest pain"; not "not sure if", nor what came "again"."""
    first, last = places[0][0], places[-1][1]
    if "again" in reading.tokens[first : last + 2]:
        return False
    for index in _walk(reading, first, taken, word_set(PRONOUNS)):
        if index in reading.ifs:
            start = reading.ifs[index]
            return start == 0 or reading.tokens[start - 1] not in word_set(UNSURE)
    return any(
        end <= first
        and all(reading.soft[i] or _is_bare(reading, i) for i in range(end, first))
        and not any(reading.hard[i] for i in range(end, first))
        for start in range(max(first - 8, 0), first)
        for end in reading.classes[start].get("advice", ())
    )


def _of_another(reading: "NoteReading", places: "Sequence[Place]") -> bool:
    """Whether somebody else is the subject of the clause, and the writer is not in it."""
    first, end = places[0][0], places[-1][1]
    start = first
    while start > 0 and not reading.is_mark(start - 1):
        start -= 1
    for index in range(first - 1, start - 1, -1):
        if "other" in reading.classes[index] and "with" not in _names(reading, index - 1, start):
            return not any(_is_writer(reading, i) for i in range(index + 1, end))
    return False


def _names(reading: "NoteReading", index: int, start: int) -> set[str]:
    """The classes of the nearest word up to `index` that owns nothing."""
    while index >= start and reading.tokens[index] in word_set(OWNERS):
        index -= 1
    return set(reading.classes[index]) if index >= start else set()


def _is_writer(reading: "NoteReading", index: int) -> bool:
    before = reading.tokens[index - 1]
    here = reading.classes[index]
    return "told" in here or ("me" in here and before not in word_set(NOT_ME))
