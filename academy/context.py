"""What every template may use."""

from django.http import HttpRequest
from django.utils.functional import SimpleLazyObject, lazystr

from .models import Academy


def academy(request: HttpRequest) -> dict:
    """Offer ``academy`` and ``units``; the query runs only where a template asks for one of them.

    ``units`` is what the reader chose, else what the academy uses. Pages made for a student set their own.
    """
    house = SimpleLazyObject(lambda: Academy.objects.first())

    def units() -> str:
        own = getattr(getattr(request, "user", None), "units", "")
        return own or (house.units if house else "yards")

    return {"academy": house, "units": lazystr(SimpleLazyObject(units))}
