"""Settings. Whatever differs between two set-ups is read from the environment.

Development and the demo need no variable at all. A production set-up sets
``UNDERBELT_MODE=production``, ``SECRET_KEY`` and ``ALLOWED_HOSTS``; DEVELOPERS.md
lists the rest.
"""

import os
import secrets
from pathlib import Path

import dj_database_url
from csp.constants import NONE, SELF
from django.core.exceptions import ImproperlyConfigured

BASE_DIR = Path(__file__).resolve().parent.parent
HOME = Path(os.environ.get("UNDERBELT_HOME", BASE_DIR / "var"))
PRODUCTION = os.environ.get("UNDERBELT_MODE", "") == "production"
DEBUG = False


def listed(name: str) -> list[str]:
    return [item.strip() for item in os.environ.get(name, "").split(",") if item.strip()]


def kept_secret() -> str:
    """The secret key of a development set-up: made once, readable by its owner alone."""
    path = HOME / "secret-key"
    if not path.exists():
        HOME.mkdir(parents=True, exist_ok=True)
        path.touch(mode=0o600)
        path.write_text(secrets.token_urlsafe(64))
    return path.read_text()


SECRET_KEY = os.environ.get("SECRET_KEY", "")
if not SECRET_KEY:
    if PRODUCTION:
        raise ImproperlyConfigured("Set SECRET_KEY: a production set-up keeps its own.")
    SECRET_KEY = kept_secret()
SECRET_KEY_FALLBACKS = listed("SECRET_KEY_FALLBACKS")

# Outside production the server answers to every name, so that a phone in the shop's own
# network can reach it by the address that `serve` prints.
ALLOWED_HOSTS = listed("ALLOWED_HOSTS") or ([] if PRODUCTION else ["*"])
CSRF_TRUSTED_ORIGINS = listed("CSRF_TRUSTED_ORIGINS")

INSTALLED_APPS = [
    "shop.front",
    "shop.books",
    "shop.lots",
    "shop.resale",
    "shop.work",
    "shop.floor",
    "shop.till",
    "shop.people",
    "parts.support",
    "parts.buying",
    "parts.stock",
    "parts.answers",
    "parts.fits",
    "parts.days",
    "units.recalls",
    "units.inspections",
    "units.plates",
    "units.binder",
    "units.catalogue",
    "units.sheets",
    "units.files",
    "units.show",
    "units.rows",
    "axes",
    "csp",
    "django_filters",
    "django_htmx",
    "django_tasks",
    "django_tasks_db",
    "template_partials",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.messages",
    "django.contrib.sessions",
    "whitenoise.runserver_nostatic",
    "django.contrib.staticfiles",
    "django.forms",
]

MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "csp.middleware.CSPMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.locale.LocaleMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "shop.front.middleware.SeatMiddleware",
    "axes.middleware.AxesMiddleware",
]

AUTHENTICATION_BACKENDS = [
    "axes.backends.AxesStandaloneBackend",
    "django.contrib.auth.backends.ModelBackend",
]
AXES_FAILURE_LIMIT = 6
AXES_COOLOFF_TIME = 0.25  # hours
AXES_LOCKOUT_PARAMETERS = [["username", "ip_address"]]
AXES_RESET_ON_SUCCESS = True
AXES_LOCKOUT_TEMPLATE = "front/locked_out.html"
AXES_VERBOSE = False

ROOT_URLCONF = "shop.urls"
WSGI_APPLICATION = "shop.wsgi.application"

TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "shop.front.context.shell",
            ],
            "builtins": [
                "units.show.templatetags.show",
                "django.templatetags.i18n",
                "django.templatetags.static",
                "template_partials.templatetags.partials",
            ],
        },
    }
]
FORM_RENDERER = "django.forms.renderers.TemplatesSetting"

SQLITE = {
    "ENGINE": "django.db.backends.sqlite3",
    # Writes take the lock at once instead of failing on the way; reads take none.
    "OPTIONS": {
        "transaction_mode": "IMMEDIATE",
        "timeout": 20,
        "init_command": "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; PRAGMA foreign_keys=ON;",
    },
}
# A connection lives for one request: the server's threads then leave none open when they end.
DATABASE_URL = os.environ.get("DATABASE_URL", "")
DATABASES = {
    "default": dj_database_url.parse(DATABASE_URL)
    if DATABASE_URL
    else {"NAME": HOME / "underbelt.sqlite3"}
}
if "sqlite" in DATABASES["default"].get("ENGINE", "sqlite"):
    DATABASES["default"] |= SQLITE
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

AUTH_PASSWORD_VALIDATORS = [
    {"NAME": "django.contrib.auth.password_validation.UserAttributeSimilarityValidator"},
    {
        "NAME": "django.contrib.auth.password_validation.MinimumLengthValidator",
        "OPTIONS": {"min_length": 10},
    },
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
]
LOGIN_URL = "sign-in"
LOGIN_REDIRECT_URL = "home"
LOGOUT_REDIRECT_URL = "sign-in"

LANGUAGE_CODE = "en"
# Those whose sentences stand here. Django alone knows many more, and would mix them in.
LANGUAGES = [("en", "English")]
USE_I18N = True
USE_TZ = True
TIME_ZONE = os.environ.get("UNDERBELT_TIME_ZONE", "UTC")
FORMAT_MODULE_PATH = None
# ISO codes: the currency of every amount, and where a number without a country prefix is dialled.
CURRENCY = os.environ.get("UNDERBELT_CURRENCY", "USD")
MEASURES = os.environ.get("UNDERBELT_MEASURES", "us")  # or "metric"
TELEPHONE_REGION = os.environ.get("UNDERBELT_TELEPHONE_REGION", "US")

# The server hands out static files from where the apps keep them: there is no collecting step.
STATIC_URL = "static/"
STORAGES = {
    "default": {
        "BACKEND": "django.core.files.storage.FileSystemStorage",
        "OPTIONS": {"location": HOME / "files"},
    },
    "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"},
}
WHITENOISE_USE_FINDERS = True
WHITENOISE_MAX_AGE = 300

# An upload is capped by units.files before anything decodes it; these only bound what Django
# itself keeps in memory.
DATA_UPLOAD_MAX_MEMORY_SIZE = 2_500_000
DATA_UPLOAD_MAX_NUMBER_FIELDS = 2000
UPLOAD_MAX_BYTES = 25_000_000
# What telephones call 24 megapixels is up to 24.5 million (5712 by 4284).
UPLOAD_MAX_PIXELS = 25_000_000
# Work that no browser waits for: rows of the database, done by ``manage.py worker``.
TASKS = {"default": {"BACKEND": "django_tasks_db.DatabaseBackend"}}
# The reader of plates: its module, and the seconds and bytes that one photo may take.
PLATE_READER = "units.plates.domain.reader"
PLATE_SECONDS = 30
PLATE_MEMORY = 2_000_000_000
FILE_GATE = "shop.front.access.may_see_file"
# Where a document's number leads; lower houses write the number and know no more of it.
DOCUMENT_FINDER = "/find/?q="
# Where phones reach the shop, as https://desk.local:8000; codes on tickets lead there. Without it
# they lead to the address by which the ticket was asked for.
PUBLIC_ADDRESS = os.environ.get("UNDERBELT_ADDRESS", "")

CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [NONE],
        "script-src": [SELF],
        "style-src": [SELF],
        "img-src": [SELF, "blob:"],
        "font-src": [SELF],
        "connect-src": [SELF],
        "manifest-src": [SELF],
        "worker-src": [SELF],
        "form-action": [SELF],
        "base-uri": [NONE],
        "frame-ancestors": [NONE],
    }
}
SECURE_CONTENT_TYPE_NOSNIFF = True
SECURE_REFERRER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"
SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_AGE = 14 * 60 * 60  # one long working day
if PRODUCTION:
    SECURE_SSL_REDIRECT = True
    SESSION_COOKIE_SECURE = True
    CSRF_COOKIE_SECURE = True
    SECURE_HSTS_SECONDS = 365 * 24 * 60 * 60
    SECURE_HSTS_INCLUDE_SUBDOMAINS = True
    SECURE_HSTS_PRELOAD = True
if os.environ.get("UNDERBELT_PROXY", "") == "trusted":
    SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https")
    AXES_IPWARE_PROXY_COUNT = 1

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "handlers": {"console": {"class": "logging.StreamHandler"}},
    "root": {"handlers": ["console"], "level": "WARNING"},
}
