"""How often a right set is asked about, and a wrong one; on simulated lifters."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from blockwright.engine.policy import Policy
from blockwright.engine.strength import replay
from blockwright.engine.training import SetDone
from blockwright.engine.units import KG_PER_LB
from blockwright.files.policy_files import default_policy
from studies.lifters import LIFT, simulated
from studies.strength_study import CATALOGUE
from studies.worlds import WORLDS, World

SESSIONS = 14
WRONG_FROM = 6
"""Earlier sets have little to be held against."""
ASKED = ("surprising", "out_of_line", "mistyped", "changed_level", "unit_switch", "two_levels",
         "beyond_anyone", "unlikely")  # fmt: skip
LEFT_OUT = ("out_of_line", "mistyped", "beyond_anyone", "unlikely")
WRONGS: Mapping[str, Callable[[float], float]] = {
    "ten times the load": lambda load: load * 10.0,
    "a tenth of it": lambda load: load / 10.0,
    "pounds for kilograms": lambda load: load / KG_PER_LB,
    "kilograms for pounds": lambda load: load * KG_PER_LB,
    "30 % too heavy": lambda load: load * 1.3,
    "30 % too light": lambda load: load * 0.7,
    "a whole session on a machine 30 % off": lambda load: load * 1.3,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class AskingScore:
    """One world."""

    asked: float
    left_out: float
    """Of 100 right sets of logs without an error; those left out are asked about, too."""
    found: Mapping[str, float]
    """By kind: share of lifters of whom the wrong set, or one of the session, is asked about."""


def asking_score(world: World, policy: Policy, *, lifters: int, seed: int) -> AskingScore:
    """Logs without an error, then with one a lifter, of each kind in turn."""
    rng = np.random.default_rng(seed)
    right = replace(world, slip_share=0.0)
    sets = simulated(right, rng, lifters=lifters, exposures=SESSIONS).sets
    places: dict[str | None, list[int]] = {}
    for at, one in enumerate(sets):
        places.setdefault(one.lifter, []).append(at)
    picked = {}
    for who, mine in places.items():
        days = sorted({sets[at].moment.day for at in mine})
        day = days[int(rng.integers(WRONG_FROM, SESSIONS - 1))]
        picked[who] = [at for at in mine if sets[at].moment.day == day]
    flagged = _flagged(sets, policy)
    found = {}
    for kind, wrong in WRONGS.items():
        written = list(sets)
        touched = {}
        for who, session in picked.items():
            touched[who] = (
                session if "session" in kind else [session[int(rng.integers(len(session)))]]
            )
            for at in touched[who]:
                load = wrong(sets[at].loads_kg[0])
                written[at] = replace(sets[at], loads_kg=(load,), entered_load=f"{load:g}")
        asked = _flagged(written, policy)
        found[kind] = float(
            np.mean([any(asked.get(at) in ASKED for at in mine) for mine in touched.values()])
        )
    share = 100.0 / len(sets)
    return AskingScore(
        asked=share * sum(code in ASKED for code in flagged.values()),
        left_out=share * sum(code in LEFT_OUT for code in flagged.values()),
        found=found,
    )


def _flagged(sets: Sequence[SetDone], policy: Policy) -> dict[int, str]:
    """Code by place in `sets`."""
    numbered = [replace(one, row=at + 2) for at, one in enumerate(sets)]
    beliefs = replay(numbered, CATALOGUE, policy)
    return {
        flag.row - 2: flag.code for who, _ in beliefs.series for flag in beliefs.flags(LIFT, who)
    }


def asking_study(lifters: int = 150, seed: int = 20270107) -> str:
    """The section of docs/validation.md."""
    policy = default_policy()
    names = ("own law", "hyperbolic curve", "heavy tails", "two zones", "foreign in everything")
    worlds = [world for world in WORLDS if world.name in names]
    scores = {w.name: asking_score(w, policy, lifters=lifters, seed=seed) for w in worlds}
    return "\n".join(
        [
            f"{lifters} simulated lifters a world, {SESSIONS} sessions of 3 to 5 sets (seed {seed})"
            ". First logs without an error: of 100 right sets, how many `estimate` asks about, "
            "and how many of these it leaves out until they are confirmed. Then one error a lifter "
            f"from session {WRONG_FROM + 1} on: the share that is asked about.",
            "",
            f"| world | right sets asked about | left out | {' | '.join(WRONGS)} |",
            "|---|---|---|" + "---|" * len(WRONGS),
            *(
                f"| {name} | {s.asked:.2f} | {s.left_out:.2f} | "
                + " | ".join(f"{s.found[kind]:.2f}" for kind in WRONGS)
                + " |"
                for name, s in scores.items()
            ),
        ]
    )
