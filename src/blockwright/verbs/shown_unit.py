"""In which unit a person reads the loads of a lifter."""

from blockwright.accounts.models import User
from blockwright.engine.training import Lifter
from blockwright.engine.units import Unit


def shown_unit(person: User, lifter: Lifter) -> Unit:
    """Pounds for a person who chose them, else the lifter's own (kg is what an account starts
    with, so it says nothing of a choice)."""
    return "lb" if person.units == "lb" else lifter.units
