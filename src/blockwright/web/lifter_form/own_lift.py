"""The part of the form for a lifter's own lifts."""

from blockwright.engine.training import MUSCLES, ZONES
from blockwright.files.lift_table import LOAD_KINDS, STABILITIES
from blockwright.files.vocabulary import FATIGUE_GROUPS, vocabulary
from blockwright.web.lifter_form.fields import Field, Rows, Section

_FOLLOWS = ("", "as follows from the rest")
_SAYS = (
    "Beside the built-in lifts. Name, muscles and movement are enough; what is left empty follows "
    "from them and from the kit.",
)
_LOAD_KINDS = {
    "external": "what is on the bar or machine",
    "bodyweight_plus": "added to bodyweight",
    "assisted": "help taken off bodyweight",
    "per_hand": "one hand's",
}
_SPINE = (("0", "0 none"), ("1", "1"), ("2", "2"), ("3", "3 heavy"))
_YES_NO = (_FOLLOWS, ("no", "no"), ("yes", "yes"))


def _follows(*words: str, says: dict[str, str] | None = None) -> tuple[tuple[str, str], ...]:
    named = says or {}
    return (_FOLLOWS, *((word, named.get(word, word.replace("_", " "))) for word in words))


OWN_LIFT = Section(
    key="lifts",
    title="Own lifts",
    folds=True,
    says=_SAYS,
    rows=(
        Rows(
            key="lift",
            one="own lift",
            fields=(
                Field(key="name", label="Name"),
                Field(
                    key="pattern",
                    label="Movement",
                    kind="choice",
                    choices=(("", "not said"), *((name, name) for name in vocabulary().patterns)),
                ),
                *(
                    Field(
                        key=f"muscles.{muscle}",
                        label=f"Share of {muscle.replace('_', ' ')}",
                        kind="number",
                        hint="1 direct, 0.5 or 0.25 in part" if muscle == MUSCLES[0] else "",
                    )
                    for muscle in MUSCLES
                ),
                Field(key="kit", label="Kit it needs, one a line", kind="lines"),
                Field(
                    key="load_kind",
                    label="The load written down is",
                    kind="choice",
                    choices=_follows(*LOAD_KINDS, says=_LOAD_KINDS),
                ),
                Field(
                    key="bodyweight_share",
                    label="Share of bodyweight moved",
                    kind="number",
                    hint="press-up about 0.64, pull-up about 1",
                ),
                Field(
                    key="axial",
                    label="Load on the spine",
                    kind="number",
                    choices=(_FOLLOWS, *_SPINE),
                ),
                Field(key="standard", label="Where a repetition starts and ends"),
                Field(key="caution", label="Caution"),
                *(
                    Field(key=f"reps.{zone}", label=f"Range for {zone} repetitions")
                    for zone in ZONES
                ),
                Field(key="aliases", label="Other names, one a line", kind="lines"),
                Field(key="compound", label="More than one joint", kind="answer", choices=_YES_NO),
                Field(
                    key="stability",
                    label="How it is guided",
                    kind="choice",
                    choices=_follows(*STABILITIES),
                ),
                Field(
                    key="fatigue_group",
                    label="Tires like",
                    kind="choice",
                    choices=_follows(*FATIGUE_GROUPS),
                ),
                Field(key="family", label="Family of lifts"),
                Field(key="setup_s", label="Seconds to set up", kind="number"),
                Field(key="seconds_per_rep", label="Seconds a repetition", kind="number"),
                Field(
                    key="safe_to_fail",
                    label="Safe to fail alone",
                    kind="answer",
                    choices=_YES_NO,
                ),
                Field(key="rir_least", label="Repetitions always kept in reserve", kind="number"),
            ),
        ),
    ),
)
