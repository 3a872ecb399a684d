"""Tells Django of this folder."""

from django.apps import AppConfig


class StoreConfig(AppConfig):
    name = "blockwright.store"
    label = "store"
    default_auto_field = "django.db.models.BigAutoField"
