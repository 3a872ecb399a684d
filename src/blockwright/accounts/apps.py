"""Tells Django of this folder."""

from django.apps import AppConfig


class AccountsConfig(AppConfig):
    name = "blockwright.accounts"
    label = "accounts"
    default_auto_field = "django.db.models.BigAutoField"
