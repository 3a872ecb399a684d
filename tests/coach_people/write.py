"""Writes invented lifters as the files that the commands read."""

from dataclasses import dataclass
from datetime import date
from pathlib import Path

from coach_people.gyms import GYMS
from coach_people.logs import HEADER, log_rows
from coach_people.people import PEOPLE, Person

START = date(2027, 1, 4)
_CHECKINS_HEADER = "when,measure,about,value,unit"


@dataclass(frozen=True, slots=True)
class Files:
    """A person's files; the log and the check-ins where there are any."""

    person: Person
    lifter: Path
    log: Path | None
    checkins: Path | None


def write_people(folder: Path, keys: tuple[str, ...] = ()) -> list[Files]:
    """The files of all people, or of those named, in `folder`."""
    folder.mkdir(parents=True, exist_ok=True)
    return [write_person(person, folder) for person in PEOPLE if not keys or person.key in keys]


def write_person(person: Person, folder: Path) -> Files:
    """The files of one person in `folder`."""
    lifter = folder / f"{person.key}.toml"
    lifter.write_text(lifter_text(person), encoding="utf-8")
    log = checkins = None
    if person.log:
        log = folder / f"{person.key}.csv"
        rows = log_rows(person.log, person.log_weeks, START, person.units)
        log.write_text("\n".join([HEADER, *rows, ""]), encoding="utf-8")
    if person.checkins:
        checkins = folder / f"{person.key}_checkins.csv"
        checkins.write_text(f"{_CHECKINS_HEADER}\n{person.checkins}\n", encoding="utf-8")
    return Files(person, lifter, log, checkins)


def lifter_text(person: Person) -> str:
    """The lifter file. Plain keys of `rest` come before its tables, as TOML wants."""
    plain, _, tables = person.rest.partition("[")
    return "\n".join(
        [
            f'name = "{person.key.replace("_", " ")} (invented)"',
            f'units = "{person.units}"',
            f"bodyweight = {person.bodyweight}",
            f"born = {person.born}",
            f'experience = "{person.experience}"',
            f"weeks = {person.weeks}",
            f"start = {START}",
            plain,
            "[screening]\ncurrently_active = true\n",
            *(_slot(text) for text in person.slots.split(",")),
            "[emphasis]",
            *(" = ".join(_quoted(text)) for text in filter(None, person.emphasis.split(","))),
            f"[{tables}" if tables else "",
            GYMS[person.gym],
        ]
    )


def _slot(text: str) -> str:
    day, start, minutes = text.split()
    return f'[[slot]]\nday = "{day}"\nstart = "{start}"\nminutes = {minutes}\n'


def _quoted(text: str) -> tuple[str, str]:
    muscle, word = text.split()
    return muscle, f'"{word}"'
