"""Signing in and out, the first run, the one-time local link."""

from django.contrib.auth import views as auth_views


class SignIn(auth_views.LoginView):
    template_name = "academy/sign_in.html"
    redirect_authenticated_user = True
