"""Addresses of lessons, in groups; each group is one colleague's subject and stays together."""

from django.urls import path

from .views import imports, lesson, roster

today_pages: list = []

lesson_pages = [
    path("lessons/<uuid:code>/", lesson.lesson, name="lesson"),
    path("lessons/<uuid:code>/stops/<slug:slug>/", lesson.stop, name="stop"),
    path("lessons/<uuid:code>/stops/<slug:slug>/done/", lesson.stop_done, name="stop_done"),
]

stop_pages: list = []  # look, reason, change, agree

import_pages = [
    path("lessons/<uuid:code>/import/", imports.choose, name="import_new"),
    path("imports/<uuid:code>/", imports.look, name="import_look"),
    path("imports/<uuid:code>/store/", imports.store, name="import_store"),
    path("imports/<uuid:code>/correct/", imports.correct, name="import_correct"),
]

roster_pages = [
    path("roster/", roster.roster, name="roster"),
]

app_name = "lessons"
urlpatterns = [*today_pages, *lesson_pages, *stop_pages, *import_pages, *roster_pages]
