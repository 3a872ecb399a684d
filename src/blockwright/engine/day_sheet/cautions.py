"""Cautions, each where its risk arises. None of them can be declined or left out."""

from collections.abc import Sequence
from dataclasses import replace

from blockwright.engine.pain import place_in
from blockwright.engine.planning.cautions import SPOTTER_SOURCE, SUDDEN_VOLUME
from blockwright.engine.policy import Policy
from blockwright.engine.published.safety import PAIN_BANDS, WARNING_SIGNS
from blockwright.engine.reasons import Caution, FactValue, and_listed
from blockwright.engine.signs import SIGN_CODES, SIGN_SOURCE, Warning, sign_caution
from blockwright.engine.tolerated_load import ToleratedLoad
from blockwright.engine.training import Block, Entry, Lift
from blockwright.engine.units import Unit, load_text

STOP_SIGNS_SOURCE = str(WARNING_SIGNS)
PAIN_SOURCE = str(PAIN_BANDS)
_SIDES = "both sides are one repetition"


def sheet_cautions(
    block: Block, policy: Policy, signs: Sequence[Warning] = ()
) -> tuple[Caution, ...]:
    """What stands on every page: a referral first, then signs that were written down and not
    cleared since, then the block's own, then when to stop."""
    told = _once([sign_caution(one) for one in signs])
    asks = any(caution.code == "sheet_ask_first" for caution in block.cautions)
    refer = (Caution(code="sheet_refer"),) if block.status == "refer" and not asks else ()
    pain = {
        "carry_on": policy.number("safety.pain_carry_on"),
        "stop_above": policy.number("safety.pain_stop_above"),
    }
    every_page = (
        Caution(code="sheet_stop_signs", source=STOP_SIGNS_SOURCE),
        Caution(code="sheet_pain", facts=pain, source=PAIN_SOURCE),
        SUDDEN_VOLUME,
    )
    # each lift asks for its own spotter; signs are told as they stand on the day
    left = {"spotter", *SIGN_CODES}
    of_block = tuple(caution for caution in block.cautions if caution.code not in left)
    said = {caution.code for caution in of_block}
    return (*refer, *told, *of_block, *(one for one in every_page if one.code not in said))


def _once(cautions: Sequence[Caution]) -> tuple[Caution, ...]:
    """Signs that ask for the same are said once, all together: those of the whole body, and those
    in doubt."""
    found: dict[str, list[Caution]] = {}
    for place, one in enumerate(cautions):
        alone = f"{one.code} {place}" if one.code == "sheet_sign_lift" else one.code
        found.setdefault(alone, []).append(one)
    return tuple(_together(alike) if len(alike) > 1 else alike[0] for alike in found.values())


def _together(alike: Sequence[Caution]) -> Caution:
    said = {
        key: list(dict.fromkeys(str(one.facts[key]) for one in alike)) for key in alike[0].facts
    }
    facts: dict[str, FactValue] = {key: and_listed(words) for key, words in said.items()}
    facts |= {"date": ", ".join(sorted(said["date"])), "was": "were"}
    if "asks" in said:
        facts |= {"asks": " ".join(said["asks"]), "sign": " or ".join(said["sign"])}
    return replace(alike[0], facts=facts)


def hurt_cautions(
    lift: Lift, hurt: ToleratedLoad | None, entry: Entry, unit: Unit, *, pinned: bool
) -> tuple[Caution, ...]:
    """What a lift that is held may do today; empty where it is not."""
    if hurt is None or not hurt.about:
        return ()  # held with everything: the page says why
    load_kg = entry.sets[0].load_kg if entry.sets else None
    load = "" if load_kg is None else load_text(load_kg, unit)
    facts: dict[str, FactValue] = {"lift": lift.name, "load": load, "load_kg": load_kg}
    if hurt.signed:
        return (Caution(code="sheet_sign_out", facts=facts, source=SIGN_SOURCE),)
    if hurt.pain is None:
        return (Caution(code="sheet_held", facts=facts),)
    about = hurt.about[:1].upper() + hurt.about[1:]
    facts |= {
        "about": about,
        "pain": hurt.pain,
        "date": hurt.day.isoformat(),
        "loads": _loads(lift, hurt.about),
        "ask": "your coach chose it: swap it, or go lighter" if pinned else "ask for a swap",
    }
    out = hurt.load_kg is None or load_kg is None
    code = "sheet_hurts_out" if out else "sheet_hurts"
    return (Caution(code=code, facts=facts, source=PAIN_SOURCE),)


def quiet_cue(lift: Lift) -> str:
    """How a lift that hurts is done, in the place of a cue that may ask for all of its range."""
    sides = f"; {_SIDES}" if _SIDES in lift.standard else ""
    return f"As you know it, slowly, and no further than stays quiet{sides}."


def finding_cautions(hurt: Sequence[ToleratedLoad]) -> tuple[Caution, ...]:
    """Of a lift whose load is looked for, that what is like it hurts."""
    worst = max((one for one in hurt if one.pain is not None), key=_pain, default=None)
    if worst is None:
        return ()
    facts: dict[str, FactValue] = {
        "about": worst.about, "pain": worst.pain, "date": worst.day.isoformat(),
    }  # fmt: skip
    return (Caution(code="sheet_find_gently", facts=facts, source=PAIN_SOURCE),)


def _pain(hurt: ToleratedLoad) -> float:
    return hurt.pain or 0.0


def _loads(lift: Lift, about: str) -> str:
    """What a lift has to do with what hurts: of words, or another lift, nobody can tell."""
    if about == lift.name:
        return ""
    if place_in(about) is None:
        return "; nobody knows which lifts load what hurts"
    return f"; {lift.name} loads it"


def lift_cautions(entry: Entry, lift: Lift, policy: Policy) -> tuple[Caution, ...]:
    """What this lift needs today: somebody or something to catch a free weight near failure."""
    nearest = min((planned.rir for planned in entry.sets), default=None)
    near = nearest is not None and nearest <= policy.number("sheet.spotter_rir")
    if not near or not lift.wants_spotter:
        return ()
    return (Caution(code="sheet_spotter", facts={"rir": nearest}, source=SPOTTER_SOURCE),)
