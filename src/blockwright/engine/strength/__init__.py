"""How strong a lifter is on each lift, with uncertainty: one logged set at a time.

`replay` is the door: a log in, `Beliefs` out; `LiftBelief` answers what the next set will be and
which load suits it. Imports fatigue, published and policy; never the solver.
"""

from blockwright.engine.strength.belief import Interval, LiftBelief, chances_of
from blockwright.engine.strength.beliefs import Beliefs, replay
from blockwright.engine.strength.bodyweights import Bodyweights
from blockwright.engine.strength.flags import Flag
from blockwright.engine.strength.landing import Landing, landing_cost, most_effective, moved
from blockwright.engine.strength.law import strength_law
from blockwright.engine.strength.pooling import unlogged
from blockwright.engine.strength.prequential import BacktestRow, Score, backtest_rows, score
from blockwright.engine.strength.sessions import StrengthPoint
