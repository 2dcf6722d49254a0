"""What a page was given to show, kept until something is written that could change it."""

from django.db import models

from academy.models import Student


class Prepared(models.Model):
    """One page's numbers and words of one student, made by lessons.queries.prepared; never edited, always
    recomputable, and never read where its stamp is another one than today's."""

    student = models.ForeignKey(Student, on_delete=models.CASCADE, related_name="+")
    name = models.CharField(max_length=120)
    stamp = models.CharField(max_length=64)
    content = models.JSONField()
    made_at = models.DateTimeField(auto_now=True, db_index=True)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["student", "name"], name="prepared_once")]

    def __str__(self) -> str:
        return f"{self.name} of {self.student_id}"
