"""Position stands, rules that raise a load, and how little keeps what was gained."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from blockwright.engine.published.finding import Effect, Finding, table
from blockwright.engine.sources import Source

_ACSM_2009_DOI = "10.1249/MSS.0b013e3181915670"


@dataclass(frozen=True, slots=True)
class ProgressionStand:
    """Ranges of a position stand; pairs are from and to."""

    novice_rm: tuple[int, int]
    advanced_rm: tuple[int, int]
    heavy_rm: tuple[int, int]
    heavy_rest_min: tuple[float, float]
    load_step_pct: tuple[float, float]
    extra_reps_trigger: tuple[int, int]
    days_a_week: tuple[tuple[str, tuple[int, int]], ...]


ACSM_2009 = Finding(
    ProgressionStand(
        novice_rm=(8, 12),
        advanced_rm=(1, 12),
        heavy_rm=(1, 6),
        heavy_rest_min=(3, 5),
        load_step_pct=(2, 10),
        extra_reps_trigger=(1, 2),
        days_a_week=(("novice", (2, 3)), ("intermediate", (3, 4)), ("advanced", (4, 5))),
    ),
    "as named",
    Source("ACSM", 2009, "progression models", "MSSE 41:687-708", "seen", _ACSM_2009_DOI),
)


def acsm_step_fits(load: float, raised: float, reps_over_target: int) -> bool:
    """Whether a raise keeps to `ACSM_2009`: 2-10 %, after one repetition over target or more."""
    low, high = ACSM_2009.value.load_step_pct
    if not load > 0:
        raise ValueError("a load must be above zero")
    pct = 100 * (raised / load - 1)
    return (
        reps_over_target >= ACSM_2009.value.extra_reps_trigger[0]
        and low - 1e-9 <= pct <= high + 1e-9
    )


ACSM_2009_HYPERTROPHY = Finding(
    table({
        "novice and intermediate": ((70, 85), (1, 3), (8, 12)),
        "advanced": ((70, 100), (3, 6), (1, 12)),
    }),
    "(% of 1RM, sets, repetitions), each from and to",
    Source("ACSM", 2009, "hypertrophy", "MSSE 41:687-708", "seen", _ACSM_2009_DOI),
    note="rest 2-3 min heavy, 1-2 min light",
)  # fmt: skip

ACSM_2026 = Finding(
    table({"strength, % of 1RM at least": 80.0, "strength, times a week at least": 2.0,
           "growth, weekly sets a muscle about": 10.0}),
    "as named",
    Source("ACSM", 2026, "overview of 137 systematic reviews", "MSSE April 2026, in a news page",
           "seen", "10.1249/MSS.0000000000003897"),
    note="the stand itself was not seen; failure, equipment and periodisation not decisive",
)  # fmt: skip

TWO_FOR_TWO = Finding(
    table({"extra repetitions": 2, "sessions in a row": 2}),
    "counts, in the last set",
    Source("Baechle & Earle", None, "two-for-two rule", "Essentials", "from memory"),
    note="then raise the load by 2.5-10 %",
)


def two_for_two(last_set_reps: Sequence[int], target_reps: int) -> bool:
    """Whether the rule asks for more load, from the last sets of sessions, oldest first."""
    sessions = TWO_FOR_TWO.value["sessions in a row"]
    wanted = target_reps + TWO_FOR_TWO.value["extra repetitions"]
    recent = last_set_reps[-sessions:]
    return len(recent) == sessions and all(reps >= wanted for reps in recent)


Trained = Literal["less trained", "more trained"]
Area = Literal["upper", "lower"]


@dataclass(frozen=True, slots=True)
class LoadStep:
    """A step in load, from and to, in each unit; `or_more` where the table prints a plus."""

    kg: tuple[float, float]
    lb: tuple[float, float]
    or_more: bool = False


LOAD_STEPS = Finding(
    table({
        ("less trained", "upper"): LoadStep(kg=(1, 2), lb=(2.5, 5)),
        ("less trained", "lower"): LoadStep(kg=(2, 4), lb=(5, 10)),
        ("more trained", "upper"): LoadStep(kg=(2, 4), lb=(5, 10), or_more=True),
        ("more trained", "lower"): LoadStep(kg=(4, 7), lb=(10, 15), or_more=True),
    }),
    "kg and lb",
    Source("NSCA Essentials", None, "load increases", "table of load increases", "from memory"),
)  # fmt: skip


def load_step(trained: Trained, area: Area) -> LoadStep:
    """The handbook's step for a lifter and a body area."""
    return LOAD_STEPS.value[trained, area]


PLOTKIN_2022 = Finding(
    table({"more load": (76.9, 98.7), "more repetitions": (86.8, 106.2)}),
    "kg squat 1RM before and after 8 weeks",
    Source("Plotkin et al.", 2022, "load against repetition progression", "PeerJ 10:e14142", "seen",
           "10.7717/peerj.14142"),
    note="n = 22 and 21",
)  # fmt: skip

PLOTKIN_2022_DIFFERENCE = Finding(
    Effect(-2.0, -7.8, 2.4),
    "kg, adjusted difference with 90 % interval",
    PLOTKIN_2022.source,
    note="the two rules are interchangeable over 8 weeks",
)

BICKEL_2011 = Finding(
    table({"one third": 1 / 3, "one ninth": 1 / 9}),
    "share of the building dose tested over 32 weeks",
    Source("Bickel, Cross, Bamman", 2011, "maintenance dose", "MSSE 43:1177", "seen"),
    note="n = 70; the young kept size on both, the old on neither; strength mostly kept",
)

NASCIMENTO_2017 = Finding(
    table({"bench press": 2, "curl": 2, "squat": 3}),
    "sessions to get used to a 1RM test",
    Source("Nascimento et al.", 2017, "familiarisation, women", "Biol Sport 34:279", "seen",
           "10.5114/biolsport.2017.67854"),
    note="a change of 2-4 % is meaningful; the first tests are learning",
)  # fmt: skip
