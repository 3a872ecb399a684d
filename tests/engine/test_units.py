"""Units: exact factors, what was typed can be shown again."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from blockwright.engine.units import (
    KG_PER_LB,
    in_unit,
    kg_from,
    load_text,
    mass_text,
    number_text,
    plain_number,
)


def test_pound_international_agreement_1959() -> None:
    assert KG_PER_LB == 0.45359237
    assert kg_from(45, "lb") == pytest.approx(20.41165665, abs=1e-12)
    assert in_unit(100, "kg") == 100
    assert in_unit(100, "lb") == pytest.approx(220.462262, abs=1e-6)


@given(st.integers(min_value=1, max_value=8000))
def test_quarter_pounds_come_back_as_typed(quarters: int) -> None:
    typed = quarters / 4
    assert number_text(in_unit(kg_from(typed, "lb"), "lb")) == number_text(typed)


@pytest.mark.parametrize(
    ("value", "text"), [(82.5, "82.5"), (100.0, "100"), (0.0, "0"), (-0.001, "0"), (1.25, "1.25")]
)
def test_numbers_are_written_as_people_write_them(value: float, text: str) -> None:
    assert number_text(value) == text


def test_loads_carry_their_unit() -> None:
    assert load_text(82.5, "kg") == "82.5 kg"
    assert load_text(kg_from(185, "lb"), "lb") == "185 lb"
    assert load_text(kg_from(410, "lb"), "kg") == "410 lb", "what is stamped on the stack"
    assert load_text(185.97, "kg") == "410 lb", "as a document rounds it"
    assert load_text(kg_from(12.5, "lb"), "kg") == "12.5 lb"
    assert load_text(60, "lb") == "60 kg"
    assert [load_text(kg, "kg") for kg in (22.65, 45.4, 1.13)] == ["22.65 kg", "45.4 kg", "2.5 lb"]
    assert load_text(21.1875, "kg") == "21.19 kg", "a hundredth is enough for any plate"
    assert mass_text(21.1875, "kg", places=1) == "21.2 kg"
    assert mass_text(kg_from(410, "lb"), "kg") == "185.97 kg"


@pytest.mark.parametrize(
    ("value", "said"),
    [(1000060.0, "1000060"), (1e-05, "0.00001"), (82.5, "82.5"), (1e16, "10000000000000000"),
     (-3, "-3"), (0.1 + 0.2, "0.30000000000000004")],
)  # fmt: skip
def test_a_plain_number_never_stands_in_powers_of_ten(value: float, said: str) -> None:
    assert plain_number(value) == said
