#!/usr/bin/env python3
"""Run a Holdfast command: demo, start, analyse, load_library, backup, or any of Django's own."""

import os
import sys

if __name__ == "__main__":
    if sys.argv[1:2] == ["demo"]:
        # The demo lives in a folder and a database of its own; settings read this when they are loaded.
        os.environ["HOLDFAST_DEMO"] = "1"
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "academy.settings")
    from django.core.management import execute_from_command_line

    execute_from_command_line(sys.argv)
