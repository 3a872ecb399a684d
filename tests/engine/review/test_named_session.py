"""A session by its day; where a day has two, by its time too."""

from dataclasses import replace

from small_block import small_block

from blockwright.engine.review.exposures import day_of


def test_a_day_of_two_sessions_names_their_times() -> None:
    first, *others = small_block().weeks[0].sessions
    twin = replace(first, session=9, start_time="19:00")
    alone, emptied = day_of(first, (first, *others)), replace(twin, entries=())
    assert alone == "mon"
    assert day_of(first, (first, twin, *others)) == f"mon {first.start_time}"
    assert day_of(twin, (first, twin, *others)) == "mon 19:00"
    assert day_of(first, (first, emptied)) == "mon", "a session left empty is none to mistake"
