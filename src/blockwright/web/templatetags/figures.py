"""How templates part figures, so that those of a column stand under one another, and raise a name's
first letter. Every template has both (`server/settings.py`)."""

from django.template import Library
from django.template.defaultfilters import stringfilter

from blockwright.sheets.report_shapes import capital

register = Library()
register.filter("capfirst", stringfilter(capital), is_safe=True)


@register.filter
def figure_of(text: str) -> tuple[str, str, str]:
    """ "0 of 3" as ("0", " of ", "3"); "42" as ("42", "", "")."""
    return text.partition(" of ")
