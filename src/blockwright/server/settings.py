"""Django's settings. Everything that differs from place to place comes from the environment,
which `server.run` fills; importing this writes nothing to disk."""

import os
import secrets
from datetime import timedelta

from csp.constants import NONE, SELF

from blockwright.store.folder import DATABASE_URL, data_folder, database_file
from .database import postgres_settings, sqlite_settings
from .front import MOST_BYTES

DATA = data_folder()
PUBLIC_URL = os.environ.get("BLOCKWRIGHT_PUBLIC_URL", "")
"""Where a proxy on this machine publishes the site (`serve --public-url`); "" without one."""
OWN_CERTIFICATE = os.environ.get("BLOCKWRIGHT_HTTPS") == "1"
HTTPS = PUBLIC_URL.startswith("https:") if PUBLIC_URL else OWN_CERTIFICATE
ADDRESS = os.environ.get("BLOCKWRIGHT_ADDRESS", "")
"""Where phones reach this site, for links and QR codes; "" when it listens to loopback only."""

DEMO_SIGN_IN = os.environ.get("BLOCKWRIGHT_DEMO_SIGN_IN", "")
"""Of the demo only: whom its link signs in, a space, and the link's secret; else "". Nothing but
`server.run` sets it, anew at each start."""

DEBUG = False
ALLOWED_HOSTS = ["localhost", "127.0.0.1", "[::1]"] + [
    host for host in os.environ.get("BLOCKWRIGHT_HOSTS", "").split(",") if host
]
_secret_file = DATA / "secret_key"
# Without the file (a tool that only reads the settings) a key that lasts as long as the process.
SECRET_KEY = (
    _secret_file.read_text(encoding="ascii")
    if _secret_file.is_file()
    else secrets.token_urlsafe(64)
)

INSTALLED_APPS = [
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.staticfiles",
    "axes",
    "csp",
    "django_htmx",
    "blockwright.accounts",
    "blockwright.store",
    "blockwright.web",
]
MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "blockwright.accounts.idle.who_is_here",
    "django.contrib.auth.middleware.LoginRequiredMiddleware",
    "blockwright.web.middleware.persons_own",
    "blockwright.server.trouble.ExpectedTroubleMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "csp.middleware.CSPMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "axes.middleware.AxesMiddleware",
    "blockwright.web.middleware.StorableMiddleware",
]
ROOT_URLCONF = "blockwright.server.urls"
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "APP_DIRS": True,
        "OPTIONS": {
            "builtins": ["blockwright.web.templatetags.figures"],
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
            ],
        },
    }
]

DATABASES = {
    "default": postgres_settings(os.environ[DATABASE_URL])
    if os.environ.get(DATABASE_URL)
    else sqlite_settings(database_file(DATA))
}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

# ------------------------------------------------------------------------------------- people

AUTH_USER_MODEL = "accounts.User"
AUTHENTICATION_BACKENDS = [
    "axes.backends.AxesStandaloneBackend",
    "django.contrib.auth.backends.ModelBackend",
]
PASSWORD_HASHERS = ["blockwright.accounts.hashing.BoundedArgon2Hasher"]
AUTH_PASSWORD_VALIDATORS = [
    {
        "NAME": "django.contrib.auth.password_validation.MinimumLengthValidator",
        "OPTIONS": {"min_length": 12},
    },
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
    {"NAME": "django.contrib.auth.password_validation.NumericPasswordValidator"},
    {
        "NAME": "django.contrib.auth.password_validation.UserAttributeSimilarityValidator",
        "OPTIONS": {"user_attributes": ("sign_in_name", "name")},
    },
]
LOGIN_URL = "sign_in"
LOGIN_REDIRECT_URL = "home"
LOGOUT_REDIRECT_URL = "sign_in"

AXES_LOCKOUT_PARAMETERS = [["username", "ip_address"]]
AXES_USERNAME_FORM_FIELD = "username"
AXES_USERNAME_CALLABLE = "blockwright.accounts.throttle.counted_name"
AXES_CLIENT_IP_CALLABLE = "blockwright.accounts.throttle.counted_address"
AXES_FAILURE_LIMIT = 5
AXES_COOLOFF_TIME = timedelta(minutes=15)
AXES_RESET_ON_SUCCESS = True
AXES_LOCKOUT_CALLABLE = "blockwright.web.pages.trouble.too_many_tries"
AXES_VERBOSE = False
# Who signed in when, from where: nobody reads it, so it is not written down.
AXES_DISABLE_ACCESS_LOG = True

# -------------------------------------------------------------------------------- the browser

CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [NONE],
        "script-src": [SELF],
        "style-src": [SELF],
        "img-src": [SELF],
        "font-src": [SELF],
        "connect-src": [SELF],
        "manifest-src": [SELF],
        "worker-src": [SELF],
        "form-action": [SELF],
        "base-uri": [NONE],
        "frame-ancestors": [NONE],
    },
    # JSON only, which no browser takes for a page: a phone pays for every byte.
    "EXCLUDE_URL_PREFIXES": ("/api/",),
}
# What a page of ours is sent under, whatever the proxy makes of it.
CSRF_TRUSTED_ORIGINS = [PUBLIC_URL] if PUBLIC_URL else []
# Other headers and the cookies' rules are the framework's own (tests/web/test_browser_rules.py).
SESSION_COOKIE_SECURE = HTTPS
SESSION_COOKIE_AGE = 60 * 60 * 24 * 60
CSRF_COOKIE_SECURE = HTTPS
# The phone page reads the token from the cookie when it sends (docs/sync.md).
CSRF_COOKIE_HTTPONLY = False
CSRF_FAILURE_VIEW = "blockwright.web.pages.trouble.csrf_failed"

DATA_UPLOAD_MAX_MEMORY_SIZE = 1024 * 1024
# Each file is read whole, and the front keeps what is large on disk: not there twice.
FILE_UPLOAD_MAX_MEMORY_SIZE = MOST_BYTES
# An own lift in the lifter form has some forty fields, and a lifter may have dozens of them.
DATA_UPLOAD_MAX_NUMBER_FIELDS = 5000
DATA_UPLOAD_MAX_NUMBER_FILES = 10

# ------------------------------------------------------------------------------- static files

STATIC_URL = "/static/"
STATIC_ROOT = DATA / "static"
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {"BACKEND": "blockwright.web.static_files.ModuleStaticFiles"},
}
WHITENOISE_ALLOW_ALL_ORIGINS = False

# ---------------------------------------------------------------------------- time and words

LANGUAGE_CODE = "en"
USE_I18N = False
TIME_ZONE = "UTC"

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "filters": {"links": {"()": "blockwright.server.log_words.WithoutLinks"}},
    "handlers": {
        "stderr": {"class": "logging.StreamHandler", "level": "WARNING", "filters": ["links"]}
    },
    "root": {"handlers": ["stderr"], "level": "WARNING"},
}
