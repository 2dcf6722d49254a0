"""The one settings file. Everything that differs between machines comes from the environment (README)."""

from pathlib import Path

from . import environment

BASE_DIR = Path(__file__).resolve().parent.parent
DEMO = environment.flag("HOLDFAST_DEMO")
DEBUG = environment.flag("HOLDFAST_DEBUG")
DATA_DIR = environment.data_folder(demo=DEMO)
MEDIA_ROOT = DATA_DIR / "media"
LIBRARY_DIR = BASE_DIR / "fixtures" / "library"
SECRET_KEY = environment.secret_key(DATA_DIR)

# HTTPS is stated, not guessed: a secure cookie on plain http would make the sign-in loop without a word.
HTTPS = environment.flag("HOLDFAST_HTTPS")
ALLOWED_HOSTS = environment.words("HOLDFAST_HOSTS", default=("127.0.0.1", "localhost", "[::1]"))
CSRF_TRUSTED_ORIGINS = [f"https://{host}" for host in ALLOWED_HOSTS if HTTPS and host != "*"]
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = SECURE_SSL_REDIRECT = HTTPS
SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https") if HTTPS else None
SECURE_HSTS_SECONDS = 31536000 if HTTPS else 0
SECURE_HSTS_INCLUDE_SUBDOMAINS = SECURE_HSTS_PRELOAD = HTTPS
SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_SAMESITE = CSRF_COOKIE_SAMESITE = "Lax"
# Behind TLS the browser itself refuses a cookie of these names that another host or plain http has set.
_COOKIE_PREFIX = "__Host-" if HTTPS else ""
SESSION_COOKIE_NAME = _COOKIE_PREFIX + ("holdfast_demo" if DEMO else "holdfast")
CSRF_COOKIE_NAME = _COOKIE_PREFIX + "csrftoken"
SESSION_ENGINE = "academy.sessions"
IDLE_HOURS = environment.number("HOLDFAST_IDLE_HOURS", default=12, least=1, most=24 * 14)
SIGNED_IN_DAYS = environment.number("HOLDFAST_SIGNED_IN_DAYS", default=7, least=1, most=90)
SESSION_COOKIE_AGE = SIGNED_IN_DAYS * 24 * 3600
# same-origin, not no-referrer: without a referrer every POST behind a private link is refused (Origin: null).
SECURE_REFERRER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"

INSTALLED_APPS = [
    "academy",
    "lessons",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.humanize",
    "django.contrib.messages",
    "django.contrib.sessions",
    "django.contrib.staticfiles",
    "django_htmx",
    "axes",
]

MIDDLEWARE = [
    # First, so that static files and the step to https carry the policy as well.
    "academy.middleware.ContentSecurityPolicy",
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "academy.middleware.FragmentSignIn",
    "academy.middleware.House",
    "django.contrib.auth.middleware.LoginRequiredMiddleware",
    "academy.middleware.PrivatePages",
    "django.contrib.messages.middleware.MessageMiddleware",
    "academy.middleware.SignedInLimits",
    "academy.middleware.SecondStepForAll",
    "academy.middleware.NoteReads",
    "lessons.middleware.OwnSettings",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "axes.middleware.AxesMiddleware",
]

# The empty-string hash grants nothing; the chart script adds one empty <style> element and breaks without it.
SECURE_CSP = {
    "default-src": ["'self'"],
    "script-src": ["'self'"],
    "style-src": ["'self'", "'sha256-47DEQpj8HBSa+/TImW+5JCeuQeRkm5NMpJWZG3hSuFU='"],
    "img-src": ["'self'", "data:", "blob:"],
    "connect-src": ["'self'"],
    "object-src": ["'none'"],
    "base-uri": ["'none'"],
    "frame-ancestors": ["'none'"],
    "form-action": ["'self'"],
}

ROOT_URLCONF = "academy.urls"
WSGI_APPLICATION = "academy.wsgi.application"
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [BASE_DIR / "templates"],
        "APP_DIRS": False,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "academy.context.academy",
            ],
            "builtins": ["academy.templatetags.holdfast"],
            "loaders": [
                (
                    "django.template.loaders.cached.Loader",
                    [
                        "django.template.loaders.filesystem.Loader",
                        "django.template.loaders.app_directories.Loader",
                    ],
                )
            ]
            if not DEBUG
            else ["django.template.loaders.filesystem.Loader", "django.template.loaders.app_directories.Loader"],
        },
    }
]

DATABASES = {"default": environment.database(DATA_DIR)}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

AUTH_USER_MODEL = "academy.Coach"
AUTHENTICATION_BACKENDS = [
    "axes.backends.AxesStandaloneBackend",
    "django.contrib.auth.backends.ModelBackend",
]
PASSWORD_HASHERS = [
    "django.contrib.auth.hashers.Argon2PasswordHasher",
    "django.contrib.auth.hashers.PBKDF2PasswordHasher",
]
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": "django.contrib.auth.password_validation.UserAttributeSimilarityValidator"},
    {"NAME": "django.contrib.auth.password_validation.MinimumLengthValidator", "OPTIONS": {"min_length": 12}},
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
    {"NAME": "django.contrib.auth.password_validation.NumericPasswordValidator"},
    {"NAME": "academy.passwords.GuessableValidator"},
]
LOGIN_URL = "academy:sign_in"
LOGIN_REDIRECT_URL = "/"
LOGOUT_REDIRECT_URL = "academy:sign_in"
# By name and by address, each for itself; see academy.throttle for what a shared address is allowed.
AXES_LOCKOUT_PARAMETERS = ["username", "ip_address"]
AXES_HANDLER = "academy.throttle.SignInThrottle"
AXES_FAILURE_LIMIT = 8
# Knocking on a closed door must not keep it closed: anybody could lock a coach out for ever.
AXES_RESET_COOL_OFF_ON_FAILURE_DURING_LOCKOUT = False
AXES_DISABLE_ACCESS_LOG = True
AXES_COOLOFF_TIME = 0.25
AXES_LOCKOUT_TEMPLATE = "academy/locked_out.html"
AXES_ENABLE_ADMIN = False
AXES_VERBOSE = False

LANGUAGE_CODE = "en"
TIME_ZONE = "UTC"
USE_TZ = True
USE_I18N = True

STATIC_URL = "static/"
STATICFILES_DIRS = [BASE_DIR / "static"]
# Files come straight from static/ and the packages; a proxy that serves them itself gets a collected folder.
STATIC_ROOT = environment.words("HOLDFAST_STATIC_ROOT", default=("",))[0] or None
WHITENOISE_USE_FINDERS = True
WHITENOISE_ALLOW_ALL_ORIGINS = False
# More than any file that is read: what the server cuts off gets no sentence, the browser just loses its connection.
MAX_REQUEST_BYTES = 256 * 1024 * 1024
DATA_UPLOAD_MAX_MEMORY_SIZE = 70 * 1024 * 1024
FILE_UPLOAD_MAX_MEMORY_SIZE = 4 * 1024 * 1024

# EMAIL_BACKEND and what belongs to it.
globals().update(environment.mail(DATA_DIR, demo=DEMO))

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "filters": {"hide_link_tokens": {"()": "academy.redact.HideLinkTokens"}},
    "handlers": {"console": {"class": "logging.StreamHandler", "filters": ["hide_link_tokens"]}},
    "root": {"handlers": ["console"], "level": "WARNING"},
}
