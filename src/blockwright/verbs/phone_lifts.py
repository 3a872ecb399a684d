"""What the phone gets of each lift, as numbers it can compute with: what next-set advice starts
from, and the lifts that can stand in, where the machine is taken and where it hurts.

`engine/day_sheet/next_set.py` is the source of truth; the phone's copy must give its answers. Loads
keep nine digits and beliefs seven: more than any answer depends on. For a taken machine near twins
are what is wanted. For pain they are what is not: `engine/review/swaps.py` says what spares the
place that hurts, often nothing."""

from dataclasses import asdict, dataclass, replace
from datetime import date
from functools import cached_property, lru_cache
from itertools import islice
from math import isfinite
from typing import TYPE_CHECKING, Any

import numpy as np

from blockwright.engine.day_sheet import SheetEntry, believing_the_day, rest_between_sets_s
from blockwright.engine.pain import JOINT_MUSCLES, joints_loaded, loads_place, place_in
from blockwright.engine.planning.candidates import usable_lifts
from blockwright.engine.planning.likeness import likest
from blockwright.engine.policy import Policy
from blockwright.engine.rack import Rack, Setting, jump_kg, listed_most_kg, rack_for
from blockwright.engine.rack.makers import Maker
from blockwright.engine.reasons import Caution
from blockwright.engine.review import alternatives_for_pain, pain_swap_caution, trains_alike
from blockwright.engine.review.case import pain_said
from blockwright.engine.review.safety import letter_day, pain_state
from blockwright.engine.strength import Beliefs, strength_law, unlogged
from blockwright.engine.strength.plausible import Limits
from blockwright.engine.strength.state import FilterState
from blockwright.engine.training import (
    Block,
    Catalogue,
    Entry,
    Lift,
    Session,
    effective_load_kg,
    written_load_kg,
)
from blockwright.files.codec import to_json

if TYPE_CHECKING:
    from .phone_sheet import Prepared


RACK_LOW, RACK_HIGH = 0.6, 1.3
"""Settings sent, as shares of what the planned loads move: wider than any advice reaches."""
MOST_SETTINGS = 60

_POLICY = (
    "load.short_cost", "load.above_cost", "load.far_cost", "next_set.step_up",
    "next_set.steps_up", "next_set.step_down", "next_set.steps_down",
    "load.most_up", "strength.evidence_max_reps", "fatigue.part_rest_s",
    "finding.step", "finding.far_rir", "finding.more_rir", "finding.far_step", "finding.stop_rir",
    "finding.most_tries",
    "suspect.far_ratio", "suspect.easy_rir", "suspect.kg_per_rep_share", "suspect.kit_ratio",
    "suspect.ten_tolerance_pct",
    "strength.robust.flag_z",
)  # fmt: skip


def advice_law(policy: Policy) -> dict[str, Any]:
    """The strength law's constants; a result is believed in full, so nothing of the robust part."""
    law = asdict(strength_law(policy))
    return {key: value for key, value in law.items() if key != "robust"}


def advice_policy(policy: Policy) -> dict[str, float]:
    return {key: policy.number(key) for key in _POLICY}


def advice_inputs(
    entry: SheetEntry,
    session: Session,
    block: Block,
    catalogue: Catalogue,
    policy: Policy,
    beliefs: Beliefs | None,
) -> dict[str, Any]:
    """One lift's belief on the day, its kind of load, its rest and the settings of its rack."""
    lift, day = entry.lift, session.day
    rack = rack_for(lift, block.lifter.gym, policy)
    loads = [made.planned.load_kg for made in entry.sets if made.planned.load_kg is not None]
    limits = Limits.of(policy, block.lifter.experience)
    asked_kg = block.lifter.bodyweight_kg or policy.number("suspect.unknown_bodyweight_kg")
    return {
        "load_kind": lift.load_kind,
        "bodyweight_share": lift.bodyweight_share,
        "more_is_easier": rack.more_is_easier,
        "rest_s": rest_between_sets_s(entry.entry, session, catalogue),
        "seconds_per_rep": lift.seconds_per_rep,
        "setup_s": lift.setup_s,
        "jump_kg": jump_kg(lift, policy),
        "gently": entry.finding is not None and entry.finding.gently,
        "ask_above_kg": _finite(limits.ask_one_rm_kg(lift, asked_kg)),
        "kit_most_kg": listed_most_kg(lift, block.lifter.gym, policy),
        "rack": [
            to_json(made) | {"load_kg": _short(made.load_kg)}
            for made in _settings(rack, lift, loads, block.lifter.bodyweight_kg)
        ],
        "belief": _belief(lift, block, day, policy, beliefs),
    }


def _settings(
    rack: Rack, lift: Lift, loads: list[float], bodyweight_kg: float | None
) -> list[Setting]:
    """Settings around the planned loads, the lightest number first; without a planned load those
    that the way to find one goes through, from the easiest on."""
    if not loads:
        return list(_from_the_easiest(rack.makers, rack.more_is_easier))
    ends = [
        _moved_by(share, lift, load_kg, bodyweight_kg)
        for share in (RACK_LOW, RACK_HIGH)
        for load_kg in loads
    ]
    found = list(rack.between(max(min(ends), 0.0), max(ends)))
    if len(found) > MOST_SETTINGS:
        middle = sum(loads) / len(loads)
        nearest = sorted(found, key=lambda made: abs(made.load_kg - middle))[:MOST_SETTINGS]
        found = sorted(nearest, key=lambda made: made.load_kg)
    return found


def _moved_by(share: float, lift: Lift, load_kg: float, bodyweight_kg: float | None) -> float:
    """What to write on the sheet for this share of what the load moves, bodyweight included."""
    effective_kg = effective_load_kg(lift, load_kg, bodyweight_kg)
    if effective_kg is None or effective_kg <= 0:
        return share * load_kg
    return written_load_kg(lift, share * effective_kg, bodyweight_kg) or 0.0


@lru_cache(maxsize=256)
def _from_the_easiest(makers: tuple[Maker, ...], more_is_easier: bool) -> tuple[Setting, ...]:
    """Remembered: of a sheet's stand-ins most have no load yet, and a gym has few racks."""
    rack = Rack(makers, more_is_easier=more_is_easier)
    harder = islice(rack.harder_than(rack.easiest.load_kg), MOST_SETTINGS - 1)
    return (rack.easiest, *harder)


def _belief(
    lift: Lift, block: Block, day: date, policy: Policy, beliefs: Beliefs | None
) -> dict[str, Any]:
    # As on the sheet: a guess from the lift's relatives moves no load.
    own = None if beliefs is None else beliefs.own(lift.name, block.lifter.name)
    belief = own or unlogged(lift, day, policy)
    return {
        "known": bool(belief.state.started[0]),
        "sets_used": belief.sets_used,
        **_state(believing_the_day(belief, policy).state_on(day)),
    }


def _state(state: FilterState) -> dict[str, Any]:
    two = {"own": state.own_load, "other": state.other_load, "apart": state.apart}
    return {
        "mean": _numbers(state.mean[..., 0]),
        "cov": _numbers(state.whole_cov[..., 0]),
        "log_weight": _numbers(state.log_weight[:, 0]),
        "kappa": _numbers(state.kappa[:, 0]),
        "fast": _short(float(state.fast[0])),
        "slow": _short(float(state.slow[0])),
        "noise_scale": _short(float(state.noise_scale[0])),
        "levels": {key: _short(float(each[0])) for key, each in two.items()}
        if state.two[0]
        else None,
    }


def _numbers(array: Any) -> Any:
    return [_numbers(one) for one in array] if np.ndim(array) else _short(float(array), 7)


def _finite(value: float) -> float | None:
    return _short(value) if isfinite(value) else None


def _short(value: float, digits: int = 9) -> float:
    """Nought and other whole numbers without the ".0" that most of a belief would be."""
    short = float(f"{value:.{digits}g}")
    return int(short) if short.is_integer() else short


# --------------------------------------------------------------------------------------- stand-ins
MOST_SWAPS = 4
MOST_FOR_PAIN = 2  # By place: a phone without signal holds them all
NOT_SAID = ""


@dataclass(frozen=True, slots=True)
class SparesPain:
    """What an entry could become when its lift hurts."""

    caution: Caution
    by_place: dict[str, list[str]]
    """Lifts by the place that hurts; the empty place where nobody says which."""
    entries: list[SheetEntry]  # All of them, each as the entry it would be


@dataclass(frozen=True)
class Swaps:
    prepared: "Prepared"

    def near(self, entry: SheetEntry) -> list[SheetEntry]:
        """The likest lifts for the same muscles, those that suit the repetitions first. The kit
        allows them, the lifter does not avoid them, the session does not hold them, and they are
        not what hurt lately; the kit may be what is taken."""
        direct, zone = set(entry.lift.direct), entry.entry.zone
        alike = (lift for lift in self._allowed if direct.intersection(lift.direct))
        likely = likest(entry.lift, alike, self.prepared.case.policy, taken=True)[:MOST_SWAPS]
        likely.sort(key=lambda lift: zone not in lift.reps)
        return [self._as_entry(entry, lift.name) for lift in likely]

    def others(self) -> dict[str, list[str]]:
        """Names of all lifts that may be added, in another gym too, by how their load is told;
        those done one side at a time once more under `each_side`."""
        found: dict[str, list[str]] = {}
        for lift in sorted(self._usable("kit"), key=lambda lift: lift.name):
            sides = ["each_side"] if "both sides are one rep" in lift.standard else []
            for kind in (lift.load_kind, *sides):
                found.setdefault(kind, []).append(lift.name)
        return found

    def for_pain(self, entry: SheetEntry) -> SparesPain:
        """For each place the lift loads, and for pain nobody placed."""
        at = self.prepared
        alike = trains_alike(entry.lift, at.case.catalogue, at.block.lifter)
        found = {
            place: alternatives_for_pain(
                entry.lift,
                alike,
                at.case.policy,
                places=(place, *self._sore_places),
                avoid=self._here | self._sore_lifts,
            )
            for place in (NOT_SAID, *places_of(entry.lift))
        }
        by_place = {
            place: [lift.name for lift in swaps[:MOST_FOR_PAIN]] for place, swaps in found.items()
        }
        names = dict.fromkeys(name for names in by_place.values() for name in names)
        return SparesPain(
            caution=pain_swap_caution(entry.lift),
            by_place=by_place,
            entries=[self._as_entry(entry, name) for name in names],
        )

    @cached_property
    def _allowed(self) -> tuple[Lift, ...]:
        return self._usable()

    def _usable(self, *waive: str) -> tuple[Lift, ...]:
        usable = usable_lifts(self.prepared.block.lifter, self.prepared.case.catalogue, waive)
        return tuple(
            lift
            for lift in usable
            if lift.name not in self._here | self._sore_lifts
            and not any(loads_place(lift, place) for place in self._sore_places)
        )

    @cached_property
    def _here(self) -> frozenset[str]:
        names = (entry.lift for entry in self.prepared.chosen.session.entries)
        return frozenset(lift.name for lift in self.prepared.case.catalogue.known(names))

    @cached_property
    def _sore(self) -> frozenset[str]:
        """What hurt above the carry-on line when it was last spoken of, not too long ago."""
        at = self.prepared
        memory = at.case.policy.days("safety.pain_memory_days")
        since = letter_day(at.chosen.session.day) - memory
        states = (
            pain_state(about, said, at.case.policy) for about, said in pain_said(at.case).items()
        )
        return frozenset(
            state.about for state in states if state is not None and state.latest.day >= since
        )

    @cached_property
    def _sore_lifts(self) -> frozenset[str]:
        return frozenset(name for name in self._sore if self.prepared.case.catalogue.find(name))

    @cached_property
    def _sore_places(self) -> tuple[str, ...]:
        places = (place_in(words) for words in self._sore - self._sore_lifts)
        return tuple(sorted({place for place in places if place is not None}))

    def _as_entry(self, entry: SheetEntry, name: str) -> SheetEntry:
        """The entry with another lift: same sets and effort, the load left to what was logged."""
        at = self.prepared
        session = at.chosen.session
        planned = next(one for one in session.entries if one.order == entry.entry.order)
        alone = replace(session, entries=(_swapped(planned, at.case.catalogue.lifts[name]),))
        made = replace(at, chosen=replace(at.chosen, session=alone))
        return made.sheet(with_advice=False).entries[0]


def places_of(lift: Lift) -> tuple[str, ...]:
    """Joints and muscles a lift loads, as a person may name them: joints first."""
    joints = joints_loaded(lift)
    return (*(joint for joint in JOINT_MUSCLES if joint in joints), *lift.direct)


def _swapped(entry: Entry, lift: Lift) -> Entry:
    sets = tuple(
        replace(planned, load_kg=None, rir=lift.rir_for(planned.rir)) for planned in entry.sets
    )
    if entry.zone not in lift.reps and lift.prefers:
        own = lift.prefers[0]
        sets = tuple(
            replace(one, reps_low=own.low, reps_high=own.high, aim_low=None, aim_high=None)
            for one in sets
        )
    return replace(entry, lift=lift.name, sets=sets)
