"""The program's addresses, and the view that pages are compared with."""

from django.http import HttpRequest, JsonResponse
from django.urls import include, path

from academy.models import Student
from lessons.models import Block, Lesson, Shot


def three_queries(request: HttpRequest, code) -> JsonResponse:
    """Answer who asks, and one student with the last lesson: session and user, then academy, student, lesson."""
    student = Student.objects.get(code=code)
    last = Lesson.objects.filter(student=student).values("code", "starts_at", "status").first()
    return JsonResponse({
        "academy": request.academy.name, "coach": request.user.username, "student": student.name, "last": last,
    })


def three_queries_and_one_ball(request: HttpRequest, code) -> JsonResponse:
    """The same, with one ball put into a block by the bare object path in one transaction that is synced to disk."""
    answer = three_queries(request, code)
    block = Block.objects.only("pk").get(code=request.GET["block"])
    Shot.objects.create(block=block, number=0, source="typed", carry_m=200.0, club_path_deg=1.0)
    return answer


urlpatterns = [
    path("floor/<uuid:code>/", three_queries),
    path("floor/<uuid:code>/ball/", three_queries_and_one_ball),
    path("", include("academy.urls")),
]
