"""What is allowed on which day, for whom, and why."""

from datetime import date, timedelta

import pytest
from django.core.exceptions import ValidationError
from django.utils import timezone

from academy import consents, guardians, share
from academy.models import Academy, Consent, Guardian, Guardianship
from tests import factories

ITEMS = list(Consent.Item.values)
DAY = date(2026, 6, 15)


@pytest.fixture
def junior(coach):
    return factories.make_student(coach=coach, name="Ilya Reed", born_on=date(2015, 1, 10))


@pytest.fixture
def parent(junior):
    person = Guardian.objects.create(name="Tess Reed")
    Guardianship.objects.create(student=junior, guardian=person)
    return person


def give(student, item, parent=None, on=DAY):
    return consents.give_consent(by=None, student=student, item=item, given_on=on, guardian=parent)


@pytest.mark.parametrize("item", ITEMS)
def test_for_a_junior_each_item_is_off_until_given_and_stands_by_itself(junior, parent, item):
    assert not consents.consent_allows(student=junior, item=item, day=DAY).allowed
    give(junior, item, parent)
    allowed = {one.item for one in consents.consent_table(student=junior, day=DAY) if one.allowed}
    assert allowed == {item}


@pytest.mark.parametrize("item", ITEMS)
@pytest.mark.parametrize(("days", "allowed"), [(-1, False), (0, True), (365, True), (366, False)])
def test_a_consent_runs_from_its_day_for_twelve_months(junior, parent, item, days, allowed):
    give(junior, item, parent)
    found = consents.consent_allows(student=junior, item=item, day=DAY + timedelta(days=days))
    assert found.allowed is allowed


@pytest.mark.parametrize("item", ITEMS)
def test_withdrawing_switches_off_at_once_and_says_since_when(junior, parent, item):
    give(junior, item, parent)
    give(junior, item, parent, on=DAY - timedelta(days=20))
    assert consents.withdraw_consent(by=None, student=junior, item=item, day=DAY) == 2
    found = consents.consent_allows(student=junior, item=item, day=DAY)
    assert not found.allowed
    assert "withdrawn on 15 June 2026" in found.reason
    give(junior, item, parent)
    assert consents.consent_allows(student=junior, item=item, day=DAY).allowed


def test_a_lapsed_consent_names_its_last_day_and_whom_to_ask(junior, parent):
    give(junior, "filming", parent, on=date(2025, 3, 1))
    found = consents.consent_allows(student=junior, item="filming", day=DAY)
    assert found.reason == "Filming and photos: the consent ran out on 1 March 2026. Ask a guardian to renew it."


def test_twelve_months_after_a_leap_day_end_in_february():
    assert consents.a_year_after(date(2028, 2, 29)) == date(2029, 2, 28)


@pytest.mark.parametrize("item", ITEMS)
def test_an_adult_is_asked_only_for_what_goes_beyond_the_lesson(student, item):
    allowed = consents.consent_allows(student=student, item=item, day=DAY).allowed
    assert allowed is (item not in {"sharing", "statistics"})


def test_an_adults_own_no_counts_for_every_item(student):
    give(student, "filming")
    consents.withdraw_consent(by=None, student=student, item="filming", day=DAY)
    assert not consents.consent_allows(student=student, item="filming", day=DAY).allowed


def test_the_house_may_ask_adults_for_more(student):
    Academy.objects.update(house_rules={"consents_asked_of_adults": ["filming"]})
    assert not consents.consent_allows(student=student, item="filming", day=DAY).allowed
    assert consents.consent_allows(student=student, item="sharing", day=DAY).allowed


@pytest.mark.parametrize(("item", "allowed"), [("sharing", False), ("messaging", True)])
def test_coming_of_age_asks_anew(junior, parent, item, allowed):
    birthday = date(2033, 1, 10)
    give(junior, item, parent, on=birthday - timedelta(days=30))
    assert consents.consent_allows(student=junior, item=item, day=birthday - timedelta(days=1)).allowed
    found = consents.consent_allows(student=junior, item=item, day=birthday)
    assert found.allowed is allowed
    assert "a guardian’s consent no longer counts" in found.reason


def test_only_a_noted_guardian_gives_a_juniors_consent(junior):
    with pytest.raises(ValidationError, match="which guardian"):
        give(junior, "lessons")
    with pytest.raises(ValidationError, match="not noted"):
        give(junior, "lessons", Guardian.objects.create(name="Nobody’s"))


def test_ending_a_guardianship_ends_their_links_and_consents(junior, parent, coach):
    today = timezone.localdate()
    give(junior, "filming", parent, on=today)
    link, _ = share.issue_link(student=junior, by=coach, guardian=parent)
    guardians.end_guardianship(by=coach, student=junior, guardian=parent)
    link.refresh_from_db()
    assert link.revoked_at is not None
    assert not consents.consent_allows(student=junior, item="filming", day=today).allowed
    assert not junior.guardians.exists()


def test_the_welfare_list_puts_who_lacks_most_first_and_leaves_adults_out(junior, parent, coach, student):
    second = factories.make_student(coach=coach, name="Ada Bell", born_on=date(2014, 4, 4))
    Guardianship.objects.create(student=second, guardian=Guardian.objects.create(name="Ben Bell"))
    give(junior, "lessons", parent, on=timezone.localdate())
    names = [line.student.name for line in guardians.juniors(day=timezone.localdate())]
    assert names == ["Ada Bell", "Ilya Reed"]


def test_the_welfare_list_costs_the_same_queries_for_two_and_for_ten(coach, django_assert_num_queries):
    make_children(coach, "Ada", "Bo")
    with django_assert_num_queries(4):
        guardians.juniors(day=DAY)
    make_children(coach, *"CDEFGHIJ")
    with django_assert_num_queries(4):
        assert len(guardians.juniors(day=DAY)) == 10


def make_children(coach, *names):
    for name in names:
        factories.make_student(coach=coach, name=name, born_on=date(2015, 1, 1))
