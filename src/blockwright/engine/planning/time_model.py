"""How long things take: set-up, warm-ups, repetitions, rests, and what a pair saves.

A lift takes set-up + warm-ups + sets x repetitions x seconds + a rest between its sets; the set-up
of the next lift stands for the rest after the last set. Repetitions are taken at the top of their
range, so that a plan fits when the range is filled."""

from dataclasses import dataclass

from blockwright.engine.policy import Policy
from blockwright.engine.training import Lift, RepRange, Zone

REST_STEP_S = 15  # Rests are written in steps of so many seconds, as a clock is read


@dataclass(frozen=True, slots=True, kw_only=True)
class LiftTime:
    """Seconds of one lift in one zone."""

    rest_s: int
    work_s: int  # One set, at the top of the range
    ready_s: int  # Set-up and warm-ups

    @property
    def fixed_s(self) -> int:
        """Seconds that do not grow with the sets; may be negative (no rest after the last)."""
        return self.ready_s - self.rest_s

    @property
    def per_set_s(self) -> int:
        return self.work_s + self.rest_s

    def seconds(self, sets: int) -> int:
        """Seconds of `sets` straight sets."""
        return self.fixed_s + sets * self.per_set_s


@dataclass(frozen=True, slots=True, kw_only=True)
class PairTime:
    """Seconds of two lifts done in turn."""

    change_s: int  # After a set of the first, on the way to the second
    rest_s: int  # After a set of the second
    saved_s: int  # By every rest between rounds, against doing both straight

    def saved_in(self, rounds: int) -> int:
        """Seconds saved by `rounds` rounds; the last has a change but no rest after it."""
        return max(0, (rounds - 1) * self.saved_s - self.change_s)


def lift_time(lift: Lift, zone: Zone, reps: RepRange, policy: Policy) -> LiftTime:
    """Seconds of `lift` for sets of `reps`, by the policy's rests and warm-ups."""
    kind = "compound" if lift.compound else "single"
    if not lift.compound:
        warmup_s = policy.whole("time.warmup.single")
    elif zone == "low":
        warmup_s = policy.whole("time.warmup.low_compound")
    else:
        warmup_s = policy.whole("time.warmup.compound")
    return LiftTime(
        rest_s=policy.whole(f"time.rest.{zone}_{kind}"),
        work_s=round(reps.high * lift.seconds_per_rep),
        ready_s=lift.setup_s + warmup_s,
    )


def pair_time(first: LiftTime, second: LiftTime, policy: Policy) -> PairTime:
    """A round is: first, change, second, rest. Each lift still gets its own full rest,
    because the other lift's set and the change pass in the meantime."""
    change_s = policy.whole("time.pair_change")
    rest_s = max(
        policy.whole("time.pair_rest_least"),
        first.rest_s - change_s - second.work_s,
        second.rest_s - change_s - first.work_s,
    )
    rest_s = -(-rest_s // REST_STEP_S) * REST_STEP_S
    saved_s = first.rest_s + second.rest_s - change_s - rest_s
    return PairTime(change_s=change_s, rest_s=rest_s, saved_s=saved_s)


def minutes_of(seconds: int) -> float:
    """Seconds as minutes to a tenth, rounded up so that a sum never hides an overrun."""
    return -(-seconds // 6) / 10
