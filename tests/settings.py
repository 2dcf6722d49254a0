"""Settings of the test run: the real ones, with a fast hasher, plain static files and a throw-away folder."""

import os
import tempfile

os.environ["HOLDFAST_HOME"] = tempfile.mkdtemp(prefix="holdfast-tests-")
os.environ.pop("HOLDFAST_DEMO", None)
# The browser tests share the thread with a running event loop.
os.environ.setdefault("DJANGO_ALLOW_ASYNC_UNSAFE", "1")

from academy.settings import *  # noqa: E402, F403

PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    # A manifest storage would answer 404 for every hashed file on the live server.
    "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"},
}
EMAIL_BACKEND = "django.core.mail.backends.locmem.EmailBackend"
AXES_ENABLED = False
MIDDLEWARE = ["tests.gate.at_the_gate", *MIDDLEWARE]  # noqa: F405
if DATABASES["default"]["ENGINE"] == "academy.sqlite":  # noqa: F405
    # A file, as in real use: in a shared memory a page that asks while another writes is refused at once, where a
    # file lets it wait. Nothing has to outlive a power cut here; that is tried in tests/durability on other files.
    DATABASES["default"]["TEST"] = {"NAME": os.path.join(os.environ["HOLDFAST_HOME"], "suite.sqlite3")}  # noqa: F405
    DATABASES["default"]["OPTIONS"]["init_command"] += "; PRAGMA synchronous=OFF"  # noqa: F405
