"""Every field of a lifter file, described once: the reader checks by it, the form asks by it, and
docs/lifter_file.md is written from it.

A field's key is dotted; one of a row that may stand many times begins with the row's ("slot.day").
Gym and own lifts have readers of their own (`gym_tables`, `lift_table`) that ask by this table; the
fields whose message is the product have a reader alone, and name no bounds.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Literal

from blockwright.engine.screening import CAUSES
from blockwright.engine.training import DAY_NAMES, DAYS, MUSCLES, REGIONS, ROLES, ZONES
from blockwright.files.toml_checks import Table
from blockwright.files.vocabulary import FATIGUE_GROUPS, LOAD_KINDS, STABILITIES, vocabulary

Kind = Literal[
    "text", "number", "day", "time", "choice", "answer", "switch", "checks", "lines", "numbers"
]
"""answer: yes, no or not said; switch: yes or no; checks: some of the choices; lines: texts."""
Choices = tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """One thing that is asked. `key` is dotted, from the file or from the row it stands in."""

    key: str
    label: str
    kind: Kind = "text"
    choices: Choices = ()
    """Value and words; of a form's choice the first is what an empty answer means."""
    hint: str = ""
    suggest: str = ""
    """Id of the page's list of suggestions."""
    usual: str = ""
    """What holds when nothing is said."""
    low: float | None = None
    high: float | None = None
    unit: str = ""
    whole: bool = False
    """Of a number: no fraction."""
    need: str = ""
    """The mend where it is missing; "" where it may be."""
    empty: str = ""
    """Of a choice that may stay open: what the form calls that."""

    @property
    def words(self) -> tuple[str, ...]:
        return tuple(value for value, _ in self.choices)


UNITS = (("kg", "kg"), ("lb", "lb"))
ANSWERS = (("", "not answered"), ("no", "no"), ("yes", "yes"))
_DAYS = tuple((day, DAY_NAMES[day]) for day in DAYS)


def _same(*words: str) -> Choices:
    return tuple((word, word) for word in words)


def _plain(muscle: str) -> str:
    return muscle.replace("_", " ")


PERSON = (
    Field(key="name", label="Name", need='write the lifter\'s name: name = "Ana"'),
    Field(key="units", label="Units", kind="choice", choices=UNITS, usual="kg",
          hint="Of every load below and on this lifter's sheets."),
    Field(key="bodyweight", label="Bodyweight", kind="number"),
    Field(key="born", label="Year of birth", kind="number", whole=True, low=1900, high=2095),
    Field(key="experience", label="Experience with lifting", kind="choice",
          choices=_same("novice", "intermediate", "advanced"), usual="intermediate"),
    Field(key="energy", label="Bodyweight: energy eaten against energy spent", kind="choice",
          choices=_same("surplus", "maintenance", "deficit"), usual="maintenance"),
    Field(key="sex", label="Sex", kind="choice", choices=_same("female", "male"), empty="not said",
          hint="Only widens or shifts the first beliefs; never needed."),
)  # fmt: skip

BLOCK = (
    Field(key="start", label="First Monday", kind="day"),
    Field(key="weeks", label="Build weeks before the deload", kind="number", whole=True, low=3,
          high=8, unit="weeks", usual="6"),
    Field(key="visits", label="Visits a week", kind="number", whole=True, low=1, high=14,
          unit="visits a week", hint="Train exactly so often a week; empty, the composer decides."),
    Field(key="deload.style", label="Deload", kind="choice", usual="half",
          choices=(("half", "half the sets, on the usual days"), ("two-part", "in two parts"))),
    Field(key="slot.day", label="Day", kind="choice", choices=_DAYS, empty="no training",
          need='say which day: day = "mon"'),
    Field(key="slot.start", label="Starts at", kind="time",
          need='say when it begins: start = "06:30"'),
    Field(key="slot.minutes", label="Minutes", kind="number", whole=True, low=10, high=300,
          unit="minutes", need="say how long it is: minutes = 75"),
)  # fmt: skip

_QUESTIONS = {
    "heart_or_metabolic_condition": "A heart or metabolic condition, such as diabetes?",
    "symptoms_at_effort": "Chest pain, breathlessness, dizziness or a racing heart at effort?",
    "pregnant_or_postpartum": "Pregnant, or gave birth in the last months?",
    "kidney_disease": "Kidney disease?",
    "high_blood_pressure": "High blood pressure?",
    "currently_active": "Active: 30 minutes of moderate effort on 3 days a week, for 3 months?",
    "under_18": "Under 18?",
    "surgery_or_injury_last_year": "Surgery or an injury in the last year?",
}
SCREENING = tuple(
    Field(key=f"screening.{key}", label=label, kind="answer", choices=ANSWERS)
    for key, label in _QUESTIONS.items()
)
CLEARANCE = (
    Field(key="screening.cleared_on", label="Cleared by a licensed professional on", kind="day",
          hint="Only once a professional has seen the lifter and said yes. It lasts 12 months."),
    Field(key="screening.cleared_for", label="Cleared for", kind="checks",
          choices=tuple(CAUSES.items()),
          hint="What the professional said yes to. With nothing ticked, all that is answered "
          "yes above."),
    Field(key="screening.systolic", label="Blood pressure as last measured, upper number",
          kind="number", whole=True, low=60, high=300, unit="mmHg",
          hint="In mmHg. Above 160/100 a professional comes first; at 180/110 nobody trains."),
    Field(key="screening.diastolic", label="Blood pressure, lower number", kind="number",
          whole=True, low=30, high=200, unit="mmHg"),
    Field(key="signs.cleared", label="Signs and pain seen to, one a line", kind="lines",
          hint="As the roster names it (a sign, a joint, a lift), and the day a licensed "
          "professional cleared it or, where it was in doubt, somebody asked: "
          "chest pain 2027-01-12"),
)  # fmt: skip
"""What a cuff can read, in mmHg."""

_ALLOWED = {
    "supersets": "Supersets",
    "rest_pause": "Rest-pause sets",
    "drop_sets": "Drop sets",
    "pre_exhaust": "Pre-exhaust: the single-joint lift first",
    "high_reps": "High repetitions",
    "to_failure": "To failure: RIR 0 in the last build week, safe lifts only",
}
ALLOW = tuple(
    Field(key=f"allow.{key}", label=label, kind="switch") for key, label in _ALLOWED.items()
)

WISHES = (
    Field(key="likes.lifts", label="Lifts they like, one a line", kind="lines"),
    Field(key="limits.avoid_lifts", label="Lifts to keep out, one a line", kind="lines"),
    Field(key="limits.avoid_patterns", label="Movements to keep out", kind="checks",
          choices=_same(*vocabulary().patterns)),
    Field(key="limits.max_lifts_per_session", label="Most lifts in a session", kind="number",
          whole=True, low=1, high=20, unit="lifts"),
    Field(key="pin.lift", label="Lift", suggest="lift_names",
          need='name the lift: lift = "leg press"'),
    Field(key="pin.days", label="Days", kind="checks", choices=_DAYS),
    Field(key="pin.reps", label="Repetitions",
          hint="low, mid, high, or a range such as 5-10; may stay empty"),
)  # fmt: skip

NOW = (
    Field(key="known.lift", label="Lift", suggest="lift_names",
          need='name the lift: lift = "leg press"'),
    Field(key="known.load", label="Load", kind="number", low=0, high=2500,
          unit="in the file's units",
          need="say the load as it stands on the bar or stack: load = 100"),
    Field(key="known.reps", label="Repetitions", kind="number", whole=True, low=1, high=60,
          unit="repetitions", need="say the repetitions: reps = 5"),
    Field(key="known.rir", label="Repetitions in reserve", kind="number", low=0, high=10,
          unit="repetitions in reserve"),
    Field(key="known.on", label="Done on", kind="day"),
)  # fmt: skip
HABITS = tuple(
    Field(key=f"habits.weekly_sets.{muscle}", label=_plain(muscle), kind="number", low=0, high=60,
          unit="sets a week")
    for muscle in MUSCLES
)  # fmt: skip
EMPHASIS = tuple(
    Field(key=f"emphasis.{muscle}", label=_plain(muscle), kind="choice",
          choices=_same("lead", "normal", "hold", "skip"), usual="normal")
    for muscle in MUSCLES
)  # fmt: skip

_NUMBER_NEED = "say where the run of loads begins, ends and its step: {} = 5"


def _ladder(row: str) -> tuple[Field, ...]:
    """A run of loads: of dumbbells, or of a stack."""
    return (
        *(
            Field(key=f"gym.{row}.{name}", label=name.capitalize(), kind="number", low=0,
                  high=1500, need=_NUMBER_NEED.format(name))
            for name in ("from", "to", "step")
        ),
        Field(key=f"gym.{row}.add_on", label="Add-on weights", kind="numbers", low=0, high=100,
              hint="such as 1.25 2.5"),
        Field(key=f"gym.{row}.unit", label="In", kind="choice", choices=UNITS,
              empty="the lifter's units"),
    )  # fmt: skip


GYM = (
    Field(key="gym.assumed", label="Nothing is known of it: assume a well-equipped one",
          kind="switch", hint="Then leave the rest of this part empty."),
    Field(key="gym.bar.name", label="Name", need='name the bar: name = "20 kg bar"'),
    Field(key="gym.bar.mass", label="Bare weight", hint="20, or 45 lb",
          need="say what the bare bar weighs: mass = 20"),
    *_ladder("dumbbells"),
    Field(key="gym.stack.lift", label="Machine or lift", suggest="lift_names",
          need='name the lift or the machine: lift = "leg curl"'),
    *_ladder("stack"),
)  # fmt: skip

_FOLLOWS = "as follows from the rest"
_YES_NO = _same("no", "yes")


def _graded(*words: str) -> Choices:
    """Grades from 0 on, the words behind some of them."""
    return tuple((str(at), f"{at} {word}".strip()) for at, word in enumerate(words))


def _follows(key: str, label: str, words: Sequence[str], says: Mapping[str, str] | None = None,
             ) -> Field:  # fmt: skip
    """A choice of an own lift that may be left to what else is said of it."""
    named = says or {}
    choices = tuple((word, named.get(word, _plain(word))) for word in words)
    return Field(key=f"lift.{key}", label=label, kind="choice", choices=choices, empty=_FOLLOWS)


LIFT = (
    Field(key="lift.name", label="Name"),
    Field(key="lift.pattern", label="Movement", kind="choice",
          choices=_same(*vocabulary().patterns), empty="not said"),
    *(
        Field(key=f"lift.muscles.{muscle}", label=f"Share of {_plain(muscle)}", kind="number",
              hint="1 direct, 0.5 or 0.25 in part" if muscle == MUSCLES[0] else "")
        for muscle in MUSCLES
    ),
    Field(key="lift.kit", label="Kit it needs, one a line", kind="lines"),
    _follows("load_kind", "The load written down is", LOAD_KINDS, {
        "external": "what is on the bar or machine",
        "bodyweight_plus": "added to bodyweight",
        "assisted": "help taken off bodyweight",
        "per_hand": "one hand's",
    }),
    Field(key="lift.bodyweight_share", label="Share of bodyweight moved", kind="number", low=0,
          high=1, hint="press-up about 0.64, pull-up about 1"),
    Field(key="lift.axial", label="Load on the spine", kind="number", whole=True, low=0, high=3,
          choices=_graded("none", "", "", "heavy"), empty=_FOLLOWS),
    Field(key="lift.standard", label="Where a repetition starts and ends"),
    Field(key="lift.caution", label="Caution"),
    *(Field(key=f"lift.reps.{zone}", label=f"Range for {zone} repetitions") for zone in ZONES),
    Field(key="lift.aliases", label="Other names, one a line", kind="lines"),
    Field(key="lift.prefers", label="Ranges it is best in, best first, one a line", kind="lines"),
    Field(key="lift.compound", label="More than one joint", kind="answer", choices=_YES_NO,
          empty=_FOLLOWS),
    _follows("role", "Its part", ROLES, {
        "main": "main: of several joints, may open a session",
        "second": "second: of several joints, comes after one",
        "small": "small: of one joint",
    }),
    Field(key="lift.plainness", label="How ordinary it is", kind="number", whole=True, low=0,
          high=3, choices=_graded("an oddity", "", "", "a first choice everywhere"),
          empty=_FOLLOWS),
    Field(key="lift.skill", label="Technique it asks for", kind="number", whole=True, low=0, high=3,
          choices=_graded("none", "", "", "months of practice"), empty=_FOLLOWS),
    _follows("angle", "Angle or length", tuple(vocabulary().angles)),
    *(
        Field(key=f"lift.regions.{region}", label=f"Load on the {_plain(region)}", kind="number",
              choices=(("1", "1 some"), ("2", "2 much")), empty=_FOLLOWS)
        for region in REGIONS
    ),
    _follows("stability", "How it is guided", STABILITIES),
    _follows("fatigue_group", "Tires like", FATIGUE_GROUPS),
    Field(key="lift.family", label="Family of lifts"),
    Field(key="lift.setup_s", label="Seconds to set up", kind="number", whole=True, low=0,
          high=600, unit="s"),
    Field(key="lift.seconds_per_rep", label="Seconds a repetition", kind="number", low=0.5, high=20,
          unit="s"),
    Field(key="lift.safe_to_fail", label="Safe to fail alone", kind="answer", choices=_YES_NO,
          empty=_FOLLOWS),
    Field(key="lift.rir_least", label="Repetitions always kept in reserve", kind="number",
          whole=True, low=0, high=5),
)  # fmt: skip
PARTS: Mapping[str, tuple[Field, ...]] = {
    "The lifter": PERSON, "The block": BLOCK, "Emphasis": EMPHASIS, "Allowed": ALLOW,
    "Wishes and limits": WISHES, "What they do now": (*NOW, *HABITS),
    "Screening": (*SCREENING, *CLEARANCE),
}  # fmt: skip
FIELDS: Mapping[str, Field] = {
    each.key: each for part in (*PARTS.values(), GYM, LIFT) for each in part
}
"""Every field by its key."""


def of_row(row: str) -> tuple[Field, ...]:
    """The fields of a row, their keys from the row on."""
    start = f"{row}."
    return tuple(
        replace(each, key=key.removeprefix(start))
        for key, each in FIELDS.items()
        if key.startswith(start)
    )


_ASKS: Mapping[Kind, Callable[[Table, str], Any]] = {
    "text": Table.text,
    "day": Table.day,
    "time": Table.minute_of_day,
    "answer": Table.switch,
    "switch": Table.switch,
    "checks": Table.words,
    "lines": Table.words,
}


def described(table: Table, name: str) -> Field:
    """The field of a table, whichever of its rows this is."""
    return FIELDS[".".join(part for part in table.key(name).split(".") if not part.isdecimal())]


def ask(table: Table, name: str, unit: str = "") -> Any:
    """The value of a field of the table, checked as it is described: what is usual where nothing is
    said, else None. What is wrong, or missing and needed, is an error of its key. `unit` is that
    of a number whose unit another field says."""
    each = described(table, name)
    if each.need:
        table.need(name, each.need)
    low, high, unit = each.low or 0, each.high or 0, each.unit or unit
    if each.kind == "numbers":
        return table.numbers(name, low, high, unit)
    if each.kind == "choice":
        return table.word(name, each.words) or each.usual or None
    if each.kind == "number" and each.whole:
        found = table.whole(name, int(low), int(high), unit)
        return int(each.usual) if found is None and each.usual else found
    if each.kind == "number":
        return table.number(name, low, high, unit)
    return _ASKS[each.kind](table, name)


def ask_all(table: Table, names: Sequence[str]) -> dict[str, Any]:
    return {name: ask(table, name) for name in names}
