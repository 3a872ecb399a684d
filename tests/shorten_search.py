"""Which sets to leave of a session that must be shorter, by trying every way: what the phone's copy
(`web/static/blockwright/shorten.js`) is held to."""

from collections.abc import Collection, Mapping

from blockwright.engine.planning.shorten import Shortening


def left_out(
    short: Shortening, minutes: float, done: Mapping[int, int], *, without: Collection[int] = ()
) -> dict[int, int]:
    """Sets to leave out of each entry, by its order, when so many minutes are left and so many
    sets are done; entries that stay whole are not named, those in `without` get no more sets
    anyway. Of equals the one that keeps more of the earlier lifts."""
    search = _Search(short, 60 * minutes, done, without)
    search.look(0)
    keep = search.best
    return {
        order: left
        for order, entry in short.entries.items()
        if (left := entry.sets - max(keep[order], min(done.get(order, 0), entry.sets)))
    }


def seconds(short: Shortening, keep: Mapping[int, int], done: Mapping[int, int]) -> int:
    """What is still to come when each entry is kept to so many sets."""
    total = 0
    for order, entry in short.entries.items():
        before = done.get(order, 0)
        if keep[order] > before:
            total += (keep[order] - before) * entry.set_s - entry.rest_s
            total += 0 if before else entry.ready_s
    return total if any(done.values()) or not total else total + short.start_s


def lost(short: Shortening, keep: Mapping[int, int]) -> int:
    """Points lost when each entry is kept to so many sets."""
    total = sum(short.changed * (e.sets - keep[order]) for order, e in short.entries.items())
    total += sum(e.gone for order, e in short.entries.items() if not keep[order])
    for muscle, loss in short.loss.items():
        given = sum(
            e.gives[muscle][keep[order]] for order, e in short.entries.items() if muscle in e.gives
        )
        total += loss[given]
    return total


def groups(short: Shortening) -> list[tuple[int, ...]]:
    """Entries that keep or lose sets together, by the order of their first."""
    groups: dict[str, tuple[int, ...]] = {}
    for order, entry in short.entries.items():
        name = entry.pair or f"alone {order}"
        groups[name] = (*groups.get(name, ()), order)
    return list(groups.values())


class _Search:
    """All ways to keep sets, the most first, without those that cannot be the best: leaving more
    never loses less, and never takes longer."""

    def __init__(
        self,
        short: Shortening,
        seconds: float,
        done: Mapping[int, int],
        without: Collection[int],
    ) -> None:
        self._short, self._seconds = short, seconds
        self._done = {o: min(done.get(o, 0), e.sets) for o, e in short.entries.items()}
        self._most = {
            order: self._done[order] if order in without else entry.sets
            for order, entry in short.entries.items()
        }
        self._groups = groups(short)
        self._keep = dict(self._most)
        self.best = dict(self._done)
        self._best_lost: int | None = None

    def look(self, at: int) -> None:
        missing = lost(self._short, self._keep)
        if self._best_lost is not None and missing >= self._best_lost:
            return
        if at == len(self._groups):
            if seconds(self._short, self._keep, self._done) <= self._seconds:
                self.best, self._best_lost = dict(self._keep), missing
            return
        group = self._groups[at]
        most = max(self._most[order] for order in group)
        for sets in (*range(most, min(self._short.least, most) - 1, -1), 0):
            for order in group:
                self._keep[order] = max(min(sets, self._most[order]), self._done[order])
            if self._fits_so_far(at):
                self.look(at + 1)
        self._keep |= {order: self._most[order] for order in group}

    def _fits_so_far(self, at: int) -> bool:
        later = {order for group in self._groups[at + 1 :] for order in group}
        keep = {o: self._done[o] if o in later else sets for o, sets in self._keep.items()}
        return seconds(self._short, keep, self._done) <= self._seconds
