"""The root table of addresses. Strings only: this room does not import the one above it."""

from django.urls import include, path

urlpatterns = [
    path("", include("academy.people_urls")),
    path("", include("lessons.urls")),
]
