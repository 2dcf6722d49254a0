"""Balls called fat are mishits: those that were stored before are tagged, their blocks' numbers are due anew."""

from django.db import migrations
from django.db.models import F, Value
from django.db.models.functions import Concat


def tag(apps, schema_editor):
    shots = apps.get_model("lessons", "Shot").objects.filter(contact="fat", is_mishit=False)
    blocks = apps.get_model("lessons", "Block").objects.filter(pk__in=set(shots.values_list("block_id", flat=True)))
    blocks.exclude(summary_version="").update(summary_version=Concat(F("summary_version"), Value(" due")))
    shots.update(is_mishit=True)


class Migration(migrations.Migration):
    dependencies = [("lessons", "0025_prepared")]
    operations = [migrations.RunPython(tag, migrations.RunPython.noop)]
