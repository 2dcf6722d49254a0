"""What every template may use."""

from django.http import HttpRequest
from django.utils.functional import SimpleLazyObject

from .models import Academy


def academy(request: HttpRequest) -> dict:
    """Offer ``academy``; the query runs only where a template asks for it."""
    return {"academy": SimpleLazyObject(lambda: Academy.objects.first())}
