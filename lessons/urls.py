"""Addresses of lessons, in groups; each group is one colleague's subject and stays together."""

from django.urls import path

from .views import imports, lesson, progress, practice, private_page, roster, student

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

private_pages = [
    path("me/", private_page.home, name="me"),
    path("me/drills/<uuid:code>/", practice.mode, name="me_drill"),
    path("me/practice/", practice.tick, name="me_tick"),
    path("me/message/", practice.send, name="me_message"),
    path("me/pain/", practice.pain, name="me_pain"),
    path("me/kept/", private_page.about, name="me_kept"),
    path("me/kept/my-golf-record.<str:form>", private_page.download, name="me_download"),
    path("me/kept/delete/", private_page.ask_deletion, name="me_delete"),
]

student_pages = [
    path("students/<uuid:code>/", student.student, name="student"),
    path("students/<uuid:code>/messages/<uuid:message_code>/answer/", student.answer, name="message_answer"),
]

progress_pages = [
    path("students/<uuid:code>/progress/", progress.progress, name="progress"),
]

roster_pages = [
    path("roster/", roster.roster, name="roster"),
]

app_name = "lessons"
urlpatterns = [*today_pages, *lesson_pages, *stop_pages, *import_pages, *progress_pages, *private_pages, *student_pages, *roster_pages]
