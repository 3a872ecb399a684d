"""My account: name, units, time zone, password."""

from zoneinfo import available_timezones

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from blockwright.engine.errors import BadInput
from blockwright.verbs.phone_home import today_of
from blockwright.verbs.save_account import UNITS, save_account
from blockwright.web.person import person_of

FIELDS = ("name", "units", "zone")


@require_http_methods(["GET", "HEAD", "POST"])
def account(request: HttpRequest) -> HttpResponse:
    person = person_of(request)
    typed = {field: getattr(person, field) for field in FIELDS}
    problems: dict[str, str] = {}
    if request.method == "POST":
        typed = {field: request.POST.get(field, "") for field in FIELDS}
        try:
            save_account(person, **typed)
        except BadInput as error:
            problems = {str(one.column): f"{one.says}; {one.mend}" for one in error.problems}
        else:
            return redirect(f"{request.path}?saved")
    page = {
        "person": person,
        "typed": typed,
        "problems": problems,
        "saved": "saved" in request.GET and not problems,
        "today": today_of(person, timezone.now()),
        "units": UNITS,
        "zones": sorted(available_timezones()),
    }
    return render(request, "web/account.html", page, status=422 if problems else 200)
