"""Sign in and out."""

from typing import Any

from django.conf import settings
from django.contrib.auth import login
from django.contrib.auth.decorators import login_not_required
from django.contrib.auth.forms import AuthenticationForm, PasswordChangeForm
from django.contrib.auth.views import LoginView, LogoutView, PasswordChangeView
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse_lazy
from django.utils.crypto import constant_time_compare
from django.views.decorators.http import require_safe

from blockwright.accounts.models import User
from blockwright.accounts.throttle import FIELD, count_failure, is_throttled
from blockwright.web.pages.join import BACKEND
from blockwright.web.pages.trouble import too_many_tries
from blockwright.web.person import person_of


class SignInView(LoginView):
    template_name = "web/sign_in.html"
    authentication_form = AuthenticationForm
    redirect_authenticated_user = True

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


def locked_out(
    request: HttpRequest, _response: HttpResponse | None = None, _credentials: Any = None
) -> HttpResponse:
    """Where the throttle sends a guesser."""
    return too_many_tries(request)
