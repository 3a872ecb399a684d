"""What pages remember: by what an answer is made from, and no longer than it is asked for."""

import pytest

from blockwright.verbs.remembered import remembered


def test_an_answer_is_kept_by_its_key_until_others_were_asked_for_since() -> None:
    made: list[str] = []

    @remembered(2, lambda name, _page: name)
    def answer(name: str, page: str) -> str:
        made.append(name)
        return f"{name} for {page}"

    assert answer("ana", "sheet") == "ana for sheet"
    assert answer("ana", "report") == "ana for sheet"
    assert made == ["ana"]
    for name in ("bo", "cy"):
        answer(name, "sheet")
    assert answer("ana", "report") == "ana for report"
    assert made == ["ana", "bo", "cy", "ana"]


def test_what_failed_is_tried_again() -> None:
    tried: list[int] = []

    @remembered(2, lambda: "one")
    def answer() -> int:
        tried.append(1)
        if len(tried) == 1:
            raise ValueError("not yet")
        return len(tried)

    with pytest.raises(ValueError, match="not yet"):
        answer()
    assert answer() == 2
    assert answer() == 2
