"""Sign in and out."""

from typing import Any
from zoneinfo import available_timezones

from django import forms
from django.conf import settings
from django.contrib.auth import login
from django.contrib.auth.decorators import login_not_required
from django.contrib.auth.forms import AuthenticationForm, PasswordChangeForm
from django.contrib.auth.password_validation import validate_password
from django.contrib.auth.views import LoginView, LogoutView, PasswordChangeView
from django.core.exceptions import ValidationError
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse_lazy
from django.utils import timezone
from django.utils.crypto import constant_time_compare
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_safe

from blockwright.accounts.models import SIGN_IN_NAME_LETTERS, User
from blockwright.accounts.throttle import FIELD, count_failure, is_throttled
from blockwright.engine.errors import BadInput
from blockwright.store.access import person_of
from blockwright.verbs.invitations import NewAccount, accept, join_with, open_invitation
from blockwright.verbs.phone_home import today_of
from blockwright.verbs.save_account import UNITS, is_zone, save_account
from .trouble import too_many_tries

BACKEND = "django.contrib.auth.backends.ModelBackend"


class JoinForm(forms.Form):
    name = forms.CharField(
        max_length=120, label="Your name", widget=forms.TextInput({"autofocus": True})
    )
    sign_in_name = forms.CharField(max_length=SIGN_IN_NAME_LETTERS, label="Name to sign in with")
    password = forms.CharField(
        max_length=200, label="Password, twelve letters or more", widget=forms.PasswordInput
    )
    zone = forms.CharField(
        max_length=64, required=False, label="Time zone, such as Europe/Berlin (may stay empty)"
    )

    def clean_zone(self) -> str:
        zone: str = self.cleaned_data["zone"].strip()
        if zone and not is_zone(zone):
            raise ValidationError("There is no such time zone; leave it empty.")
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


class SignInView(LoginView):
    template_name = "web/sign_in.html"
    authentication_form = AuthenticationForm
    redirect_authenticated_user = True

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        owned = User.objects.filter(role=User.OWNER).exists()
        return super().get_context_data(**kwargs, owned=owned)

    def post(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        if is_throttled(request, request.POST.get(FIELD, "")):
            return too_many_tries(request)
        return super().post(request, *args, **kwargs)


class NewPasswordForm(PasswordChangeForm):
    """The framework's form, its fields named in the site's words."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["old_password"].label = "The password until now"
        self.fields["new_password2"].label = "The new password, once more"


class PasswordView(PasswordChangeView):
    """A new password; other devices are signed out by it."""

    template_name = "web/password.html"
    form_class = NewPasswordForm
    success_url = reverse_lazy("account")

    def post(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        if is_throttled(request, person_of(request).sign_in_name):
            return too_many_tries(request)
        return super().post(request, *args, **kwargs)

    def form_invalid(self, form: Any) -> HttpResponse:
        if form.has_error("old_password", "password_incorrect"):
            count_failure(self.request, person_of(self.request).sign_in_name)
        return super().form_invalid(form)


class SignOutView(LogoutView):
    """Signing out leaves what is unsent on the phone."""

    http_method_names = ("post", "options")


@login_not_required
@require_safe
def demo_sign_in(request: HttpRequest, token: str) -> HttpResponse:
    """The link that `blockwright demo` prints; on any other site there is no such page."""
    name, _, secret = settings.DEMO_SIGN_IN.rpartition(" ")
    if not secret or not constant_time_compare(token, secret):
        raise Http404("no such page")
    login(request, User.objects.get_by_natural_key(name), backend=BACKEND)
    return redirect("home")


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
