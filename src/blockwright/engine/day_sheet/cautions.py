"""Cautions, each where its risk arises. None of them can be declined or left out."""

from blockwright.engine.policy import Policy
from blockwright.engine.reasons import Caution
from blockwright.engine.training import Block, Entry, Lift

STOP_SIGNS_SOURCE = "ACSM GETP, major signs and symptoms; Thomeé 1997 (from memory)"
SPOTTER_SOURCE = "NSCA Essentials, spotting (from memory)"


def sheet_cautions(block: Block) -> tuple[Caution, ...]:
    """What stands on every page: a referral first, then the block's own, then when to stop."""
    refer = (Caution(code="sheet_refer"),) if block.status == "refer" else ()
    stop = Caution(code="sheet_stop_signs", source=STOP_SIGNS_SOURCE)
    return (*refer, *block.cautions, stop)


def lift_cautions(entry: Entry, lift: Lift, policy: Policy) -> tuple[Caution, ...]:
    """What this lift needs today: somebody or something to catch a free weight near failure."""
    nearest = min((planned.rir for planned in entry.sets), default=None)
    if nearest is None or nearest > policy.number("sheet.spotter_rir"):
        return ()
    if lift.stability != "free" or lift.safe_to_fail:
        return ()
    return (Caution(code="sheet_spotter", facts={"rir": nearest}, source=SPOTTER_SOURCE),)
