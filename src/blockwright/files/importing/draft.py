"""Entries of all sheets to the sets of a sets file, with what was asked and what was left out."""

import datetime as dt
import re
from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import cast

from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.training import Catalogue, SetDone
from blockwright.engine.units import Unit
from blockwright.files.reading import collection_paused
from .calendar import (
    Calendar,
    Hints,
    Question,
    day_answered,
    order_in,
    question_of,
    questions_of_days,
    years_in,
)
from .days import When, is_year
from .entries import Entry, Skipped
from .grids import Grid, read_grids
from .legend import as_the_legend_says, legends_of
from .months import with_days_of_months
from .named_columns import person_tabs, same_people
from .names import SURE, LiftMatcher, Match, name_notes, words_of
from .one_notation import in_one_notation, load_first
from .plausible import doubts, looks_like_pounds
from .rows import NO_REPS
from .sets import Numbers, set_done
from .stacked import as_whole_sets
from .tables import SheetReader
from .words import slug, without_accents

QUESTIONS_A_FILE = 2
"""More is an interrogation; what is less sure than this many is taken and said (coach's rule)."""
MOST_ROWS = 40_000
"""Of all files together: some twenty years of four visits a week; each is read on its own."""
_YEAR = re.compile(r"year|jahr|annee|ano|anno|jaar|rok", re.I)
_NO_DAY = "no day stands beside it"
_NO_WEEK = "on which Monday the first week began is told nowhere: answer week-1"
_MENDS = {
    _NO_DAY: "write the day over the table, beside its rows or in the file's name",
    NO_REPS: "write sets and repetitions below each lift's name (3x5) or with each load (60x5)",
}
"""What makes a file readable of which no set was."""
_FEWEST_PEOPLE = 2
_TAKE = "take them"
_NOTHING = "nothing of the sets"
OWN = "keep it as a lift of its own"


class NoSets(BadInput):
    """The files may hold something else: nothing in them looks like a set."""


@dataclass(frozen=True)
class Draft:
    """Everything an import came to; nothing is stored by it."""

    sets: tuple[SetDone, ...]
    entries: tuple[Entry, ...]  # What told each set, in the order of `sets`
    skipped: tuple[Skipped, ...]
    questions: tuple[Question, ...]
    names: Mapping[str, str]  # How each typed name was taken
    notes: tuple[str, ...] = ()


@dataclass
class Wishes:
    """What the caller gives: units, a year, answers by question, names already explained."""

    unit: Unit | None = None
    year: int | None = None
    usual_unit: Unit | None = None  # The lifter's own, for loads nothing else tells
    fallback_year: int = 2026
    answers: Mapping[str, str] = field(default_factory=dict)
    known_names: Mapping[str, str] = field(default_factory=dict)


@collection_paused()
def draft_of(paths: Sequence[Path], catalogue: Catalogue, wishes: Wishes) -> Draft:
    """Reads foreign sheets. Raises BadInput only when no set can be read from any of them."""
    grids = [grid for path in paths for grid in read_grids(path)]
    rows = sum(1 for grid in grids for row in grid.rows if row)
    if rows > MOST_ROWS:
        says, mend = f"has more than {MOST_ROWS:,} rows", "give it in parts, a few years at a time"
        raise BadInput(Problem(file=", ".join(p.name for p in paths), says=says, mend=mend))
    return _Drafting(grids, catalogue, wishes, len(paths)).draft()


class _Drafting:
    """One pass over the entries of all files; questions are collected on the way."""

    def __init__(
        self, grids: Sequence[Grid], catalogue: Catalogue, wishes: Wishes, files: int
    ) -> None:
        self._catalogue = catalogue
        self._wishes = wishes
        self._matcher = LiftMatcher(catalogue, dict(wishes.known_names))
        self._most_questions = QUESTIONS_A_FILE * files
        self._questions: dict[str, Question] = {}
        self._notes: list[str] = []
        self._skipped: list[Skipped] = []
        self._told_by: list[Entry] = []
        legends = legends_of(grids)
        dated = map(with_days_of_months, grids)
        grids = in_one_notation(map(as_whole_sets, map(as_the_legend_says, dated, legends)))
        self._grids = grids
        bare_load_first = load_first(grids)
        self._entries: list[Entry] = []
        self._anchors: dict[str, list[When]] = defaultdict(list)
        self._guessed: set[str] = set()
        persons = person_tabs(grids, self._matcher)
        for number, grid in enumerate(grids):
            reader = SheetReader(
                grid, number, self._matcher, bare_load_first, legends[number], wishes.answers
            )
            reader.read()
            for heading, (id, choices) in list(reader.headers.asked_columns.items())[:1]:
                asks = f'What does the column "{heading[:40]}" tell?'
                if not any(one.startswith("heading-") for one in self._questions):
                    self._ask(id, asks, (_NOTHING, *choices), _NOTHING)
            self._entries += reader.entries
            self._skipped += reader.skipped
            self._guessed |= reader.headers.guessed_people
            if reader.anchor:
                self._anchors[grid.book].append(reader.anchor)
        told = {grids[number].title for number in {entry.order[0] for entry in self._entries}}
        tabs = {n: persons.get((grid.book, grid.title), "") for n, grid in enumerate(grids)}
        if len(told & {title for _, title in persons}) < _FEWEST_PEOPLE:
            # A tab that tells no set ("Scale") makes no person of the other.
            tabs = dict.fromkeys(tabs, "")
        elif not self._share_a_day():
            self._guessed |= {name for name in tabs.values() if " " not in name}
        whose = [entry.lifter or tabs[entry.order[0]] for entry in self._entries]
        people = same_people(Counter(whose))
        self._guessed = {people.get(name, name) for name in self._guessed}
        self._entries = [
            e if e.lifter == people[who] else e._replace(lifter=people[who])
            for e, who in zip(self._entries, whose, strict=True)
        ]

    def draft(self) -> Draft:
        if not self._entries:
            files = ", ".join(dict.fromkeys(grid.file for grid in self._grids))
            mend = "see docs/import.md for the shapes that work"
            raise NoSets(Problem("holds no set that can be read", mend, files))
        units = self._units()
        dates = self._dates(units)
        self._people()
        self._efforts()
        names = self._names(dates)
        sets = self._sets(names, units, dates)
        if not sets and not self._waits:
            first = self._skipped[0] if self._skipped else None
            told = f" that can be used; the first: {first.place}: {first.why}" if first else ""
            mend = _MENDS.get(first.why if first else "", "see docs/import.md")
            raise BadInput(Problem(file=self._grids[0].file, says=f"holds no set{told}", mend=mend))
        asked = tuple(self._questions.values())
        told_by, skipped = tuple(self._told_by), tuple(self._skipped)
        return Draft(sets, told_by, skipped, asked, names, tuple(self._notes))

    def _share_a_day(self) -> bool:
        """Whether two sheets tell of one lift on one day: of two people, as one does it once."""
        told = {(e.lift.lower(), e.when, e.order[0]) for e in self._entries if e.when}
        return len({one[:2] for one in told}) < len(told)

    def _ask(
        self, id: str, asks: str, choices: Sequence[str], default: str, about: str = ""
    ) -> str:
        """The answer given, else the default; the question is noted either way."""
        question = question_of(id, asks, choices, default, self._wishes.answers, about)
        self._questions.setdefault(id, question)
        return question.chosen

    @property
    def _waits(self) -> bool:
        """Whether a question is open of which no answer is likely."""
        return any(not question.chosen for question in self._questions.values())

    # Units

    def _units(self) -> list[Unit]:
        """The unit of each entry's loads without one of their own."""
        open_loads = [
            weight.amount
            for entry in self._entries
            for one in entry.sets
            for weight in one.weights
            if entry.unit is None and weight.unit is None and weight.amount
        ]
        known = self._wishes.unit or self._told_unit() or self._wishes.usual_unit
        usual: Unit = known or "kg"
        if open_loads and known is None:
            likely: Unit = "lb" if looks_like_pounds(open_loads) else "kg"
            asks = "Are the loads kilograms or pounds?"
            usual = cast("Unit", self._ask("unit", asks, ("kg", "lb"), likely))
        return [entry.unit or usual for entry in self._entries]

    def _told_unit(self) -> Unit | None:
        """The unit that columns and cells say for at least half of the loads, if one does."""
        told = Counter(
            weight.unit or entry.unit
            for entry in self._entries
            for one in entry.sets
            for weight in one.weights
        )
        unit, count = max(told.items(), key=lambda item: item[1], default=(None, 0))
        return unit if count * 2 >= told.total() else None

    # People

    def _people(self) -> None:
        """Words over columns of sets are taken for people; asked where there is room, else said."""
        guessed = sorted(self._guessed & {entry.lifter for entry in self._entries})
        if not guessed:
            return
        names = ", ".join(guessed)
        if len(self._questions) >= self._most_questions and "people" not in self._wishes.answers:
            self._notes.append(f"the sets under {names} are taken as of people of these names")
        elif self._ask("people", f"Are these people: {names}?", ("yes", "no"), "yes") == "no":
            self._entries = [
                e._replace(lifter="") if e.lifter in guessed else e for e in self._entries
            ]

    # Efforts

    def _efforts(self) -> None:
        """One effort beside several sets: of the last of them, unless the coach says of each."""
        open_rows = [e for e in self._entries if any(s.row_rir and s.rir is None for s in e.sets)]
        if not open_rows or len(self._questions) >= self._most_questions:
            return
        asks = "An effort (RPE, RIR) beside several sets is of which?"
        if self._ask("effort", asks, ("the last set", "each set"), "the last set") == "each set":
            self._entries = [
                entry._replace(sets=tuple(s._replace(rir=s.rir or s.row_rir) for s in entry.sets))
                for entry in self._entries
            ]

    # Lifts

    def _names(self, dates: Sequence[dt.date | None]) -> dict[str, str]:
        """Typed name to the catalogue's; of those with a day the least sure with the most sets are
        asked about."""
        counts: Counter[str] = Counter()
        for entry, day in zip(self._entries, dates, strict=True):
            counts[entry.lift] += len(entry.sets) if day else 0
        counts = +counts
        matches = {name: self._matcher.match(name) for name in counts}
        names: dict[str, str] = {}
        unsure = []
        for name, match in matches.items():
            names[name] = match.best or match.typed
            if not match.is_sure and match.best is not None:
                unsure.append(name)
        room = max(0, self._most_questions - len(self._questions))
        # First those that are left out where nobody says which they are.
        unsure.sort(key=lambda name: (self._is_own(matches[name]), -counts[name], name.lower()))
        same: dict[tuple[str, ...], str] = {}
        for name in unsure:
            # One name written in two ways is asked about once.
            same.setdefault(words_of(matches[name].typed), name)
        asked = list(same.values())[:room]
        for name in unsure:
            match = matches[name]
            first = same[words_of(match.typed)]
            if f"lift-{slug(name)}" in self._wishes.answers:
                first = name
            if first in asked or f"lift-{slug(first)}" in self._wishes.answers:
                names[name] = self._ask_lift(first, matches[first])
            elif self._is_own(match):
                # Not asked about: the coach's own name is not wrong.
                names[name] = match.typed
            elif not self._matcher.is_shared(match):
                del names[name]
        self._notes += name_notes(matches, names)
        return names

    def _ask_lift(self, name: str, match: Match) -> str:
        choices = (*(lift for lift, _ in match.lifts), OWN)
        asks = f'Which lift is "{match.typed}"?'
        id = f"lift-{slug(name)}"
        likely = OWN if self._is_own(match) else match.best or OWN
        chosen = self._ask(id, asks, choices, likely, match.typed)
        return match.typed if chosen == OWN else chosen

    def _is_own(self, match: Match) -> bool:
        """Whether a name says a word that no likely lift bears: "hang clean"."""
        return match.score < SURE and self._matcher.says_more(match)

    # Days

    def _dates(self, units: Sequence[Unit]) -> list[dt.date | None]:
        by_book: dict[str, list[int]] = defaultdict(list)
        for at, entry in enumerate(self._entries):
            by_book[self._grids[entry.order[0]].book].append(at)
        dates: list[dt.date | None] = [None] * len(self._entries)
        for book, places in by_book.items():
            calendar = self._calendar(
                book, [self._entries[at].when for at in places], [units[at] for at in places]
            )
            for at in places:
                dates[at] = calendar.date_of(self._entries[at].when)
        return dates

    def _calendar(self, book: str, whens: Sequence[When], units: Sequence[Unit]) -> Calendar:
        titles = [book, *(grid.title for grid in self._grids if grid.book == book)]
        for grid in (grid for grid in self._grids if grid.book == book):
            top = [cell for row in grid.rows[:5] for cell in row]
            years = {cell.column for cell in top if _YEAR.fullmatch(without_accents(cell.text))}
            years |= {row[-1].column for row in grid.rows[:5] if row and is_year(row[-1].text)}
            titles += [c.text for c in top if isinstance(c.value, str) or c.column in years]
        hints = Hints(
            years_in(titles),
            self._wishes.year,
            self._wishes.fallback_year,
            units.count("lb") * 2 > len(units),
        )
        answers = self._wishes.answers
        monday = day_answered(answers.get("week-1"))
        calendar = Calendar([*whens, *self._anchors[book]], hints, order_in(answers), monday)
        for question in questions_of_days(calendar, answers):
            self._questions.setdefault(question.id, question)
        if calendar.monday_is_open or monday:
            asks = f"On which Monday did week {calendar.first_week} begin? (year-month-day)"
            self._ask("week-1", asks, (), "")
        return calendar

    # Sets

    def _sets(
        self, names: Mapping[str, str], units: Sequence[Unit], dates: Sequence[dt.date | None]
    ) -> tuple[SetDone, ...]:
        order = sorted(
            range(len(self._entries)),
            key=lambda at: (dates[at] or dt.date.min, self._entries[at].order),
        )
        numbers: Numbers = Counter()
        sets: list[SetDone] = []
        for at in order:
            entry, day = self._entries[at], dates[at]
            if day is None:
                self._skip(entry, _NO_WEEK if entry.when and self._waits else _NO_DAY)
                continue
            if entry.lift not in names:
                answer = f'lift-{slug(entry.lift)} = "..."'
                self._skip(entry, f"which lift it is was not asked: answer {answer}")
                continue
            for one in entry.sets:
                if not any(one.reps):
                    self._skip(entry, "no repetition was done: a missed set")
                    continue
                typed = (names[entry.lift], units[at], day)
                done = set_done(entry, one, typed, self._matcher, numbers)
                if isinstance(done, str):
                    self._skip(entry, done)
                    break
                sets.append(done)
                self._told_by.append(entry)
        return self._without_doubtful(sets)

    def _without_doubtful(self, sets: list[SetDone]) -> tuple[SetDone, ...]:
        """The sets without those that look misread, unless the coach says that they were done."""
        found = doubts(sets, self._catalogue)
        if not found or len(found) == len(sets):
            return tuple(sets)
        first = self._told_by[min(found)]
        asks = f"{len(found)} sets look misread, first {first.place}: {first.text[:40]}. Take them?"
        if self._ask("doubtful", asks, ("leave them out", _TAKE), "leave them out") != _TAKE:
            for at, why in found.items():
                self._skip(self._told_by[at], why)
            self._told_by = [one for at, one in enumerate(self._told_by) if at not in found]
            sets = [one for at, one in enumerate(sets) if at not in found]
        return tuple(sets)

    def _skip(self, entry: Entry, why: str) -> None:
        self._skipped.append(Skipped(entry.place, entry.lift, why))
