"""The phones of `site_load.py`, in a process of their own: one thread and one connection each.

`python phones.py < PLAN` does what the plan says, all phones at once, and prints what it took.
"""

import gzip
import http.client
import json
import sys
import threading
import time
from dataclasses import dataclass, field
from typing import Any

TIMEOUT_S = 120.0


@dataclass
class Took:
    """What one phone saw: milliseconds by kind of request, and what went wrong."""

    ms: list[tuple[str, float]] = field(default_factory=list)
    failures: list[str] = field(default_factory=list)


def main() -> None:
    plan = json.load(sys.stdin)
    start = threading.Barrier(len(plan["phones"]) + 1)
    seen = [Took() for _ in plan["phones"]]
    threads = [
        threading.Thread(target=_phone, args=(plan, phone, took, start))
        for phone, took in zip(plan["phones"], seen, strict=True)
    ]
    for thread in threads:
        thread.start()
    start.wait()
    wall, cpu = time.perf_counter(), time.process_time()
    for thread in threads:
        thread.join()
    found = {
        "wall_s": time.perf_counter() - wall,
        "cpu_s": time.process_time() - cpu,
        "ms": [each for took in seen for each in took.ms],
        "failures": [each for took in seen for each in took.failures],
    }
    json.dump(found, sys.stdout)


def _phone(plan: dict[str, Any], phone: dict[str, Any], took: Took, start: Any) -> None:
    seen: dict[str, int] = {}
    connection = http.client.HTTPConnection(plan["host"], plan["port"], timeout=TIMEOUT_S)
    start.wait()
    for kind, method, path, body in phone["requests"]:
        sent = None if body is None else json.dumps(body | {"seen": seen}).encode()
        began = time.perf_counter()
        try:
            connection.request(method, path, sent, phone["headers"])
            answer = connection.getresponse()
            content = answer.read()
        except OSError as error:
            took.failures.append(f"{kind}: {error!r}")
            connection.close()
            continue
        took.ms.append((kind, 1000 * (time.perf_counter() - began)))
        if answer.headers.get("Content-Encoding") == "gzip":
            content = gzip.decompress(content)
        known = _known(kind, content) if answer.status == 200 else None
        if known is None:
            took.failures.append(f"{kind}: {answer.status} {content[:200]!r}")
        else:
            seen |= known
    connection.close()


def _known(kind: str, content: bytes) -> dict[str, int] | None:
    """How far the phone has seen each lifter's facts after this answer, as the phone page counts
    it; None where a set was not stored."""
    if kind == "phone_home":
        return {one["id"]: one["recent_from"] or 0 for one in json.loads(content)["lifters"]}
    if kind != "sync":
        return {}
    told = json.loads(content)
    if any(one["state"] != "stored" for one in told["answers"]):
        return None
    return {lifter: news["through"] for lifter, news in told["facts"].items()}


if __name__ == "__main__":
    main()
