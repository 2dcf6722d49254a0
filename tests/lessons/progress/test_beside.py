"""What stands beside the verdict: each thing only when the balls can say it, else what is missing for it."""

import pytest
from django.urls import reverse

from academy.models import Venue
from lessons.models import DataSource, SetupObservation
from lessons.pictures.flight_top import scales
from lessons.queries.progress.page import progress_of
from tests import factories
from tests.lessons.progress.records import balls, block, prescribe, text_of, visit


@pytest.fixture
def player(student):
    student.handicap_index = 9.0
    student.save()
    return student


def beside(student, **wanted):
    return progress_of(student=student, wanted=wanted, system="yards").beside


def card_of(student, title, **wanted):
    found = beside(student, **wanted)
    return next(card for card in [*found.cards, *found.waits] if card.title.startswith(title))


# Mixed balls and the course -----------------------------------------------------------------------------------


def gain(player, *, days_ago=20, end=3.0):
    first = visit(player, days_ago=days_ago)
    prescribe(block(first, mean=5.7))
    block(first, mean=end, purpose="no_aid")
    return first


@pytest.mark.parametrize(("mean", "word"), [(3.3, "Held"), (4.4, "Partly held"), (5.5, "Not held")])
def test_a_transfer_block_says_how_much_of_the_gain_came_along(player, mean, word):
    gain(player)
    block(visit(player, days_ago=5), mean=mean, purpose="transfer")
    card = card_of(player, "On mixed balls")
    assert card.word == word and not card.waits and "on mixed balls or the course (15 days between)" in card.why


def test_mixed_balls_and_a_lesson_on_the_course_count_as_transfer(player):
    gain(player)
    block(visit(player, days_ago=8), mean=3.3, purpose="no_aid", is_mixed=True)
    assert card_of(player, "On mixed balls").word == "Held"
    block(visit(player, days_ago=4, kind="course"), mean=5.6, purpose="no_aid")
    assert card_of(player, "On mixed balls").word == "Not held"


def test_without_a_gain_there_is_nothing_that_could_carry_over(player):
    gain(player, end=5.2)
    block(visit(player, days_ago=5), mean=5.0, purpose="transfer")
    card = card_of(player, "On mixed balls")
    assert card.waits and card.word == "No gain to keep" and "would stand out from luck" in card.why


def test_without_a_mixed_block_it_says_what_to_log(player):
    gain(player)
    card = card_of(player, "On mixed balls")
    assert card.waits and "log ten balls with the purpose “Transfer”" in card.next_step


def test_what_was_kept_is_not_read_across_two_devices(player):
    one, two = (DataSource.objects.create(name=name) for name in ("Unit one", "Unit two"))
    first = visit(player, days_ago=20, device=one)
    prescribe(block(first, mean=5.7))
    block(first, mean=3.0, purpose="no_aid")
    block(visit(player, days_ago=5, device=two), mean=3.1)
    card = card_of(player, "From one visit")
    assert card.word == "Can’t tell yet" and "Not the same device" in card.why


def test_what_was_kept_is_said_for_carry_with_what_the_air_may_be_wrong_by(player):
    place = Venue.objects.create(name="Range", altitude_m=0)
    unit = DataSource.objects.create(name="Bay unit", carry_provenance="measured")
    ball = {"ball_speed_mps": [65.0] * 12, "launch_angle_deg": [12.5] * 12, "spin_rpm": [2700.0] * 12}

    def carries(lesson, metres, **values):
        return block(lesson, columns={"carry_m": balls(metres, 4, 12), **ball}, **values)

    first = visit(player, days_ago=20, venue=place, device=unit, temperature_c=15.0)
    carries(first, 180)
    carries(first, 200, purpose="no_aid")
    carries(visit(player, days_ago=5, venue=place, device=unit, temperature_c=15.0), 197)
    near = card_of(player, "From one visit", show="driver:carry_m")
    assert near.word == "Held" and "yd in the visit" in near.why and "about 85 in 100" in near.why
    later = player.lessons.order_by("-starts_at").first()
    later.temperature_c = 35.0
    later.save()
    assert "could be" in card_of(player, "From one visit", show="driver:carry_m").why


# Within a visit -----------------------------------------------------------------------------------------------


def falling(start, fall, n):
    """Balls that fall steadily, with an alternating error that no straight line follows."""
    return [start - fall * place / (n - 1) + (0.6 if place % 2 else -0.6) for place in range(n)]


def test_a_number_that_moves_steadily_within_a_visit_is_said(player):
    block(visit(player, days_ago=5), columns={"club_path_deg": falling(6.0, 4.0, 30)})
    card = card_of(player, "Within a visit")
    assert card.word == "Drifted within the visit" and "First ten +5.4°, last ten +2.6° (n 30)" in card.why


def test_a_steady_visit_is_called_steady_and_nineteen_balls_are_counted(player):
    block(visit(player, days_ago=9), mean=5.0, n=19)
    card = card_of(player, "Within a visit")
    assert card.waits and "the most so far are 19" in card.why
    block(visit(player, days_ago=5), columns={"club_path_deg": falling(5.0, 0.0, 24)})
    assert card_of(player, "Within a visit").word == "Steady through the visit"


def test_a_visit_without_a_warm_up_and_with_a_falling_speed_says_both_and_asks_for_pain(player):
    lesson = visit(player, days_ago=5, warmed_up=False)
    block(lesson, columns={"club_path_deg": falling(5.0, 0.0, 24), "club_speed_mps": falling(45.0, 6.0, 24)})
    lines = " ".join(card_of(player, "Within a visit").lines)
    assert "No warm-up was noted" in lines and "Club speed fell by 8 %" in lines and "Ask about pain" in lines


def test_the_first_balls_after_a_change_are_kept_and_not_judged(player):
    lesson = visit(player, days_ago=5)
    prescribe(block(lesson, mean=5.7))
    block(lesson, columns={"club_path_deg": [9.0] * 5 + falling(3.0, 0.0, 24)}, purpose="no_aid")
    card = card_of(player, "Within a visit")
    assert card.word == "Steady through the visit" and "The first 5 balls after the change" in " ".join(card.lines)


# Luck -----------------------------------------------------------------------------------------------------------


def test_a_change_made_on_the_worst_day_is_told_that_part_of_it_comes_back_by_itself(as_coach, player):
    for days_ago, mean in ((60, 5.0), (50, 5.2), (40, 5.1)):
        block(visit(player, days_ago=days_ago), mean=mean)
    prescribe(block(visit(player, days_ago=30), mean=7.5))
    block(visit(player, days_ago=5), mean=5.0)
    page = text_of(as_coach, player)
    assert "Chosen on the worst of 4 visits" in page and "would come back by itself, whatever is taught" in page
    assert "Compare with the mean of the earlier visits, not with this day alone" in page


def test_a_great_newest_day_is_one_day(player):
    prescribe(block(visit(player, days_ago=60), mean=8.0))
    for days_ago, mean in ((40, 6.0), (30, 6.1), (20, 5.9), (10, 3.0)):
        block(visit(player, days_ago=days_ago), mean=mean)
    card = card_of(player, "One unusual day: the newest visit")
    assert card.word == "The newest visit is the best of 4" and "not by this day alone" in card.next_step


def test_the_highest_of_many_is_a_curiosity_and_no_verdict_rests_on_it(as_coach, player):
    for days_ago in (20, 5):
        block(visit(player, days_ago=days_ago), columns={"club_speed_mps": balls(45, 0.8, 10)})
    page = text_of(as_coach, player, show="driver:club_speed_mps")
    assert "Highest of 20:" in page and "about 1.9 spreads above the mean by luck" in page
    assert "never compared" in page


# Foretold and seen ----------------------------------------------------------------------------------------------


def changed(player, *, days_ago, before, after, moved=(("feet_deg", 7, 3),), expected=(-2.0, -0.8)):
    lesson = visit(player, days_ago=days_ago)
    first = block(lesson, mean=before)
    block(lesson, mean=after, purpose="no_aid")
    for checkpoint, was, now in moved:
        for phase, value in (("before", was), ("after", now)):
            SetupObservation.objects.create(lesson=lesson, category="driver", checkpoint=checkpoint, phase=phase,
                                            value=value)
    return prescribe(first, expected={"club_path_deg": list(expected)} if expected else {})


def test_what_was_foretold_stands_beside_what_was_seen_and_the_players_own_size_is_learned(as_coach, player):
    changed(player, days_ago=20, before=5.7, after=3.3)
    page = text_of(as_coach, player)
    assert "−2.0° to −0.8° −2.4° ± 1.6° (n 10, 10) as foretold, within luck" in page
    assert "Usual size +0.35° for each degree of feet line; this player’s own +0.60° from 1 change" in page
    assert "counted 25 %: next time +0.41° is foretold" in page


def test_three_changes_count_half_and_one_that_went_the_other_way_is_said(as_coach, player):
    for days_ago, after in ((40, 1.7), (30, 1.7), (20, 9.7)):
        changed(player, days_ago=days_ago, before=5.7, after=after)
    page = text_of(as_coach, player)
    assert "the other way" in page and "less than foretold" not in page and "more than foretold" in page
    assert "from 3 changes, counted 50 %" in page


def test_two_things_moved_at_once_are_kept_and_nothing_is_learned_from_them(as_coach, player):
    changed(player, days_ago=20, before=5.7, after=3.3, moved=(("feet_deg", 7, 3), ("ball_position_cm", 7, 2)))
    page = text_of(as_coach, player)
    assert "kept, not learned from: several things were moved that day" in page and "own +" not in page


def test_a_change_of_which_nothing_was_foretold_is_only_seen(as_coach, player):
    changed(player, days_ago=20, before=5.7, after=3.3, expected=None)
    assert "nothing for this number" in text_of(as_coach, player)


# Shares and landings ----------------------------------------------------------------------------------------------


def scattered(player, *, days_ago, sides, **lesson):
    n = len(sides)
    return block(visit(player, days_ago=days_ago, **lesson), mean=4.0, n=n,
                 columns={"carry_m": balls(200, 5, n), "side_m": sides})


def test_playable_balls_before_and_after_have_their_intervals_and_the_width_that_counts(player):
    prescribe(scattered(player, days_ago=20, sides=[25.0] * 12 + [5.0] * 8))
    scattered(player, days_ago=5, sides=[25.0] * 2 + [5.0] * 18)
    card = card_of(player, "Playable balls")
    assert card.word == "More playable" and "8 of 20 playable: 40 %, could be 22 to 61 %" in card.why
    assert "18 of 20 playable: 90 %, could be 70 to 97 %" in card.why
    assert "within 18 yd of the line" in card.lines[0]


def test_windy_balls_are_neither_playable_nor_drawn(as_coach, player):
    prescribe(scattered(player, days_ago=20, sides=balls(0, 8, 20)))
    scattered(player, days_ago=10, sides=balls(30, 8, 20), is_windy=True)
    scattered(player, days_ago=5, sides=balls(0, 8, 12))
    card = card_of(player, "Playable balls")
    assert "After: 11 of 12" in card.why or "After: 12 of 12" in card.why
    html = as_coach.get(reverse("lessons:progress", args=[player.code])).content.decode()
    assert "Left out, windy or not alike" in html and html.count('class="pic pic-top"') == 2


def test_an_outline_is_drawn_from_twenty_balls_and_below_there_are_dots_only(as_coach, player):
    prescribe(scattered(player, days_ago=20, sides=balls(0, 8, 20)))
    scattered(player, days_ago=5, sides=balls(0, 8, 19))
    html = as_coach.get(reverse("lessons:progress", args=[player.code])).content.decode()
    before, after = html[html.index('id="landing-before"'):].split('id="landing-after"')
    assert "<polygon" in before and "where 19 of the next 20 balls should land (20 struck balls)" in before
    assert "<polygon" not in after.split("</svg>")[0] and "an outline needs 20 struck balls, 1 more" in after


def test_before_and_after_are_drawn_to_one_scale(player):
    prescribe(scattered(player, days_ago=20, sides=balls(0, 20, 20)))
    scattered(player, days_ago=5, sides=balls(0, 2, 20))
    first, second = (one.view for one in progress_of(student=player, wanted={}, system="yards").landings)
    assert [scale(50.0) for scale in scales(first)[:2]] == [scale(50.0) for scale in scales(second)[:2]]


def test_clean_contact_is_counted_over_the_balls_whose_contact_was_called(player):
    made = [block(visit(player, days_ago=days_ago), mean=5.0) for days_ago in (20, 5)]
    prescribe(made[0])
    for one, clean in zip(made, (2, 9), strict=True):
        for place in range(10):
            factories.add_call(block=one, called_start=0, contact="clean" if place < clean else "fat")
    card = card_of(player, "Clean contact")
    assert "2 of 10 struck clean: 20 %, could be 6 to 51 %" in card.why and card.word == "More struck clean"


def test_a_number_is_shown_with_its_mishits_and_without_them(as_coach, player):
    prescribe(block(visit(player, days_ago=20), mean=5.7))
    made = block(visit(player, days_ago=5), mean=3.0, n=9, columns={"carry_m": [200.0] * 9})
    factories.add_balls(block=made, club_path_deg=[13.0], carry_m=[40.0])
    assert "Club path after: +4.0° with the mishits, +3.0° without them." in card_of(player, "Mishits").lines
    assert "1 of 10 with them +4.0" in text_of(as_coach, player)


def test_the_page_takes_the_same_queries_with_everything_on_it_as_with_little(player, django_assert_max_num_queries):
    for days_ago in (60, 50, 40, 30, 20, 10):
        changed(player, days_ago=days_ago, before=5.7, after=3.3)
    with django_assert_max_num_queries(16):
        beside(player)
