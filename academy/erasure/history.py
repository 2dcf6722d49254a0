"""The history of others: it keeps that something was done, and loses whom it was about."""

from typing import Any

from academy.models import Change

from .rows import Extent

SENTENCE = "About a record that was erased"


def scrub_history(*, found: Extent, names: list[str]) -> int:
    """Empty every change that touched the person's rows or says their name; return how many.

    Changes that belong to the person are deleted with their other rows. Such a change can no longer be undone: what
    it was about is gone.
    """
    keys = {model._meta.label_lower: numbers for model, numbers in found.keys.items()}
    own = found.keys.get(Change, set())
    scrubbed = 0
    for change in Change.objects.exclude(sentence=SENTENCE).iterator(chunk_size=500):
        if change.pk in own:
            continue
        if any(_touches(one, keys) for one in change.operations) or _says(change, names):
            change.sentence, change.operations = SENTENCE, []
            change.save(update_fields=["sentence", "operations"])
            scrubbed += 1
    return scrubbed


def _touches(operation: dict[str, Any], keys: dict[str, set]) -> bool:
    numbers = keys.get(operation.get("model", ""), set())
    return bool(numbers & {*operation.get("keys", ()), operation.get("key")})


def _says(change: Change, names: list[str]) -> bool:
    said = f"{change.sentence} {change.operations}".casefold()
    return any(name.casefold() in said for name in names)
