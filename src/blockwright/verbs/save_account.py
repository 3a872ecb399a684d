"""A person's own account: name, units, time zone."""

from zoneinfo import ZoneInfo, available_timezones

from blockwright.accounts.models import User
from blockwright.engine.errors import BadInput, Problem
from blockwright.files.near import did_you_mean

UNITS = ("kg", "lb")
_LONGEST_NAME = 120


def save_account(person: User, *, name: str, units: str, zone: str) -> None:
    """Writes what a person says of themselves; BadInput names each field by its `column`."""
    problems: list[Problem] = []
    if not name.strip() or len(name.strip()) > _LONGEST_NAME:
        mend = f"write a name of up to {_LONGEST_NAME} letters"
        problems.append(Problem(column="name", says="a name is missing or too long", mend=mend))
    if units not in UNITS:
        problems.append(Problem(column="units", says="no such unit", mend="choose kg or lb"))
    if zone.strip() and not is_zone(zone.strip()):
        mend = did_you_mean(zone.strip(), sorted(available_timezones()), "leave it empty", 2)
        problems.append(Problem(column="zone", says="there is no such time zone", mend=mend))
    BadInput.raise_any(problems)
    person.name, person.units, person.zone = name.strip(), units, zone.strip()
    person.save(update_fields=["name", "units", "zone"])


def is_zone(name: str) -> bool:
    try:
        ZoneInfo(name)
    except (ValueError, OSError, KeyError):
        return False
    return True
