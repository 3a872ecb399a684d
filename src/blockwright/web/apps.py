"""Tells Django of this folder."""

from django.apps import AppConfig


class WebConfig(AppConfig):
    name = "blockwright.web"
    label = "web"
