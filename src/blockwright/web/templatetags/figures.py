"""How templates part figures, so that those of a column stand under one another."""

from django.template import Library

register = Library()


@register.filter
def figure_of(text: str) -> tuple[str, str, str]:
    """ "0 of 3" as ("0", " of ", "3"); "42" as ("42", "", "")."""
    return text.partition(" of ")
