"""House templates in and out of the database."""

from typing import Any

from blockwright.accounts.models import User
from blockwright.store.models import HouseFrame


def house_frames() -> list[HouseFrame]:
    """Every template of the house, by name."""
    return list(HouseFrame.objects.all())


def house_frame(name: str) -> HouseFrame | None:
    return HouseFrame.objects.filter(name=name).first()


def add_house_frame(name: str, visits: list[dict[str, Any]], by: User) -> HouseFrame:
    """IntegrityError where the name is taken."""
    return HouseFrame.objects.create(name=name, visits=visits, by=by)


def remove_house_frame(pk: int) -> None:
    HouseFrame.objects.filter(pk=pk).delete()
