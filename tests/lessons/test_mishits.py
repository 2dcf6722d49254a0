"""What counts as a mishit: one meaning for the balls, the pages and the rules."""

import importlib

import pytest
from django.apps import apps

from lessons.mishits import CALLED_MISHITS
from lessons.models import Shot
from lessons.models.shot import Contact
from lessons.summaries import summary_of
from metrics.rules.mishits import mishits
from metrics.rules.types import BallCall, BlockEvidence
from tests import factories


@pytest.mark.parametrize("contact", [contact for contact in Contact.values if contact])
def test_a_called_contact_is_a_mishit_for_the_rules_where_it_is_one_on_the_page(student, contact):
    block = factories.make_block(lesson=factories.make_lesson(student=student), reading="calls")
    factories.add_call(block=block, contact=contact)
    on_the_page = Shot.objects.get().is_mishit
    in_the_rules = mishits(BlockEvidence(club_category="mid_iron", calls=(BallCall(contact=contact),)))
    assert on_the_page == bool(in_the_rules[0]) == (contact in CALLED_MISHITS)


def test_a_fat_ball_is_one_and_a_thin_one_is_not():
    assert "fat" in CALLED_MISHITS and "thin" not in CALLED_MISHITS


def test_fat_balls_of_before_are_tagged_and_their_block_is_counted_anew(student):
    block = factories.make_block(lesson=factories.make_lesson(student=student), reading="calls")
    for contact in ("fat", "clean"):
        factories.add_call(block=block, contact=contact)
    Shot.objects.update(is_mishit=False)
    block.summary["mishits"] = 0
    block.save()
    importlib.import_module("lessons.migrations.0026_a_called_fat_is_a_mishit").tag(apps, None)
    block.refresh_from_db()
    assert Shot.objects.get(contact="fat").is_mishit and not Shot.objects.get(contact="clean").is_mishit
    assert summary_of(block)["mishits"] == 1
