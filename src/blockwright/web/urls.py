"""The address of every page."""

from django.contrib.auth.decorators import login_not_required
from django.urls import path, register_converter
from django.urls.converters import StringConverter

from blockwright.web.pages import (
    account,
    block,
    block_change,
    block_rest,
    block_revisions,
    block_session,
    block_typed,
    compose,
    evening,
    home,
    imports,
    invite,
    join,
    ledger,
    lifter,
    lifter_file,
    lifts,
    log,
    phone,
    rack,
    report,
    review,
    sets,
    sheet,
    sign_in,
    site,
    strength,
)


class DateConverter(StringConverter):
    """A date in an address: 2027-01-04."""

    regex = r"\d{4}-\d{2}-\d{2}"


register_converter(DateConverter, "day")

urlpatterns = [
    path("", home.home, name="home"),
    path("sign-in/", login_not_required(sign_in.SignInView.as_view()), name="sign_in"),
    path("demo/<str:token>/", sign_in.demo_sign_in, name="demo_sign_in"),
    path("sign-out/", sign_in.SignOutView.as_view(), name="sign_out"),
    path("evening/", evening.page, name="evening"),
    path("account/", account.account, name="account"),
    path("password/", sign_in.PasswordView.as_view(), name="password"),
    path("join/<str:token>/", join.join, name="join"),
    path("phones/", phone.phones, name="phones"),
    path("phones/qr.svg", phone.phones_qr, name="phones_qr"),
    path("phone/", phone.phone, name="phone"),
    path("rack/", rack.rack, name="rack"),
    path("lifts/", lifts.lifts, name="lifts"),
    path("sw.js", phone.worker, name="worker"),
    path("own-certificate.crt", phone.certificate, name="certificate"),
    path("coaches/invite/", invite.invite_coach, name="invite_coach"),
    path("invitations/<int:invitation>/withdraw/", invite.withdraw, name="withdraw_invitation"),
    path("site/", site.site, name="site"),
    path("site/archive/", site.archive, name="site_archive"),
    path("site/people/<int:person>/link/", site.person_link, name="person_link"),
    path("lifters/new/", lifter_file.new, name="new_lifter"),
    path("lifters/<uuid:key>/", lifter.lifter, name="lifter"),
    path("lifters/<uuid:key>/file/", lifter_file.lifter_file, name="lifter_file"),
    path("lifters/<uuid:key>/files/", lifter.add_files, name="add_files"),
    path("lifters/<uuid:key>/imports/", imports.imports, name="imports"),
    path("lifters/<uuid:key>/imports/<uuid:batch>/", imports.one, name="import"),
    path("lifters/<uuid:key>/log/", log.log, name="log"),
    path("lifters/<uuid:key>/settle/", lifter.settle, name="settle"),
    path("lifters/<uuid:key>/export/", lifter.export, name="export"),
    path("lifters/<uuid:key>/erase/", lifter.erase, name="erase"),
    path("lifters/<uuid:key>/invite/", invite.invite_to_lifter, name="invite"),
    path("lifters/<uuid:key>/shares/<int:share>/", invite.change_share, name="change_share"),
    path("lifters/<uuid:key>/shares/<int:share>/end/", invite.end_share, name="end_share"),
    path("lifters/<uuid:key>/compose/", compose.compose, name="compose"),
    path("lifters/<uuid:key>/compose/<int:search>/", compose.composing, name="composing"),
    path(
        "lifters/<uuid:key>/compose/<int:search>/stop/",
        compose.stop_composing,
        name="stop_composing",
    ),
    path("lifters/<uuid:key>/block/", block.block, name="block"),
    path("lifters/<uuid:key>/block/<day:start>/", block.block_of, name="block_of"),
    path(
        "lifters/<uuid:key>/block/<day:start>/change/<int:week>/<int:session>/<int:entry>/",
        block_change.change_lift,
        name="change_lift",
    ),
    path(
        "lifters/<uuid:key>/block/<day:start>/session/<int:week>/<int:session>/",
        block_session.block_session,
        name="block_session",
    ),
    path(
        "lifters/<uuid:key>/block/<day:start>/typed/",
        block_typed.block_typed,
        name="block_typed",
    ),
    path(
        "lifters/<uuid:key>/block/<day:start>/typed/lifts/",
        block_typed.typed_lifts,
        name="typed_lifts",
    ),
    path(
        "lifters/<uuid:key>/block/<day:start>/template/", block.keep_template, name="keep_template"
    ),
    path(
        "lifters/<uuid:key>/compose/template/<int:template>/drop/",
        block.drop_template,
        name="drop_template",
    ),
    path("lifters/<uuid:key>/block/<day:start>/rest/", block_rest.block_rest, name="block_rest"),
    path(
        "lifters/<uuid:key>/block/<day:start>/revisions/",
        block_revisions.block_revisions,
        name="block_revisions",
    ),
    path(
        "lifters/<uuid:key>/block/<day:start>/revisions/<int:revision>/",
        block_revisions.block_revision,
        name="block_revision",
    ),
    path("lifters/<uuid:key>/strength/", strength.strength, name="strength"),
    path("lifters/<uuid:key>/sets/", sets.sets, name="sets"),
    path("lifters/<uuid:key>/report/<day:start>/", report.report, name="report"),
    path("lifters/<uuid:key>/report/<day:start>/pdf/", report.report_paper, name="report_paper"),
    path("lifters/<uuid:key>/review/", review.review, name="review"),
    path("lifters/<uuid:key>/review/<int:letter>/", review.letter, name="letter"),
    path("lifters/<uuid:key>/ledger/", ledger.page, name="ledger"),
    path(
        "lifters/<uuid:key>/sheet/<day:block>/<int:week>/<int:session>/",
        sheet.sheet,
        name="sheet",
    ),
]
