"""What the form asks, part by part, in a coach's words. The keys are the lifter file's."""

from functools import cache

from blockwright.engine.screening import CAUSES
from blockwright.engine.training import DAYS, MUSCLES
from blockwright.files.vocabulary import vocabulary
from blockwright.web.lifter_form.fields import Field, Rows, Section
from blockwright.web.lifter_form.gym import UNITS, gym
from blockwright.web.lifter_form.own_lift import OWN_LIFT

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
            key="experience",
            label="Experience with lifting",
            kind="choice",
            choices=tuple((word, word) for word in ("novice", "intermediate", "advanced")),
            usual="intermediate",
        ),
    ),
)

BLOCK = Section(
    key="block",
    title="Length and shape of the block",
    folds=True,
    fields=(
        Field(
            key="weeks",
            label="Build weeks before the deload",
            kind="number",
            choices=tuple((str(n), str(n)) for n in range(3, 9)),
            usual="6",
        ),
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
    says=("Where there is no log: what was done lately, or what you have seen.",),
    rows=(
        Rows(
            key="known",
            one="known set",
            spare=2,
            hint="A few sets of the main lifts give the first loads.",
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

HABITS = Section(
    key="habits",
    title="Sets a muscle gets now",
    folds=True,
    says=("In a usual week, where there is no log.",),
    fields=tuple(
        Field(
            key=f"habits.weekly_sets.{muscle}",
            label=muscle.replace("_", " "),
            kind="number",
        )
        for muscle in MUSCLES
    ),
)

GOALS = Section(
    key="goals",
    title="Goals",
    fields=(
        Field(
            key="energy",
            label="Bodyweight: energy eaten against energy spent",
            kind="choice",
            choices=tuple((word, word) for word in ("surplus", "maintenance", "deficit")),
            usual="maintenance",
        ),
        Field(key="likes.lifts", label="Lifts they like, one a line", kind="lines"),
    ),
)

MORE = Section(
    key="more",
    title="Sex",
    folds=True,
    fields=(
        Field(
            key="sex",
            label="Sex",
            kind="choice",
            choices=(("", "not said"), ("female", "female"), ("male", "male")),
            hint="Only widens or shifts the first beliefs; never needed.",
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
    ),
)

CLEARANCE = Section(
    key="clearance",
    title="Clearance and blood pressure",
    folds=True,
    fields=(
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
    title="Days and minutes",
    fields=(Field(key="start", label="First Monday", kind="day"),),
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
    """Every part of the form, in the order of the page: what a first block needs, then the rest,
    folded."""
    return (
        PERSON, SLOTS, NOW, _hurts(), GOALS, SCREENING, CLEARANCE, EMPHASIS, HABITS, BLOCK, ALLOW,
        _wishes(), gym(), OWN_LIFT, MORE, _policy(),
    )  # fmt: skip


@cache
def fields() -> tuple[Field, ...]:
    return tuple(field for section in sections() for field in section.fields)


@cache
def rows() -> tuple[Rows, ...]:
    return tuple(one for section in sections() for one in section.rows)


def _hurts() -> Section:
    return Section(
        key="hurts",
        title="What hurts",
        says=("What is kept out of every block. Pain on a day is said in the log.",),
        fields=(
            Field(key="limits.avoid_lifts", label="Lifts to keep out, one a line", kind="lines"),
            Field(
                key="limits.avoid_patterns",
                label="Movements to keep out",
                kind="checks",
                choices=tuple((name, name) for name in vocabulary().patterns),
            ),
        ),
    )


def _wishes() -> Section:
    return Section(
        key="wishes",
        title="What you insist on",
        folds=True,
        fields=(
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
