"""Names of people as a log spells them: "petra k" and "PK" are Petra K."""

from collections import Counter

from rapidfuzz.distance import OSA

_SHORTEST_SLIP = 4


def same_people(counts: "Counter[str]") -> dict[str, str]:
    """Each name to the spelling that is taken for the person: the fuller, more frequent one."""
    taken: dict[str, str] = {}
    ranked = sorted(counts, key=lambda name: (-len(name.split()), -counts[name], name))
    for name in ranked:
        plain = " ".join(name.split())
        same = [other for other in taken.values() if plain and _is_same(plain, other)]
        taken[name] = same[0] if len(set(same)) == 1 else plain
    return taken


def _is_same(name: str, other: str) -> bool:
    short, full = name.lower(), other.lower()
    if short == full:
        return True
    if len(name) > 1 and name.isupper():
        return short == "".join(part[0] for part in full.split())
    return min(len(short), len(full)) >= _SHORTEST_SLIP and OSA.distance(short, full) == 1
