"""What the form asks of the gym: kit, and what each piece of it can be loaded with."""

from collections.abc import Iterable

from blockwright.files.lifter_fields import UNITS, Field
from blockwright.files.vocabulary import vocabulary
from blockwright.web.lifter_form.fields import Rows, Section

_LADDER = (
    Field(key="from", label="From", kind="number"),
    Field(key="to", label="To", kind="number"),
    Field(key="step", label="Step", kind="number"),
    Field(key="add_on", label="Add-on weights", kind="numbers", hint="such as 1.25 2.5"),
    Field(key="unit", label="In", kind="choice", choices=(("", "this file's units"), *UNITS)),
)


_ROWS = (
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
    Rows(key="gym.dumbbells", one="run of dumbbells", many="runs of dumbbells", fields=_LADDER),
    Rows(
        key="gym.stack",
        one="machine's weights",
        many="machines' weights",
        hint="Of a machine with a stack, or one that takes plates.",
        fields=(Field(key="lift", label="Machine or lift", suggest="lift_names"), *_LADDER),
    ),
)


def _kit(key: str, label: str, words: Iterable[str]) -> Field:
    choices = tuple((word, word) for word in words)
    return Field(key=key, label=label, kind="checks", choices=choices)


def gym() -> Section:
    """The part of the form about the gym."""
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
            _kit("gym.kit", "Free kit", words.free_kit),
            _kit("gym.kit_machines", "Machines", words.machines),
            Field(
                key="gym.kit_other",
                label="Other kit, one a line",
                kind="lines",
                hint="A machine of an own lift bears the name of that lift.",
            ),
        ),
        rows=_ROWS,
    )
