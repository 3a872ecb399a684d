"""The part of the form for a lifter's own lifts."""

from blockwright.engine.training import MUSCLES, REGIONS, ROLES, ZONES
from blockwright.files.lift_table import LOAD_KINDS, STABILITIES
from blockwright.files.lifter_fields import Field
from blockwright.files.vocabulary import FATIGUE_GROUPS, vocabulary
from blockwright.web.lifter_form.fields import Rows, Section

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
_ROLES = {
    "main": "main: of several joints, may open a session",
    "second": "second: of several joints, comes after one",
    "small": "small: of one joint",
}
_SKILL = (("0", "0 none"), ("1", "1"), ("2", "2"), ("3", "3 months of practice"))
_PLAIN = (("0", "0 an oddity"), ("1", "1"), ("2", "2"), ("3", "3 a first choice everywhere"))
_LOADS = (_FOLLOWS, ("1", "1 some"), ("2", "2 much"))
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
                Field(
                    key="prefers",
                    label="Ranges it is best in, best first, one a line",
                    kind="lines",
                ),
                Field(key="compound", label="More than one joint", kind="answer", choices=_YES_NO),
                Field(
                    key="role",
                    label="Its part",
                    kind="choice",
                    choices=_follows(*ROLES, says=_ROLES),
                ),
                Field(
                    key="plainness",
                    label="How ordinary it is",
                    kind="number",
                    choices=(_FOLLOWS, *_PLAIN),
                ),
                Field(
                    key="skill",
                    label="Technique it asks for",
                    kind="number",
                    choices=(_FOLLOWS, *_SKILL),
                ),
                Field(
                    key="angle",
                    label="Angle or length",
                    kind="choice",
                    choices=_follows(*vocabulary().angles),
                ),
                *(
                    Field(
                        key=f"regions.{region}",
                        label=f"Load on the {region.replace('_', ' ')}",
                        kind="number",
                        choices=_LOADS,
                    )
                    for region in REGIONS
                ),
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
