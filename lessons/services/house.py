"""Storing the house rules."""

from typing import Any

from django.db import transaction

from academy.models import Academy


@transaction.atomic
def set_house(*, values: dict[str, Any]) -> None:
    """Store the academy's own rules by their names; other settings beside them stay."""
    academy = Academy.objects.select_for_update().get()
    academy.house_rules = {**academy.house_rules, **values}
    academy.save(update_fields=["house_rules"])
