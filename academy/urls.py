"""The root table of addresses. Strings only: this room does not import the one above it."""

from django.urls import include, path

handler500 = "academy.trouble.broken"
urlpatterns = [
    path("", include("academy.people_urls")),
    path("", include("lessons.urls")),
]
