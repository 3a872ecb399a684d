"""How strong a lifter is on each lift, with uncertainty: one logged set at a time.

`replay` is the door: a log in, `Beliefs` out; `LiftBelief` answers what the next set will be and
which load suits it. Imports fatigue, published and policy; never the solver."""

from .belief import Interval, LiftBelief, chances_of
from .beliefs import Beliefs, replay
from .bodyweights import Bodyweights
from .flags import Flag
from .landing import Landing, landing_cost, most_effective, moved
from .law import strength_law
from .pooling import unlogged
from .prequential import BacktestRow, Score, backtest_rows, score
from .sessions import StrengthPoint
