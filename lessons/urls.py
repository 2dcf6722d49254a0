"""Addresses of lessons."""


app_name = "lessons"
urlpatterns: list = []
