"""Long lists, a page at a time; which page stands in the address beside the filters."""

from collections.abc import Mapping, Sequence
from typing import Any

from django.core.paginator import Page, Paginator

ON_A_PAGE = 50


def paged(rows: Sequence[Any], asked: Mapping[str, str]) -> Page:
    """Return the page that the address asks for; the first where it makes no sense, the last beyond the end."""
    return Paginator(rows, ON_A_PAGE).get_page(asked.get("page"))
