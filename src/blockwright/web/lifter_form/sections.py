"""What the form asks, part by part, in a coach's words. The keys are the lifter file's."""

from functools import cache

from blockwright.engine.screening import CAUSES
from blockwright.engine.training import DAYS, MUSCLES
from blockwright.files.vocabulary import vocabulary
from blockwright.web.lifter_form.fields import Field, Rows, Section
from blockwright.web.lifter_form.own_lift import OWN_LIFT

UNITS = (("kg", "kg"), ("lb", "lb"))
DAY_NAMES = {
    "mon": "Monday", "tue": "Tuesday", "wed": "Wednesday", "thu": "Thursday", "fri": "Friday",
    "sat": "Saturday", "sun": "Sunday",
}  # fmt: skip
ANSWERS = (("", "not answered"), ("no", "no"), ("yes", "yes"))

PERSON = Section(
    key="person",
    title="The lifter",
    says=("A block needs the bodyweight, a first Monday and one slot; the rest may wait.",),
    fields=(
        Field(key="name", label="Name"),
        Field(
            key="units",
            label="Units of this file",
            kind="choice",
            choices=UNITS,
            hint="Every load below, and on this lifter's sheets, is in these.",
        ),
        Field(key="bodyweight", label="Bodyweight, in those units", kind="number"),
        Field(key="born", label="Year of birth", kind="number"),
        Field(
            key="sex",
            label="Sex",
            kind="choice",
            choices=(("", "not said"), ("female", "female"), ("male", "male")),
            hint="Only widens or shifts the first beliefs; never needed.",
        ),
        Field(
            key="experience",
            label="Experience with lifting",
            kind="choice",
            choices=tuple((word, word) for word in ("novice", "intermediate", "advanced")),
            usual="intermediate",
        ),
        Field(
            key="energy",
            label="Energy eaten against energy spent",
            kind="choice",
            choices=tuple((word, word) for word in ("surplus", "maintenance", "deficit")),
            usual="maintenance",
        ),
    ),
)

BLOCK = Section(
    key="block",
    title="The block",
    fields=(
        Field(
            key="weeks",
            label="Build weeks before the deload",
            kind="number",
            choices=tuple((str(n), str(n)) for n in range(3, 9)),
            usual="6",
        ),
        Field(key="start", label="First Monday", kind="day"),
        Field(
            key="visits",
            label="Visits a week",
            kind="number",
            hint="Exactly so many of the slots; empty, the composer decides.",
        ),
        Field(
            key="deload.style",
            label="Deload",
            kind="choice",
            choices=(("half", "half the sets, on the usual days"), ("two-part", "in two parts")),
            usual="half",
        ),
    ),
)

NOW = Section(
    key="now",
    title="What they do now",
    folds=True,
    says=("Where there is no log: sets a muscle gets now, and sets that can be done now.",),
    fields=tuple(
        Field(
            key=f"habits.weekly_sets.{muscle}",
            label=f"Sets a week: {muscle.replace('_', ' ')}",
            kind="number",
        )
        for muscle in MUSCLES
    ),
    rows=(
        Rows(
            key="known",
            one="known set",
            hint="A set done lately, or one you have seen: it teaches the first loads.",
            fields=(
                Field(key="lift", label="Lift", suggest="lift_names"),
                Field(key="load", label="Load, in this file's units", kind="number"),
                Field(key="reps", label="Repetitions", kind="number"),
                Field(key="rir", label="Repetitions in reserve", kind="number"),
                Field(key="on", label="Done on", kind="day"),
            ),
        ),
    ),
)

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

SCREENING = Section(
    key="screening",
    title="Screening",
    says=(
        "Training near failure can hurt people. These answers decide whether a block is ready or "
        "stays at refer until you record that a licensed professional has cleared the lifter. "
        "Nothing here diagnoses.",
        "Under-18s, pregnancy or the months after birth, and surgery or injury in the last year "
        "defer to licensed practice and local rules.",
        "Stop at once for sharp pain, chest pain, faintness, numbness.",
    ),
    fields=(
        *(
            Field(key=f"screening.{key}", label=label, kind="answer", choices=ANSWERS)
            for key, label in _QUESTIONS.items()
        ),
        Field(
            key="screening.cleared_on",
            label="Cleared by a licensed professional on",
            kind="day",
            hint="Only once a professional has seen the lifter and said yes. It lasts 12 months.",
        ),
        Field(
            key="screening.cleared_for",
            label="Cleared for",
            kind="checks",
            choices=tuple(CAUSES.items()),
            hint="What the professional said yes to. With nothing ticked, all that is answered "
            "yes above.",
        ),
        Field(
            key="screening.systolic",
            label="Blood pressure as last measured, upper number",
            kind="number",
            hint="In mmHg. Above 160/100 a professional comes first; at 180/110 nobody trains.",
        ),
        Field(key="screening.diastolic", label="Blood pressure, lower number", kind="number"),
    ),
)

SLOTS = Section(
    key="slots",
    title="Slots in the week",
    rows=(
        Rows(
            key="slot",
            one="slot",
            spare=2,
            hint="A time when the lifter can train. Two on one day are allowed.",
            fields=(
                Field(
                    key="day",
                    label="Day",
                    kind="choice",
                    choices=(("", "no slot"), *((day, DAY_NAMES[day]) for day in DAYS)),
                ),
                Field(key="start", label="Starts at", kind="time"),
                Field(key="minutes", label="Minutes", kind="number"),
            ),
        ),
    ),
)

EMPHASIS = Section(
    key="emphasis",
    title="Emphasis",
    folds=True,
    says=(
        "Lead has first call on sets, normal is the usual, hold is maintenance, skip is no direct "
        "work.",
    ),
    fields=tuple(
        Field(
            key=f"emphasis.{muscle}",
            label=muscle.replace("_", " "),
            kind="choice",
            choices=tuple((word, word) for word in ("normal", "lead", "hold", "skip")),
            usual="normal",
        )
        for muscle in MUSCLES
    ),
)

_ALLOWED = {
    "supersets": "Supersets",
    "rest_pause": "Rest-pause sets",
    "drop_sets": "Drop sets",
    "pre_exhaust": "Pre-exhaust: the single-joint lift first",
    "high_reps": "High repetitions",
    "to_failure": "To failure: RIR 0 in the last build week, safe lifts only",
}

ALLOW = Section(
    key="allow",
    title="What you allow in this block",
    folds=True,
    fields=tuple(
        Field(key=f"allow.{key}", label=label, kind="switch") for key, label in _ALLOWED.items()
    ),
)


@cache
def sections() -> tuple[Section, ...]:
    """Every part of the form, in the order of the page."""
    return (
        PERSON, BLOCK, SCREENING, SLOTS, EMPHASIS, NOW, ALLOW, _wishes(), _gym(), OWN_LIFT,
        _policy(),
    )  # fmt: skip


@cache
def fields() -> tuple[Field, ...]:
    return tuple(field for section in sections() for field in section.fields)


@cache
def rows() -> tuple[Rows, ...]:
    return tuple(one for section in sections() for one in section.rows)


def _wishes() -> Section:
    patterns = vocabulary().patterns
    return Section(
        key="wishes",
        title="Wishes and limits",
        folds=True,
        fields=(
            Field(key="likes.lifts", label="Lifts they like, one a line", kind="lines"),
            Field(key="limits.avoid_lifts", label="Lifts to keep out, one a line", kind="lines"),
            Field(
                key="limits.avoid_patterns",
                label="Movements to keep out",
                kind="checks",
                choices=tuple((name, name) for name in patterns),
            ),
            Field(
                key="limits.max_lifts_per_session", label="Most lifts in a session", kind="number"
            ),
        ),
        rows=(
            Rows(
                key="pin",
                one="pinned lift",
                hint="What you insist on. Without days it may stand on any.",
                fields=(
                    Field(key="lift", label="Lift", suggest="lift_names"),
                    Field(
                        key="days",
                        label="Days",
                        kind="checks",
                        choices=tuple((day, DAY_NAMES[day]) for day in DAYS),
                    ),
                    Field(
                        key="reps",
                        label="Repetitions",
                        hint="low, mid, high, or a range such as 5-10; may stay empty",
                    ),
                ),
            ),
        ),
    )


_LADDER = (
    Field(key="from", label="From", kind="number"),
    Field(key="to", label="To", kind="number"),
    Field(key="step", label="Step", kind="number"),
    Field(key="add_on", label="Add-on weights", kind="numbers", hint="such as 1.25 2.5"),
    Field(key="unit", label="In", kind="choice", choices=(("", "this file's units"), *UNITS)),
)


def _gym() -> Section:
    words = vocabulary()
    return Section(
        key="gym",
        title="The gym",
        folds=True,
        fields=(
            Field(
                key="gym.assumed",
                label="Nothing is known of it: assume a well-equipped one",
                kind="switch",
                hint="Then leave the rest of this part empty.",
            ),
            Field(
                key="gym.kit",
                label="Free kit",
                kind="checks",
                choices=tuple((word, word) for word in words.free_kit),
            ),
            Field(
                key="gym.kit_machines",
                label="Machines",
                kind="checks",
                choices=tuple((word, word) for word in words.machines),
            ),
            Field(
                key="gym.kit_other",
                label="Other kit, one a line",
                kind="lines",
                hint="A machine of an own lift bears the name of that lift.",
            ),
        ),
        rows=(
            Rows(
                key="gym.bar",
                one="bar",
                fields=(
                    Field(key="name", label="Name"),
                    Field(key="mass", label="Bare weight", hint="20, or 45 lb"),
                ),
            ),
            Rows(
                key="gym.plates",
                one="plate",
                spare=2,
                fields=(
                    Field(key="mass", label="One plate", hint="20, or 45 lb"),
                    Field(key="pairs", label="Pairs", kind="number"),
                ),
            ),
            Rows(
                key="gym.dumbbells",
                one="run of dumbbells",
                many="runs of dumbbells",
                fields=_LADDER,
            ),
            Rows(
                key="gym.stack",
                one="machine's weights",
                many="machines' weights",
                hint="Of a machine with a stack, or one that takes plates.",
                fields=(
                    Field(key="lift", label="Machine or lift", suggest="lift_names"),
                    *_LADDER,
                ),
            ),
        ),
    )


def _policy() -> Section:
    return Section(
        key="policy",
        title="Numbers changed for this lifter",
        folds=True,
        says=("A caution's threshold may be made stricter, never looser.",),
        rows=(
            Rows(
                key="policy",
                one="changed number",
                fields=(
                    Field(key="key", label="Which", suggest="policy_keys"),
                    Field(key="value", label="Value", hint="a number, a word, yes or no"),
                ),
            ),
        ),
    )
