"""Position stands, rules that raise a load, and how little keeps what was gained."""

from dataclasses import dataclass

from blockwright.engine.published.finding import Finding, table
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


TWO_FOR_TWO = Finding(
    table({"extra repetitions": 2, "sessions in a row": 2}),
    "counts, in the last set",
    Source("Baechle & Earle", None, "two-for-two rule", "Essentials", "from memory"),
    note="then raise the load by 2.5-10 %",
)


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


NASCIMENTO_2017 = Finding(
    table({"bench press": 2, "curl": 2, "squat": 3}),
    "sessions to get used to a 1RM test",
    Source("Nascimento et al.", 2017, "familiarisation, women", "Biol Sport 34:279", "seen",
           "10.5114/biolsport.2017.67854"),
    note="a change of 2-4 % is meaningful; the first tests are learning",
)  # fmt: skip
