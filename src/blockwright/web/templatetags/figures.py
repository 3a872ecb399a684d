"""Figures parted so that a column's stand under one another; a name's first letter raised."""

from django.template import Library
from django.template.defaultfilters import stringfilter

from blockwright.engine.units import capital

register = Library()
register.filter("capfirst", stringfilter(capital), is_safe=True)


@register.filter
def figure_of(text: str) -> tuple[str, str, str]:
    """ "0 of 3" as ("0", " of ", "3"); "42" as ("42", "", "")."""
    return text.partition(" of ")
