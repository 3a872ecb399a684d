"""Kilograms and pounds, centimetres and inches: the only file that knows the factors; and how
numbers and names are written.

Inside, everything is kilograms and seconds and unrounded; pounds and RPE live at the edges. What a
person typed is kept beside the kilograms so that it can be shown again unchanged."""

from decimal import Decimal
from typing import Literal

Unit = Literal["kg", "lb"]

KG_PER_LB = 0.45359237  # International yard and pound agreement 1959, exact (published.md `lbkg`)
_STAMPED = 2.5  # Loads of kit in the other unit come in steps of this
_TYPED_KG = 0.006  # How far two decimals of a kilogram may lie from what is stamped
CM_PER_IN = 2.54  # The same agreement, exact


def kg_from(value: float, unit: Unit) -> float:
    """A load written in `unit`, in kilograms, unrounded."""
    return value if unit == "kg" else value * KG_PER_LB


def in_unit(load_kg: float, unit: Unit) -> float:
    """A load in kilograms, in `unit`, unrounded."""
    return load_kg if unit == "kg" else load_kg / KG_PER_LB


def number_text(value: float, places: int = 2) -> str:
    """A number as a person writes it: at most `places` decimals, no trailing zeros."""
    text = f"{value:.{places}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text in {"-0", ""} else text


def capital(text: str) -> str:
    """With its first letter raised; a lift's first word as the trade writes it ("EZ bar curl")."""
    return f"EZ{text[2:]}" if text.startswith("ez ") else f"{text[:1].upper()}{text[1:]}"


def spoken(name: str) -> str:
    """A name of ours as a sentence has it: "side delts"."""
    return name.replace("_", " ")


def plain_number(value: float) -> str:
    """Any number in figures, all of them, never in powers of ten: 1000060, 0.00001."""
    text = format(Decimal(repr(float(value))), "f")
    return text.removesuffix(".0")


def mass_text(mass_kg: float, unit: Unit, places: int = 2) -> str:
    """A mass that no kit makes (a body's, a rate) as a person reads it: "82.5 kg", "185 lb"."""
    return f"{number_text(in_unit(mass_kg, unit), places)} {unit}"


def load_text(load_kg: float, unit: Unit) -> str:
    """A load as a person reads it: "82.5 kg", "185 lb". In `unit`, but for one that is stamped in
    the other: 410 lb on a stack are 410 lb in any gym, not 185.97 kg."""
    other: Unit = "lb" if unit == "kg" else "kg"
    stamped = _STAMPED * round(in_unit(load_kg, other) / _STAMPED)
    quarters = 4 * in_unit(load_kg, unit)
    odd = abs(quarters - round(quarters)) > 1e-6
    if odd and abs(kg_from(stamped, other) - load_kg) < _TYPED_KG:
        return f"{number_text(stamped)} {other}"
    return mass_text(load_kg, unit)
