"""Addresses of people, accounts and private links."""

from django.urls import path

from .views import account, students

app_name = "academy"
urlpatterns = [
    path("sign-in/", account.SignIn.as_view(), name="sign_in"),
    path("sign-out/", account.SignOut.as_view(), name="sign_out"),
    path("first-run/", account.first_run, name="first_run"),
    path("entry/<str:token>/", account.entry, name="entry"),
    path("students/", students.index, name="students"),
    path("students/new/", students.add, name="student_add"),
    path("students/<uuid:code>/record/", students.record, name="student_record"),
]
