"""Addresses of people, accounts and private links."""

from django.urls import path

from .views import account, bag, concerns, erasure, guardians, health, keeping, own_account, share, students

app_name = "academy"
urlpatterns = [
    path("sign-in/", account.SignIn.as_view(), name="sign_in"),
    path("sign-out/", account.SignOut.as_view(), name="sign_out"),
    path("sign-in/code/", account.second_step, name="sign_in_code"),
    path("account/", own_account.page, name="account"),
    path("account/password/", own_account.password, name="password"),
    path("account/devices/end/", own_account.end_device, name="device_end"),
    path("account/second-factor/", own_account.second_factor_set, name="second_factor"),
    path("account/second-factor/off/", own_account.second_factor_off, name="second_factor_off"),
    path("first-run/", account.first_run, name="first_run"),
    path("entry/<str:token>/", account.entry, name="entry"),
    path("students/", students.index, name="students"),
    path("students/new/", students.add, name="student_add"),
    path("students/<uuid:code>/record/", students.record, name="student_record"),
    path("p/<str:token>/", share.exchange, name="link"),
    path("me/close/", share.forget, name="link_forget"),
    path("me/consents/", guardians.mine, name="my_consents"),
    path("students/<uuid:code>/links/", share.issue, name="link_issue"),
    path("students/<uuid:code>/links/<uuid:link_code>/end/", share.revoke, name="link_revoke"),
    path("students/<uuid:code>/guardians/", guardians.page, name="guardians"),
    path("students/<uuid:code>/guardians/<uuid:guardian_code>/end/", guardians.end, name="guardian_end"),
    path("students/<uuid:code>/consents/", guardians.give, name="consent_give"),
    path("students/<uuid:code>/consents/withdraw/", guardians.withdraw, name="consent_withdraw"),
    path("students/<uuid:code>/bag/", bag.page, name="bag"),
    path("students/<uuid:code>/bag/flight/", bag.intent_set, name="intent_set"),
    path("students/<uuid:code>/bag/goal/", bag.goal_add, name="goal_add"),
    path("students/<uuid:code>/bag/goal/end/", bag.goal_end, name="goal_end"),
    path("students/<uuid:code>/bag/club/", bag.club_add, name="club_add"),
    path("students/<uuid:code>/bag/club/end/", bag.club_end, name="club_end"),
    path("students/<uuid:code>/health/", health.page, name="health"),
    path("students/<uuid:code>/health/<uuid:flag_code>/clear/", health.clear, name="health_clear"),
    path("students/<uuid:code>/health/day/", health.day, name="health_day"),
    path("students/<uuid:code>/erase/", erasure.page, name="erase"),
    path("keeping/", keeping.page, name="keeping"),
    path("readings/", keeping.readings, name="readings"),
    path("welfare/", guardians.welfare, name="welfare"),
    path("welfare/concerns/<uuid:code>/close/", concerns.close, name="concern_close"),
    path("me/concern/", concerns.mine, name="my_concern"),
]
