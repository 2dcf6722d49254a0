"""Where numbers come from: a source with its conventions, and each file or message that was taken in."""

import zlib

from django.db import models

from academy.models import Recorded

from .lesson import Lesson
from .shot import CarryProvenance


class FileSign(models.TextChoices):
    """What plus means for directions in a file."""

    RIGHT = "right", "+ is right of the target for everybody"
    PLAYER = "player", "+ is the player's slice side"


class DataSource(Recorded):
    """A device or another place that numbers come from, with the matching of its columns, asked once."""

    name = models.CharField(max_length=80, unique=True)
    file_sign = models.CharField(max_length=6, choices=FileSign.choices, default=FileSign.RIGHT)
    columns = models.JSONField(default=dict, blank=True)
    """Field -> {"heading", "unit"}."""
    club_names = models.JSONField(default=dict, blank=True)
    """What clubs are called in its files -> category, where the name alone does not tell."""
    headings_fingerprint = models.CharField(max_length=64, blank=True, db_index=True)
    date_format = models.CharField(max_length=20, blank=True)
    carry_provenance = models.CharField(
        max_length=10, choices=CarryProvenance.choices, blank=True, default=""
    )
    is_indoor_model = models.BooleanField(default=False, help_text="Carry is computed, the ball hits a net.")
    token_prefix = models.CharField(max_length=8, blank=True, db_index=True)
    token_digest = models.CharField(max_length=64, blank=True)
    token_revoked_at = models.DateTimeField(null=True, blank=True)
    seen_at = models.DateTimeField(null=True, blank=True)
    """When it last sent something, or its folder was last looked at."""
    minute_began_at = models.DateTimeField(null=True, blank=True)
    minute_calls = models.PositiveIntegerField(default=0)
    """Messages since ``minute_began_at``; here and not in memory, so that it holds across processes."""

    class Meta:
        ordering = ["name"]

    def __str__(self) -> str:
        return self.name


def deflated(data: bytes) -> bytes:
    """Return the bytes as they are kept: quickly, because a coach waits for it."""
    return zlib.compress(data, 3)


class ImportBatch(Recorded):
    """One file taken in: what it was, how it was read, what could not be read. The raw bytes are kept.

    ``reading`` holds what a person decided: columns with units, sign convention, club, player, dates, rows
    corrected by hand.
    """

    lesson = models.ForeignKey(Lesson, on_delete=models.CASCADE, related_name="batches")
    data_source = models.ForeignKey(DataSource, null=True, blank=True, on_delete=models.PROTECT)
    file_name = models.CharField(max_length=200)
    file_digest = models.CharField(max_length=64, db_index=True)
    raw_deflated = models.BinaryField(editable=False)
    reading = models.JSONField(default=dict, blank=True)
    problems = models.JSONField(default=list, blank=True)
    balls = models.PositiveIntegerField(default=0)
    stored_at = models.DateTimeField(null=True, blank=True)
    """Empty while the file is only looked at; nothing of it counts until it is stored."""
    removed_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-pk"]

    def __str__(self) -> str:
        return self.file_name

    @property
    def raw(self) -> bytes:
        """The file as it came."""
        return zlib.decompress(bytes(self.raw_deflated))
