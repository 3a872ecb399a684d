"""The phone page knows without asking whose it is: a cookie follows sign-in and sign-out."""

import pytest
from django.test import Client

import people
from blockwright.accounts.idle import COOKIE

pytestmark = pytest.mark.django_db


def test_the_cookie_follows_sign_in_and_sign_out_and_opens_nothing() -> None:
    world = people.make_world()
    client = Client()
    signed_in = client.post("/sign-in/", {"username": "mara", "password": people.PASSWORD})
    assert signed_in.status_code == 302
    cookie = client.cookies[COOKIE]
    assert cookie.value == str(world.mara.pk)
    assert not cookie["httponly"]
    assert cookie["max-age"] == 400 * 86_400, "as long as a browser keeps one"
    signed_out = client.post("/sign-out/")
    assert signed_out.cookies[COOKIE].value == ""
    assert signed_out.cookies[COOKIE]["samesite"] == cookie["samesite"] == "Lax"
    client.cookies[COOKIE] = str(world.mara.pk)
    assert client.get("/api/phone").status_code == 401


def test_a_sign_in_that_ran_out_still_has_its_person() -> None:
    world = people.make_world()
    client = Client()
    client.force_login(world.mara)
    assert client.get("/api/phone").cookies[COOKIE].value == str(world.mara.pk)
    client.cookies["sessionid"] = "none"
    assert COOKIE not in client.get("/api/phone").cookies
