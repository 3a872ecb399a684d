"""Rows that are written once. The database refuses the rest too (migration 0002)."""

from typing import Any, NoReturn

from django.db import models


class AppendOnlyError(TypeError):
    """Code tried to change what happened; a mistake is amended by a new row."""


class AppendOnlyQuerySet(models.QuerySet[Any]):
    """Reads and adds; cannot update or delete."""

    def update(self, **_values: Any) -> NoReturn:
        raise AppendOnlyError("these rows are never changed; add one that amends them")

    def bulk_update(self, *_args: Any, **_more: Any) -> NoReturn:
        raise AppendOnlyError("these rows are never changed; add one that amends them")

    def update_or_create(self, *_args: Any, **_more: Any) -> NoReturn:
        raise AppendOnlyError("these rows are never changed; add one that amends them")

    def delete(self) -> NoReturn:
        raise AppendOnlyError("these rows are never deleted; `store.erase` erases a whole lifter")


class AppendOnly(models.Model):
    """Base of rows that are saved once."""

    objects = AppendOnlyQuerySet.as_manager()

    class Meta:
        abstract = True

    def save(self, *args: Any, **more: Any) -> None:
        if not self._state.adding:
            raise AppendOnlyError("this row is never changed; add one that amends it")
        super().save(*args, **more)

    def delete(self, *_args: Any, **_more: Any) -> NoReturn:
        raise AppendOnlyError("this row is never deleted; `store.erase` erases a whole lifter")
