"""Warning signs in what a lifter writes: found, denied, or asked about; never diagnosed."""

from blockwright.engine.signs.facts import (
    SIGN_SOURCE,
    SIGNS,
    STOP_SIGN,
    WHOLE_BODY_SIGNS,
    Warning,
    latest_of_each,
    signs_in_checkins,
    signs_in_sets,
    uncleared_signs,
)
from blockwright.engine.signs.grammar import SignFound, signs_found
from blockwright.engine.signs.tables import QUESTIONS
