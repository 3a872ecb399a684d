"""Every address of the site: the pages and the API."""

from django.urls import include, path

from blockwright.api.site_api import urls as api_urls

urlpatterns = [
    path("api/", api_urls),
    path("", include("blockwright.web.urls")),
]
handler400 = "blockwright.server.trouble.bad_request"
handler403 = "blockwright.server.trouble.not_allowed"
handler404 = "blockwright.server.trouble.not_found"
handler500 = "blockwright.server.trouble.our_fault"
