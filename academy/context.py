"""What every template may use."""

from django.http import HttpRequest


def academy(request: HttpRequest) -> dict:
    """Offer ``academy``, as read by the House middleware, and ``units``.

    ``units`` is what the reader chose, else what the academy uses. Pages made for a student set their own.
    """
    house = getattr(request, "academy", None)

    own = getattr(getattr(request, "user", None), "units", "")
    return {"academy": house, "units": own or (house.units if house else "yards")}
