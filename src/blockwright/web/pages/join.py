"""Where a one-time link leads: make an account, or add one more lifter to the one you have."""

from zoneinfo import ZoneInfo

from django import forms
from django.contrib.auth import login
from django.contrib.auth.decorators import login_not_required
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods

from blockwright.accounts.models import User
from blockwright.engine.errors import BadInput
from blockwright.verbs.invitations import NewAccount, accept, join_with, open_invitation

BACKEND = "django.contrib.auth.backends.ModelBackend"


class JoinForm(forms.Form):
    name = forms.CharField(max_length=120, label="Your name")
    sign_in_name = forms.CharField(max_length=80, label="Name to sign in with")
    password = forms.CharField(
        max_length=200, label="Password, twelve letters or more", widget=forms.PasswordInput
    )
    zone = forms.CharField(
        max_length=64, required=False, label="Time zone, such as Europe/Berlin (may stay empty)"
    )

    def clean_zone(self) -> str:
        zone: str = self.cleaned_data["zone"].strip()
        try:
            if zone:
                ZoneInfo(zone)
        except (ValueError, OSError, KeyError) as error:
            raise ValidationError("There is no such time zone; leave it empty.") from error
        return zone

    def clean_password(self) -> str:
        password: str = self.cleaned_data["password"]
        person = User(
            sign_in_name=self.cleaned_data.get("sign_in_name", ""),
            name=self.cleaned_data.get("name", ""),
        )
        validate_password(password, person)
        return password


@sensitive_post_parameters("password")
@login_not_required
@require_http_methods(["GET", "HEAD", "POST"])
def join(request: HttpRequest, token: str) -> HttpResponse:
    now = timezone.now()
    invitation = open_invitation(token, now)
    if invitation is None:
        return render(request, "web/join_closed.html", status=404)
    known = invitation.person
    asked = ("name", "sign_in_name", "zone")
    initial = {} if known is None else {name: getattr(known, name) for name in asked}
    form = JoinForm(request.POST or None, initial=initial)
    try:
        if request.method == "POST" and isinstance(request.user, User):
            join_with(token, request.user, now)
            return redirect("home")
        if request.method == "POST" and form.is_valid():
            user = accept(token, NewAccount(**form.cleaned_data), now)
            login(request, user, backend=BACKEND)
            return redirect("home")
    except BadInput as error:
        form.add_error(None, f"{error.problems[0].says}; {error.problems[0].mend}")
    return render(request, "web/join.html", {"form": form, "invitation": invitation})
