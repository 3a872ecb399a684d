"""Equations that predict 1RM from one set to failure, as printed, and how wrong they are.

The classic chart equations of Brzycki, Epley and Lander were not based on data (Biol Sport 2014,
PMC4042664, Table 1): conventions, not measurements. They serve as baselines in `backtest`.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass

from blockwright.engine.published.finding import Finding, table
from blockwright.engine.sources import Quoted, Source
from published.spread import Spread


@dataclass(frozen=True, slots=True)
class Equation:
    """One printed equation.

    `as_printed(load, reps)` is in the unit of load (kg for Cummings & Finn, which is not
    scale-free). `reps_below` is where it stops making sense: a pole, or none.
    """

    name: str
    as_printed: Callable[[float, float], float]
    source: Source
    reps_below: float = math.inf
    based_on_data: bool | None = None
    """None where we do not know."""
    note: str = ""

    def one_rm(self, load: float, reps: float) -> float:
        """Predicted 1RM, in the unit of `load`, from a set of `reps` to failure.

        One repetition to failure is a 1RM whatever the equation says of it. Raises ValueError
        for a load not above zero, for less than one repetition, and at or past the pole.
        """
        if not (math.isfinite(load) and load > 0):
            raise ValueError(f"a load of {load} predicts nothing")
        if not 1 <= reps < self.reps_below:
            raise ValueError(f"{self.name} takes 1 to under {self.reps_below:g} reps, not {reps}")
        return load if reps == 1 else self.as_printed(load, reps)


def _source(authors: str, year: int, where: str, quoted: Quoted = "from memory") -> Source:
    return Source(authors, year, "1RM prediction equation", where, quoted)


EPLEY = Equation(
    "Epley",
    lambda w, r: w * (1 + r / 30),
    _source("Epley B", 1985, "Poundage Chart, Boyd Epley Workout, University of Nebraska"),
    based_on_data=False,
    note="the chart's constant is printed as .0333, in some sources .033",
)
BRZYCKI = Equation(
    "Brzycki",
    lambda w, r: w * 36 / (37 - r),
    _source("Brzycki M", 1993, "JOPERD 64(1):88-90", "seen"),
    reps_below=37,
    based_on_data=False,
    note="less accurate from 10 repetitions",
)
LOMBARDI = Equation(
    "Lombardi",
    lambda w, r: w * r**0.10,
    _source("Lombardi VP", 1989, "Beginning Weight Training, WC Brown"),
)
OCONNER = Equation(
    "O'Conner",
    lambda w, r: w * (1 + 0.025 * r),
    _source("O'Conner B, Simmons J, O'Shea P", 1989, "Weight Training Today, West"),
)
MAYHEW = Equation(
    "Mayhew",
    lambda w, r: 100 * w / (52.2 + 41.9 * math.exp(-0.055 * r)),
    _source("Mayhew JL et al.", 1992, "J Appl Sport Sci Res 6(4):200-206"),
    based_on_data=True,
)
WATHAN = Equation(
    "Wathan",
    lambda w, r: 100 * w / (48.8 + 53.8 * math.exp(-0.075 * r)),
    _source("Wathan D", 1994, "in Baechle (ed), Essentials, 1st edition"),
)
LANDER = Equation(
    "Lander",
    lambda w, r: 100 * w / (101.3 - 2.67123 * r),
    _source("Lander J", 1985, "NSCA Journal 6(6):60-61"),
    reps_below=101.3 / 2.67123,
    based_on_data=False,
)
ADAMS = Equation(
    "Adams",
    lambda w, r: w / (1 - 0.02 * r),
    _source("Adams GM", 1998, "Exercise Physiology Laboratory Manual"),
    reps_below=50,
)
BROWN = Equation(
    "Brown",
    lambda w, r: w * (0.0328 * r + 0.9849),
    _source("Brown HL", 1992, "Lifetime Fitness"),
)
BERGER = Equation(
    "Berger",
    lambda w, r: w / (1.0261 * math.exp(-0.0262 * r)),
    _source("Berger RA", 1970, "attributed"),
)
KEMMLER = Equation(
    "Kemmler",
    lambda w, r: w * (0.988 + 0.0104 * r + 0.0019 * r**2 - 0.0000584 * r**3),
    _source("Kemmler WK et al.", 2006, "JSCR 20:795"),
    # The cubic turns down here; beyond it more repetitions would predict less.
    reps_below=24.15,
    based_on_data=True,
    note="trained postmenopausal women",
)
CUMMINGS = Equation(
    "Cummings & Finn",
    lambda w, r: 1.175 * w + 0.839 * r - 4.29787,
    _source("Cummings B, Finn KJ", 1998, "JSCR 12:262"),
    based_on_data=True,
    note="women, bench press, kilograms only",
)

EQUATIONS: tuple[Equation, ...] = (
    EPLEY, BRZYCKI, LOMBARDI, OCONNER, MAYHEW, WATHAN, LANDER, ADAMS, BROWN, BERGER, KEMMLER,
    CUMMINGS,
)  # fmt: skip

PROVENANCE = Finding(
    table({"not based on data": ("Brzycki", "Epley", "Lander"), "peer-reviewed data": ("Mayhew",)}),
    "equations",
    Source(
        "Commentary", 2014, "provenance of the chart equations", "Biol Sport, Table 1 (PMC4042664)",
        "seen",
    ),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class FiveRM:
    """1RM = slope x 5RM + intercept (kg), with the standard error of the prediction in kg."""

    slope: float
    intercept_kg: float
    error_kg: float
    r_squared: float

    def one_rm_kg(self, five_rm_kg: float) -> float:
        """Predicted 1RM, kg; ValueError for a load not above zero."""
        if not (math.isfinite(five_rm_kg) and five_rm_kg > 0):
            raise ValueError(f"a 5RM of {five_rm_kg} kg predicts nothing")
        return self.slope * five_rm_kg + self.intercept_kg


REYNOLDS_2006 = Finding(
    table(
        {
            "bench press": FiveRM(1.1307, 0.6999, 2.98, 0.993),
            "leg press": FiveRM(1.0970, 14.2546, 16.16, 0.974),
        }
    ),
    "kg",
    Source(
        "Reynolds, Gordon, Robergs", 2006, "1RM from 5RM", "JSCR 20:584-592", "seen",
        "10.1519/R-15304.1",
    ),
    note="n = 70; not more than 10 repetitions advised",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class LiftersRegression:
    """1RM = constant + load x reps x `per_load_rep` + reps x `per_rep`; all kg."""

    constant: float
    per_load_rep: float
    per_rep: float
    error_kg: float


HIGH_SCHOOL_LIFTERS_2003 = Finding(
    table(
        {
            "squat": LiftersRegression(159.9, 0.103, -11.552, 5.06),
            "bench press": LiftersRegression(90.66, 0.085, -5.306, 2.69),
            "deadlift": LiftersRegression(156.08, 0.098, -12.106, 4.97),
        }
    ),
    "kg",
    Source("JSCR study", 2003, "high-school power lifters", "JSCR 17:167", "seen"),
    note="an order of magnitude for the error of a good prediction: 3 to 5 kg",
)

HUTCHINS_2010 = Finding(
    table(
        {
            "bench press, kg": (5.4, 6.8),
            "curl, kg": (5.3, 6.9),
            "total error, %": (10.6, 13.5),
        }
    ),
    "as named",
    Source(
        "Hutchins & Gearhart", 2010, "error of common equations at 85 % of 1RM", "n = 27", "seen"
    ),
    note="a single set cannot fix a 1RM closer than a few per cent",
)

MITTER_EQUATION_ERROR = Finding(
    table(
        {
            90: table({
                EPLEY: Spread(4.6, 3.5), BRZYCKI: Spread(1.0, 3.6), LOMBARDI: Spread(5.2, 3.0),
                OCONNER: Spread(1.0, 2.6), MAYHEW: Spread(6.8, 2.6), WATHAN: Spread(4.5, 4.0),
                LANDER: Spread(2.1, 3.5),
            }),
            80: table({
                EPLEY: Spread(6.3, 3.1), BRZYCKI: Spread(6.3, 4.6), LOMBARDI: Spread(0.5, 1.2),
                OCONNER: Spread(-0.3, 2.4), MAYHEW: Spread(4.5, 2.2), WATHAN: Spread(7.4, 3.3),
                LANDER: Spread(6.9, 4.5),
            }),
            70: table({
                EPLEY: Spread(8.1, 5.4), BRZYCKI: Spread(23.3, 14.8), LOMBARDI: Spread(-7.4, 1.3),
                OCONNER: Spread(-1.4, 4.0), MAYHEW: Spread(1.0, 3.1), WATHAN: Spread(8.2, 4.5),
                LANDER: Spread(22.6, 14.1),
            }),
        }
    ),
    "% of the measured 1RM, by % of 1RM lifted",
    Source(
        "Mitter et al.", 2022, "error of seven equations on raw data",
        "raw data, single against multiple visits (Apache-2.0)", "computed",
    ),
    note="bench press, 14 trained men, sets to failure on separate days",
)  # fmt: skip
