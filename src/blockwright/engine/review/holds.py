"""What safety takes off a sheet, whether or not a letter was answered.

Lifts that hurt, lifts that load what hurts, and everything while a warning sign is open or a
clearance is lacking stay at what was printed when it was first said: no load, set or repetition
more, and no set nearer to failure. A load the block leaves open stays at what was lifted then. A
lift with a sign of its own, in no doubt, is left out until somebody licensed has looked at it. A
clearance ends what was stopped or referred, not the hold: nothing is added until the pain is said
to be quiet, or is forgotten."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from blockwright.engine.case import CoachCase
from blockwright.engine.reasons import listed_in
from blockwright.engine.screening import as_on
from blockwright.engine.signs import WHOLE_BODY_SIGNS, Warning
from blockwright.engine.tolerated_load import ToleratedLoad, easier
from blockwright.engine.training import Block, Entry, Lift, Session, Week
from .block_weeks import no_more
from .case import all_open_signs, cleared_days, pain_said
from .load_holds import held_and_waiting
from .review import week_case
from .safety import PainState, Reports, letter_day, pain_by_lift, pain_elsewhere, unplaced


@dataclass(frozen=True, slots=True)
class Held:
    """A session as safety leaves it, and by lift the most that may be lifted."""

    session: Session
    most: Mapping[str, ToleratedLoad]
    steady: frozenset[str]
    """Lifts whose load the letter for this week holds: nothing on the day adds to it."""


def held_session(case: CoachCase, week: Week, session: Session) -> Held:
    """`session` of a week of the case's block with what safety and the letter hold taken off it."""
    assert case.block is not None
    lifts = {e.lift: lift for e in session.entries if (lift := case.catalogue.find(e.lift))}
    known = _known(case, lifts.values(), session.day)
    sore = _sore_in_print(case, case.block)
    entries: list[Entry] = []
    waiting: list[str] = []
    most: dict[str, ToleratedLoad] = {}
    for entry in session.entries:
        lift = lifts.get(entry.lift)
        if lift is None or not entry.sets:
            entries.append(entry)
            continue
        states = [*([known.pain[lift.name]] if lift.name in known.pain else ()),
                  *(replace(state, band="watchful") for state in known.nameless)]  # fmt: skip
        own = known.signs.get(lift.name, [])
        named = not states and lift.name in sore
        days = (*(sign.day for sign in own), *(state.days[0] for state in states),
                *([case.block.start] if named else ()))  # fmt: skip
        since = min((*known.everything, *days), default=None)
        before = None if since is None else _printed(case.block, session, entry, since)
        kept = before
        if entry.waits:  # for a letter that nobody has decided
            waiting.append(lift.name)
            kept = before or _printed(case.block, session, entry, session.day)
        entries.append(entry if kept is None else no_more(entry, kept, lift))
        if before is not None and since is not None:
            load_kg = _most_kg(case, lift, before, since)
            held = _tolerated(states, load_kg, since, lift.name if own or named else "")
            if any(sign.sure for sign in own):
                held = replace(held, load_kg=None, signed=True)
            most[lift.name] = held
    session = replace(session, entries=tuple(entries))
    return Held(session, most, _steady(case, week, lifts.values()).union(waiting))


def _sore_in_print(case: CoachCase, block: Block) -> frozenset[str]:
    """Lifts to which the block says nothing is added for what hurts, where no report of pain is at
    hand to say how it is now: a sheet asked for without the check-ins forgets no pain."""
    if pain_said(case):
        return frozenset()
    said = (one.facts["lifts"] for one in block.reasons if one.code == "held_as_it_hurts")
    return frozenset(name for text in said for name in listed_in(str(text)))


def _steady(case: CoachCase, week: Week, lifts: Iterable[Lift]) -> frozenset[str]:
    if week.kind != "build" or week.week == 1 or not case.taught:
        return frozenset()
    first = min(session.day for session in week.sessions)
    read = week_case(case.until(letter_day(first)))
    return frozenset(lift.name for lift in lifts if held_and_waiting(read, lift).held)


def held_lifts(case: CoachCase, day: date) -> tuple[frozenset[str], frozenset[str]]:
    """Of the catalogue's lifts those that gain nothing on `day`, and those that pain or a sign of
    their own stops."""
    known = _known(case, case.catalogue.lifts.values(), day)
    held = case.catalogue.lifts if known.everything else (*known.pain, *known.signs)
    return frozenset(held), known.stopped


def new_block_holds(case: CoachCase, day: date) -> tuple[frozenset[str], frozenset[str]]:
    """Lifts that the sheet of a block begun on `day` would add nothing to for what hurts, and those
    it would leave out: what pain or a sign stops, and what loads a sore place and has no load to
    keep, since pain is no reason to look for one."""
    known = _known(case, case.catalogue.lifts.values(), day)
    told = () if case.lifter is None else case.lifter.known
    names = (*(one.lift for one in case.sets), *(one.lift for one in told))
    done = {case.catalogue.canonical(name) for name in names}
    return frozenset(known.pain), known.stopped | (frozenset(known.pain) - done)


@dataclass(frozen=True, slots=True)
class _Known:
    pain: Mapping[str, PainState]  # By lift
    nameless: tuple[PainState, ...]
    signs: Mapping[str, list[Warning]]  # Open signs of one lift alone, by lift
    everything: list[date]  # Since when every lift is held, by each cause

    @property
    def stopped(self) -> frozenset[str]:
        """Lifts that pain or a sign of their own stops."""
        hurt = (name for name, state in self.pain.items() if state.band == "stop")
        signed = (name for name, own in self.signs.items() if any(sign.sure for sign in own))
        return frozenset((*hurt, *signed))


def _known(case: CoachCase, lifts: Collection[Lift], day: date) -> _Known:
    until = (case.catalogue, case.policy, letter_day(day), cleared_days(case))
    said = pain_said(case)
    pain = {**_eased(case, said, lifts, day), **pain_by_lift(said, lifts, *until)}
    nameless = unplaced(pain_elsewhere(said, *until).values(), {done.lift for done in case.sets})
    everything = [*(state.days[0] for state in nameless), *_waits_since(case, day)]
    signs: dict[str, list[Warning]] = {}
    for sign in all_open_signs(case, day):
        if sign.sign in WHOLE_BODY_SIGNS:
            everything.append(sign.day)
        else:
            signs.setdefault(case.catalogue.canonical(sign.lift), []).append(sign)
    return _Known(pain, nameless, signs, everything)


def _eased(
    case: CoachCase, said: Reports, lifts: Iterable[Lift], day: date
) -> dict[str, PainState]:
    """What hurts by the reports alone, as if nobody had cleared it: enough to add nothing."""
    memory, until = case.policy.days("safety.pain_memory_days"), letter_day(day)
    return {
        name: replace(state, band="watchful", refer=False)
        for name, state in pain_by_lift(said, lifts, case.catalogue, case.policy, until, {}).items()
        if until - state.latest.day <= memory
    }


def _waits_since(case: CoachCase, day: date) -> list[date]:
    """The day before the first session that waits for a clearance, where `day` is not before it."""
    if case.block is None:
        return []
    waits = (
        one.day - timedelta(days=1)
        for week in case.block.weeks
        for one in week.sessions
        if one.day <= day and as_on(case.block, one.day, case.policy).status == "refer"
    )
    return sorted(waits)[:1]


def _printed(block: Block, session: Session, entry: Entry, since: date) -> Entry:
    """What the block prints of the lift, and no longer waits, for the last session by `since`, of
    that number where one has it; else for the first of all; of a lift it has nowhere, `entry`."""
    planned = [
        (one, each)
        for week in block.weeks
        for one in week.sessions
        for each in one.entries
        if each.lift == entry.lift and each.sets and not each.waits
    ]
    same = [each for each in planned if each[0].session == session.session] or planned
    before = [each for each in same if each[0].day <= since] or same[:1]
    return before[-1][1] if before else entry


def _most_kg(case: CoachCase, lift: Lift, before: Entry, since: date) -> float | None:
    """The load printed then; where none was, or the block began since, what was lifted last by
    then, if that is less."""
    printed = before.sets[0].load_kg
    assert case.block is not None
    if printed is not None and case.block.weeks[0].sessions[0].day <= since:
        return printed
    loads = [
        done.load_kg
        for done in case.sets
        if done.is_work
        and done.moment.day <= since
        and case.catalogue.canonical(done.lift) == lift.name
    ]
    return (
        easier(lift, [kg for kg in (printed, *loads[-1:]) if kg is not None]) if loads else printed
    )


def _tolerated(
    states: Sequence[PainState], load_kg: float | None, since: date, about: str
) -> ToleratedLoad:
    if not states:
        return ToleratedLoad(load_kg=load_kg, day=since, about=about)
    state = states[0]
    return ToleratedLoad(
        load_kg=None if state.band == "stop" else load_kg,
        pain=state.latest.pain,
        day=state.latest.day,
        about=state.about,
    )
