"""System checks: what would go wrong silently is said at the start."""

import sqlite3

from django.conf import settings
from django.core.checks import Error, Warning, register


@register()
def library_is_there(app_configs, **kwargs) -> list:
    """The shipped library must lie beside the program."""
    if settings.LIBRARY_DIR.is_dir():
        return []
    return [Error(f"The library folder {settings.LIBRARY_DIR} is missing.", id="holdfast.E001")]


@register()
def sqlite_can_hold_json(app_configs, **kwargs) -> list:
    """JSON columns need SQLite 3.38, or a build with the JSON functions."""
    if sqlite3.sqlite_version_info >= (3, 38):
        return []
    return [Warning(f"SQLite {sqlite3.sqlite_version} is old; 3.38 or newer is expected.", id="holdfast.W001")]
