"""A week being built: sets in slots with running sums, and what one more step would bring.

`Board` keeps every "at most" rule as room left, so that a step that fits breaks none of them;
"at least" rules (heavy share, exposures of lead muscles, direct share) are priced while the
search runs and must be whole at the end (`rules.broken_rules`).
"""

import numpy as np

from blockwright.engine.planning.request import Bools, Ints, Request, WeekPlan, week_plan
from blockwright.engine.training import MUSCLES

BROKEN_POINTS = 8000
"""What a unit of a broken "at least" rule costs while searching; above any real benefit."""
_FILL_POINTS = 700
"""What a lift that a session still lacks is worth while building; it would be priced at
`BROKEN_POINTS` if left out, but that would drown which lift it is."""
_FREE = 10_000


class Board:
    """Mutable. `place` and `take` change it; `fits` and `gain` look at steps without taking
    them, for flat arrays of (slot, option) pairs."""

    def __init__(self, request: Request, budget_s: tuple[int, ...]) -> None:
        self.request = request
        slots, options = request.allowed.shape
        muscles = len(MUSCLES)
        self.frozen: frozenset[tuple[int, int]] = frozenset()
        """(slot, option) whose items the search leaves alone."""
        self.closed: frozenset[int] = frozenset()
        """Slots that take nothing new."""
        self.budget_s = np.array(budget_s, dtype=np.int64)
        self.sets = np.zeros((slots, options), dtype=np.int64)
        # one spare column, always zero, lets short muscle lists be padded
        self.volume = np.zeros((slots, muscles + 1), dtype=np.int64)
        self.direct = np.zeros((slots, muscles + 1), dtype=np.int64)
        self.least = np.zeros((slots, muscles + 1), dtype=np.int64)
        """Quarter sets if every lift had the least sets: the first week at its smallest."""
        self.least_direct = np.zeros((slots, muscles + 1), dtype=np.int64)
        self.seconds = np.zeros(slots, dtype=np.int64)
        self.axial = np.zeros(slots, dtype=np.int64)
        self.count = np.zeros(slots, dtype=np.int64)
        self.near_lift = np.zeros((slots, len(request.lift_names)), dtype=np.int64)
        self.lift_count = np.zeros((2, len(request.lift_names)), dtype=np.int64)
        """Exposures of each lift: row 0 in the low zone, row 1 higher."""
        self.family_session = np.zeros((slots, len(request.families)), dtype=np.int64)
        self.family_week = np.zeros(len(request.families), dtype=np.int64)
        self.main_session = np.zeros((slots, muscles), dtype=np.int64)
        self.zone_sets = np.zeros(3, dtype=np.int64)
        self.zone_items = np.zeros(3, dtype=np.int64)
        self._prepare()

    def _prepare(self) -> None:
        request = self.request
        self.pair_slot, self.pair_option = np.nonzero(request.allowed)
        width = max((len(o.lift.muscles) for o in request.options), default=1)
        self.muscle_at = np.full((len(request.options), width), len(MUSCLES), dtype=np.int64)
        self.share_at = np.zeros((len(request.options), width), dtype=np.int64)
        self.direct_at = np.zeros((len(request.options), width), dtype=np.int64)
        for row in range(len(request.options)):
            touched = np.nonzero(request.share_q[row])[0]
            self.muscle_at[row, : len(touched)] = touched
            self.share_at[row, : len(touched)] = request.share_q[row, touched]
            self.direct_at[row, : len(touched)] = request.direct[row, touched]
        windows = [(g, request.numbers.session_q) for g in request.day_groups]
        windows += [(g, request.numbers.two_day_q) for g in request.two_days]
        self.window_q = np.array([most for _, most in windows], dtype=np.int64)
        self.in_window = np.zeros((len(windows), len(request.slots)), dtype=bool)
        for row, (group, _) in enumerate(windows):
            self.in_window[row, list(group)] = True
        self.benefit = _benefit_table(request)
        self.volume_points = _volume_table(request)
        self.start_points = _start_table(request)
        self.near = request.gap_h[:, None, :] < request.lift_gap_h[None, :, None]
        """(S, L, S): slots in which the lift may not stand again."""
        self.is_lead = np.zeros(len(MUSCLES) + 1, dtype=bool)
        self.is_lead[list(request.leads)] = True
        self.low_group = (request.zone > 0).astype(np.int64)

    # ---------------------------------------------------------------------------- changes

    def place(self, slot: int, option: int, sets: int) -> None:
        """Adds `sets` of an option to a slot; negative takes some away."""
        request = self.request
        before = int(self.sets[slot, option])
        after = before + sets
        self.sets[slot, option] = after
        share = request.share_q[option]
        self.volume[slot, :-1] += sets * share
        self.direct[slot, :-1] += sets * request.direct[option]
        self.seconds[slot] += sets * int(request.per_set_s[option])
        self.axial[slot] += sets * int(request.axial[option])
        self.zone_sets[request.zone[option]] += sets
        if (before == 0) != (after == 0):
            self._count(slot, option, 1 if after else -1)

    def _count(self, slot: int, option: int, sign: int) -> None:
        request = self.request
        lift, family = int(request.lift_of[option]), int(request.family_of[option])
        least = request.numbers.sets_least
        self.least[slot, :-1] += sign * least * request.share_q[option]
        self.least_direct[slot, :-1] += sign * least * request.direct[option]
        self.seconds[slot] += sign * int(request.fixed_s[option])
        self.count[slot] += sign
        self.near_lift[:, lift] += sign * self.near[slot, lift, :]
        self.lift_count[self.low_group[option], lift] += sign
        self.family_session[slot, family] += sign
        self.family_week[family] += sign
        self.main_session[slot, request.main_of[option]] += sign
        self.zone_items[request.zone[option]] += sign

    def take(self, slot: int, option: int) -> None:
        """Takes an option out of a slot."""
        self.place(slot, option, -int(self.sets[slot, option]))

    def fill(self, plan: WeekPlan) -> None:
        """Places every item of a plan."""
        for item in plan:
            self.place(item.slot, item.option, item.sets)

    def plan(self) -> WeekPlan:
        """What stands on the board."""
        slots, options = np.nonzero(self.sets)
        return week_plan(
            {
                (int(s), int(o)): int(self.sets[s, o])
                for s, o in zip(slots.tolist(), options.tolist(), strict=True)
            }
        )

    def clear(self) -> None:
        """Takes everything out."""
        for slot, option in zip(*np.nonzero(self.sets), strict=True):
            self.take(int(slot), int(option))

    # --------------------------------------------------------------------------- questions

    def fits(self, slot: Ints, option: Ints, step: int, *, new: bool) -> Bools:
        """(P,): whether `step` more sets keep every "at most" rule."""
        request = self.request
        seconds = step * request.per_set_s[option] + new * request.fixed_s[option]
        fine = self.seconds[slot] + seconds <= self.budget_s[slot]
        fine &= self.sets[slot, option] + step <= request.most_sets[option]
        fine &= step * request.axial[option] <= self._axial_room()[slot]
        at, share = self.muscle_at[option], step * self.share_at[option]
        fine &= (share <= self._volume_room()[slot[:, None], at]).all(axis=1)
        direct = step * self.direct_at[option]
        fine &= (direct <= self._direct_room()[slot[:, None], at]).all(axis=1)
        if new:
            fine &= self._new_fits(slot, option)
        return np.asarray(fine)

    def _new_fits(self, slot: Ints, option: Ints) -> Bools:
        request = self.request
        lift, family = request.lift_of[option], request.family_of[option]
        fine = self.count[slot] < request.most_lifts
        if self.closed:
            fine &= ~np.isin(slot, sorted(self.closed))
        fine &= self.near_lift[slot, lift] == 0
        group = self.low_group[option]
        fine &= ~(request.zone_limited[lift] & (self.lift_count[group, lift] > 0))
        most = request.family_session_most[slot, family]
        fine &= self.family_session[slot, family] < most
        fine &= self.family_week[family] < request.family_most[family]
        fine &= self.main_session[slot, request.main_of[option]] < request.numbers.lifts_per_muscle
        if request.gentle:
            room = request.numbers.first_week_q - self.least
            at = self.muscle_at[option]
            share = request.numbers.sets_least * self.share_at[option]
            fine &= (share <= np.maximum(room, 0)[slot[:, None], at]).all(axis=1)
        return np.asarray(fine)

    def _volume_room(self) -> Ints:
        """(S, M + 1): quarter sets left in session, day, two days and week."""
        numbers = self.request.numbers
        room = numbers.session_q - self.volume
        windows = self.window_q[:, None] - self.in_window.astype(np.int64) @ self.volume
        spread = np.where(self.in_window[:, :, None], windows[:, None, :], _FREE).min(axis=0)
        week = np.append(self.request.cap_q, _FREE) - self.volume.sum(axis=0)
        return np.asarray(np.minimum(np.minimum(room, spread), week[None, :]), dtype=np.int64)

    def _direct_room(self) -> Ints:
        """(S, M + 1): direct sets left where a session too close by is hard already."""
        hard = self.direct[:, :-1] >= self.request.numbers.hard_direct
        near_hard = np.einsum("mst,tm->sm", self.request.too_close, hard)
        room = np.full(self.direct.shape, _FREE, dtype=np.int64)
        limit = self.request.numbers.hard_direct - 1 - self.direct[:, :-1]
        room[:, :-1] = np.where(near_hard, limit, _FREE)
        return room

    def _axial_room(self) -> Ints:
        numbers, request = self.request.numbers, self.request
        room = np.minimum(
            numbers.axial_session - self.axial, numbers.axial_week - int(self.axial.sum())
        )
        for group in request.adjacent_days:
            left = numbers.axial_two_days - int(self.axial[list(group)].sum())
            room[list(group)] = np.minimum(room[list(group)], left)
        return np.asarray(room)

    def gain(self, slot: Ints, option: Ints, step: int, *, new: bool) -> Ints:
        """(P,): points that `step` more sets bring, priced rules included."""
        request = self.request
        at, share = self.muscle_at[option], step * self.share_at[option]
        here = self.volume[slot[:, None], at]
        knee = request.numbers.knee_q
        more = 2 * share - (np.maximum(here + share - knee, 0) - np.maximum(here - knee, 0))
        effective, week = self.effective(), self.volume.sum(axis=0)
        points = self.benefit[at, effective[at] + more] - self.benefit[at, effective[at]]
        points += self.volume_points[at, week[at] + share] - self.volume_points[at, week[at]]
        gain = points.sum(axis=1) - step * request.set_points[option]
        gain += self._priced_gain(slot, option, step, new=new)
        if new:
            lift = request.lift_of[option]
            gain -= request.item_points[option]
            gain += np.where(
                self.lift_count[:, lift].sum(axis=0) == 0, request.lift_points[lift], 0
            )
            gain += self._session_gain()[slot]
            smallest = self.least.sum(axis=0)
            start = (
                self.start_points[at, smallest[at] + share] - self.start_points[at, smallest[at]]
            )
            gain += start.sum(axis=1)
        return np.asarray(gain)

    def _session_gain(self) -> Ints:
        """(S,): what one more lift brings to the session: an offered slot used, a session filled
        up to its least lifts. Enough to be worth a lift nobody needs, not to sway which."""
        numbers, least = self.request.numbers, np.array(self.request.least_lifts)
        opens = _FILL_POINTS if self.unused() else -numbers.price.session
        filling = np.where(self.count < least, _FILL_POINTS, 0)
        return np.asarray(np.where(self.count == 0, opens, filling), dtype=np.int64)

    def _priced_gain(self, slot: Ints, option: Ints, step: int, *, new: bool) -> Ints:
        request = self.request
        before = self._share_missing(self.zone_sets, self.zone_items)
        by_zone = []
        for zone in range(3):
            sets, items = self.zone_sets.copy(), self.zone_items.copy()
            sets[zone] += step
            items[zone] += new
            by_zone.append(before - self._share_missing(sets, items))
        priced = BROKEN_POINTS * np.array(by_zone)[request.zone[option]]
        gain: Ints = np.asarray(np.rint(priced), dtype=np.int64)
        if request.leads:
            gain += self._lead_gain(slot, option, step, new=new)
        return gain

    def _lead_direct_missing(self, muscle: int) -> float:
        """Sets by which direct work of a lead muscle falls short, in this week and the least."""
        share = self.request.numbers.lead_direct_share
        aimed = 4 * int(self.direct[:, muscle].sum())
        least_aimed = 4 * int(self.least_direct[:, muscle].sum())
        missing = max(0.0, share * int(self.volume[:, muscle].sum()) - aimed)
        missing += max(0.0, share * int(self.least[:, muscle].sum()) - least_aimed)
        return missing / 4

    def _lead_gain(self, slot: Ints, option: Ints, step: int, *, new: bool) -> Ints:
        at = self.muscle_at[option]
        lead = self.is_lead[at]
        volume, direct = self.volume.sum(axis=0), self.direct.sum(axis=0)
        share, aimed = step * self.share_at[option], step * self.direct_at[option]
        part = self.request.numbers.lead_direct_share
        before = np.maximum(part * volume - 4 * direct, 0)[at]
        after = np.maximum(part * (volume[at] + share) - 4 * (direct[at] + aimed), 0)
        gain = ((before - after) * lead).sum(axis=1) * BROKEN_POINTS / 4
        if new:
            # the smallest week keeps the share too: the rows are a set's, times the least sets
            weekly, aimed_at = self.least.sum(axis=0), self.least_direct.sum(axis=0)
            before = np.maximum(part * weekly - 4 * aimed_at, 0)[at]
            after = np.maximum(part * (weekly[at] + share) - 4 * (aimed_at[at] + aimed), 0)
            gain = gain + ((before - after) * lead).sum(axis=1) * BROKEN_POINTS / 4
            needed = self.exposure_needed()
            gain = gain + (needed[slot[:, None], at] & (aimed > 0)).sum(axis=1) * BROKEN_POINTS
        return np.asarray(np.rint(gain), dtype=np.int64)

    def lacks_exposures(self, muscle: int) -> bool:
        """Whether a lead muscle has no two exposures far enough apart."""
        exposed = self.direct[:, muscle] > 0
        apart = self.request.gap_h >= self.request.numbers.hours_between
        return not bool((apart & exposed[:, None] & exposed[None, :]).any())

    def exposure_needed(self) -> Bools:
        """(S, M + 1): where direct work would help a lead muscle to the exposures it lacks."""
        needed = np.zeros(self.direct.shape, dtype=bool)
        apart = self.request.gap_h >= self.request.numbers.hours_between
        for muscle in self.request.leads:
            if not self.lacks_exposures(muscle):
                continue
            exposed = self.direct[:, muscle] > 0
            useful = apart[:, exposed].any(axis=1)
            needed[:, muscle] = (useful if useful.any() else apart.any(axis=1)) & ~exposed
        return needed

    def _share_missing(self, sets: Ints, items: Ints) -> float:
        """Sets (and items) by which the heavy or the long share is off its bounds."""
        missing = 0.0
        high = self.request.numbers.high_share_most
        for counts in (sets, items):
            total = int(counts.sum())
            missing += max(0.0, float(counts[2]) - high * total)
            if self.request.low_share is not None:
                least, most = self.request.low_share
                missing += max(0.0, least * total - float(counts[0]))
                missing += max(0.0, float(counts[0]) - most * total)
        return missing

    def effective(self) -> Ints:
        """(M + 1,): weekly sets in eighths, those past the session knee counting half."""
        over = np.maximum(self.volume - self.request.numbers.knee_q, 0)
        return np.asarray((2 * self.volume - over).sum(axis=0))

    def broken(self) -> float:
        """How far the priced "at least" rules are from whole; 0 when they hold."""
        broken = self._share_missing(self.zone_sets, self.zone_items)
        for muscle in self.request.leads:
            broken += self._lead_direct_missing(muscle) + self.lacks_exposures(muscle)
        used = self.count > 0
        short = np.maximum(np.array(self.request.least_lifts) - self.count, 0)
        return float(broken + (short * used).sum() + self.unused())

    def unused(self) -> int:
        """Slots that should be used and are not."""
        return max(0, self.request.sessions_wanted - int((self.count > 0).sum()))

    def points(self) -> int:
        """The objective of the week on the board."""
        request, numbers = self.request, self.request.numbers
        muscles = np.arange(len(MUSCLES) + 1)
        points = self.benefit[muscles, self.effective()].sum()
        points += self.volume_points[muscles, self.volume.sum(axis=0)].sum()
        points += self.start_points[muscles, self.least.sum(axis=0)].sum()
        points -= (self.sets * request.set_points[None, :]).sum()
        points -= ((self.sets > 0) * request.item_points[None, :]).sum()
        points += request.lift_points[self.lift_count.sum(axis=0) > 0].sum()
        used = int((self.count > 0).sum())
        return int(points) - numbers.price.session * max(0, used - request.sessions_wanted)


def _benefit_table(request: Request) -> Ints:
    """(M + 1, eighths): points of effective weekly sets."""
    longest = 2 * int(request.cap_q.max()) + 2 * request.numbers.session_q + 64
    table = np.zeros((len(MUSCLES) + 1, longest), dtype=np.int64)
    for muscle, parts in enumerate(request.slopes):
        steps = np.zeros(longest - 1, dtype=np.int64)
        start = 0
        for width, slope in parts:
            steps[start : start + width] = slope
            start += width
        table[muscle, 1:] = np.cumsum(steps)
    return table


def _volume_table(request: Request) -> Ints:
    """(M + 1, quarter sets): what missing the floor and passing the target costs, as minus."""
    longest = int(request.cap_q.max()) + request.numbers.session_q + 64
    week = np.arange(longest, dtype=np.int64)
    table = np.zeros((len(MUSCLES) + 1, longest), dtype=np.int64)
    for muscle in range(len(MUSCLES)):
        missing = np.maximum(request.floor_q[muscle] - week, 0)
        beyond = np.maximum(week - request.target_q[muscle], 0)
        table[muscle] = -(
            missing * request.floor_points[muscle] + beyond * request.excess_points[muscle]
        )
    return table


def _start_table(request: Request) -> Ints:
    """(M + 1, quarter sets): what a smallest week above the start costs, as minus."""
    week = np.arange(int(request.cap_q.max()) + request.numbers.session_q + 64, dtype=np.int64)
    table = np.zeros((len(MUSCLES) + 1, len(week)), dtype=np.int64)
    for muscle in range(len(MUSCLES)):
        beyond = np.maximum(week - request.start_q[muscle], 0)
        table[muscle] = -beyond * request.start_points[muscle]
    return table


def board_of(request: Request, plan: WeekPlan, budget_s: tuple[int, ...] | None = None) -> Board:
    """A board with `plan` on it; rescoring a decoded plan is `board_of(...).points()`."""
    board = Board(request, budget_s if budget_s is not None else request.budget_s)
    board.fill(plan)
    return board
