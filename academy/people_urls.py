"""Addresses of people, accounts and private links."""

from django.urls import path

from .views import account

app_name = "academy"
urlpatterns = [
    path("sign-in/", account.SignIn.as_view(), name="sign_in"),
]
