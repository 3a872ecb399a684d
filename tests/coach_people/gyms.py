"""Invented gyms, as the `[gym]` part of a lifter file."""

_KG_BAR = """
[[gym.bar]]
name = "20 kg bar"
mass = 20
[gym.plates]
"25" = 2
"20" = 4
"15" = 1
"10" = 2
"5" = 2
"2.5" = 2
"1.25" = 2
"""
_LB_BAR = """
[[gym.bar]]
name = "45 lb bar"
mass = 45
[gym.plates]
"45" = 4
"25" = 1
"10" = 2
"5" = 2
"2.5" = 1
"""


def _kit(*words: str) -> str:
    return "[gym]\nkit = [" + ", ".join(f'"{word}"' for word in words) + "]\n"


def _dumbbells(low: float, high: float, step: float) -> str:
    return f"[gym.dumbbells]\nfrom = {low}\nto = {high}\nstep = {step}\n"


_FREE = ("bar", "ez bar", "squat rack", "bench", "incline bench", "plates", "dumbbells", "box")
_CABLES = ("cable", "pull-up bar", "dip bars", "back extension bench")
_MACHINES = (
    "leg press", "hack squat", "leg extension", "seated leg curl", "lying leg curl",
    "standing calf raise", "seated calf raise", "hip adduction", "hip abduction", "chest press",
    "incline chest press", "machine shoulder press", "machine fly", "machine reverse fly",
    "machine lateral raise", "seated row", "chest-supported row", "machine lat pulldown",
    "assisted pull-up", "machine hip thrust", "machine crunch", "machine curl",
)  # fmt: skip

GYMS = {
    "full": _kit(*_FREE, *_CABLES, *_MACHINES, "preacher bench", "smith machine squat",
                 "pendulum squat", "trap bar") + _KG_BAR + _dumbbells(2, 50, 2),
    "usual": _kit(*_FREE, *_CABLES, "leg press", "leg extension", "leg curl", "chest press",
                  "seated row", "machine fly", "standing calf raise", "assisted pull-up")
    + _KG_BAR + _dumbbells(4, 40, 2),
    "small": _kit("bar", "squat rack", "bench", "plates", "dumbbells", "cable", "leg press",
                  "leg curl", "pull-up bar") + _KG_BAR + _dumbbells(4, 34, 2),
    "barbell": _kit("bar", "squat rack", "bench", "plates", "pull-up bar", "dip bars", "box")
    + _KG_BAR,
    "machines": _kit("cable", "bench", "box", *_MACHINES),
    "dumbbells": _kit("dumbbells", "bench") + _dumbbells(4, 32, 2),
    "bands": _kit("dumbbells", "bands") + _dumbbells(4, 16, 4),
    "hotel": _kit("dumbbells", "bench", "cable") + _dumbbells(2, 24, 2),
    "lunch": _kit("dumbbells", "bench", "cable", "leg press") + _dumbbells(2.5, 22.5, 2.5),
    "kettlebells": _kit("kettlebells", "pull-up bar"),
    "floor": _kit("pull-up bar", "bench", "box"),
    "pounds": _kit(*_FREE, *_CABLES, "leg press", "leg extension", "lying leg curl",
                   "standing calf raise", "machine fly", "seated row") + _LB_BAR
    + _dumbbells(5, 100, 5),
}  # fmt: skip
