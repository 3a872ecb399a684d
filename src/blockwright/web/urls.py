"""The address of every page."""

from datetime import date

from django.contrib.auth.decorators import login_not_required
from django.urls import URLPattern, URLResolver, include, path, register_converter
from django.urls.converters import IntConverter

from .pages import (
    block,
    block_change,
    block_typed,
    home,
    invite,
    lifter,
    phone,
    rack,
    report,
    review,
    sign_in,
)


class DayConverter:
    """A date in an address: 2027-01-04."""

    regex = r"\d{4}-\d{2}-\d{2}"
    to_python = staticmethod(date.fromisoformat)
    to_url = staticmethod(str)


class NumberConverter(IntConverter):
    """A number that a database column holds."""

    def to_python(self, value: str) -> int:
        number = super().to_python(value)
        if number > _MOST_NUMBER:
            raise ValueError(value)
        return number


_MOST_NUMBER = 10**9
register_converter(DayConverter, "day")
register_converter(NumberConverter, "number")

_BLOCK = [
    path("", block.block_of, name="block_of"),
    path(
        "change/<number:week>/<number:session>/<number:entry>/",
        block_change.change_lift,
        name="change_lift",
    ),
    path(
        "session/<number:week>/<number:session>/", block_change.block_session, name="block_session"
    ),
    path("typed/", block_typed.block_typed, name="block_typed"),
    path("typed/lifts/", block_typed.typed_lifts, name="typed_lifts"),
    path("template/", block.keep_template, name="keep_template"),
    path("rest/", block_change.block_rest, name="block_rest"),
    path("revisions/", block.block_revisions, name="block_revisions"),
    path("revisions/<number:revision>/", block.block_revision, name="block_revision"),
]

_LIFTER: list[URLPattern | URLResolver] = [
    path("", lifter.lifter, name="lifter"),
    path("file/", lifter.lifter_file, name="lifter_file"),
    path("files/", lifter.add_files, name="add_files"),
    path("imports/", lifter.imports, name="imports"),
    path("imports/<uuid:batch>/", lifter.one_import, name="import"),
    path("log/", lifter.log, name="log"),
    path("settle/", lifter.settle, name="settle"),
    path("export/", lifter.export, name="export"),
    path("erase/", lifter.erase, name="erase"),
    path("invite/", invite.invite_to_lifter, name="invite"),
    path("shares/<number:share>/", invite.change_share, name="change_share"),
    path("shares/<number:share>/end/", invite.end_share, name="end_share"),
    path("compose/", block.compose, name="compose"),
    path("compose/<number:search>/", block.composing, name="composing"),
    path("compose/<number:search>/stop/", block.stop_composing, name="stop_composing"),
    path("compose/template/<number:template>/drop/", block.drop_template, name="drop_template"),
    path("block/", block.block, name="block"),
    path("block/<day:start>/", include(_BLOCK)),
    path("strength/", report.strength, name="strength"),
    path("sets/", report.sets, name="sets"),
    path("report/<day:start>/", report.report, name="report"),
    path("report/<day:start>/pdf/", report.report_paper, name="report_paper"),
    path("review/", review.review, name="review"),
    path("review/<number:letter>/", review.review, name="letter"),
    path("ledger/", report.ledger_page, name="ledger"),
    path("sheet/<day:block>/<number:week>/<number:session>/", phone.sheet, name="sheet"),
]

urlpatterns = [
    path("", home.home, name="home"),
    path("sign-in/", login_not_required(sign_in.SignInView.as_view()), name="sign_in"),
    path("demo/<str:token>/", sign_in.demo_sign_in, name="demo_sign_in"),
    path("sign-out/", sign_in.SignOutView.as_view(), name="sign_out"),
    path("evening/", review.evening_page, name="evening"),
    path("account/", sign_in.account, name="account"),
    path("password/", sign_in.PasswordView.as_view(), name="password"),
    path("join/<str:token>/", sign_in.join, name="join"),
    path("phones/", phone.phones, name="phones"),
    path("phones/qr.svg", phone.phones_qr, name="phones_qr"),
    path("phone/", phone.phone, name="phone"),
    path("rack/", rack.rack, name="rack"),
    path("lifts/", rack.lifts, name="lifts"),
    path("sw.js", phone.worker, name="worker"),
    path("own-certificate.crt", phone.certificate, name="certificate"),
    path("coaches/invite/", invite.invite_coach, name="invite_coach"),
    path("invitations/<number:invitation>/withdraw/", invite.withdraw, name="withdraw_invitation"),
    path("site/", invite.site, name="site"),
    path("site/archive/", invite.archive, name="site_archive"),
    path("site/people/<number:person>/link/", invite.person_link, name="person_link"),
    path("lifters/new/", lifter.new, name="new_lifter"),
    path("lifters/<uuid:key>/", include(_LIFTER)),
]
