"""What `site_load.py` measures the site beside: Django with one view and no middleware, behind the
same server and front. `python hello.py` serves it and prints its port."""

import sys

from django.conf import settings
from django.core.wsgi import get_wsgi_application
from django.http import HttpRequest, HttpResponse
from django.urls import path

from blockwright.server.front import Front

HOST = "127.0.0.1"


def hello(_request: HttpRequest) -> HttpResponse:
    return HttpResponse(b"hello")


urlpatterns = [path("", hello)]
if not settings.configured:
    settings.configure(
        ALLOWED_HOSTS=[HOST], MIDDLEWARE=[], ROOT_URLCONF=__name__, SECRET_KEY="bare", USE_TZ=True
    )
application = Front(get_wsgi_application())


def main() -> None:
    from granian import Granian
    from granian.constants import Interfaces
    from granian.log import LogLevels

    from blockwright.server.addresses import free_port
    from blockwright.server.run import processes

    port = free_port(HOST)
    sys.stdout.write(f"{port}\n")
    sys.stdout.flush()
    Granian(
        "hello:application",
        address=HOST,
        port=port,
        interface=Interfaces.ASGINL,
        workers=processes(),
        websockets=False,
        log_level=LogLevels.error,
    ).serve()


if __name__ == "__main__":
    main()
