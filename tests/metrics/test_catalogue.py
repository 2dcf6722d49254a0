"""The Method page's list: no number without a row, no row without a function that says what it does."""

import ast
import importlib
import typing
from pathlib import Path

import pytest

import metrics
from metrics.catalogue import GROUPS, MARKS, METHODS, matching
from metrics.method import Mark

ROOT = Path(metrics.__file__).parent
ROOMS = ("flight", "change", "rules", "photo", "handicap", "shortgame", "plans")
FILES = [path for room in ROOMS for path in sorted((ROOT / room).glob("*.py"))]
FILES += [ROOT / f"{name}.py" for name in ("spread", "intervals", "windows", "setup_geometry", "address")]

SAYS_IT = "puts a number of another row into words"
CHOOSES = "chooses, checks or refuses; computes no number"
READS = "reads the library or a setting"
INSIDE = "a step inside the number of another row"
WHOLE_MODULES = {
    "change.words": SAYS_IT, "change.spread_words": SAYS_IT, "rules.words": SAYS_IT, "rules.evidence": SAYS_IT,
    "rules.explain": SAYS_IT, "rules.needs": SAYS_IT, "rules.warnings": SAYS_IT, "rules.assessment": SAYS_IT,
    "rules.doubt": CHOOSES,
    "rules.library": READS, "rules.overrides": READS, "rules.parse_patterns": READS,
    "rules.limits": READS, "rules.setup_windows": READS, "rules.quantities": READS, "change.comparable": CHOOSES,
    "change.settings": READS, "flight.launching": INSIDE, "flight.motion": INSIDE, "flight.landing": INSIDE,
}
"""Modules none of whose functions computes a number of its own; a number put there would be in the wrong place."""

NO_NUMBER = {
    "rules.mishits.left_out_of_spreads": CHOOSES, "rules.predict.effect_words": SAYS_IT,
    "intervals.means_with_intervals": INSIDE, "plans.days.days_of_week": CHOOSES,
    "change.aids.gives_back": CHOOSES, "change.drift.split_adaptation": CHOOSES, "change.model.same_day": INSIDE,
    "change.priors.balls_to_judge": READS, "change.priors.k_prior": READS,
    "change.priors.is_judged": READS,
    "change.question.question_for": READS, "change.regression.why_not_compare": SAYS_IT,
    "change.verdict.classify": INSIDE, "change.visits.merged_by_day": CHOOSES,
    "flight.air.standard_pressure_hpa": INSIDE, "flight.air.air_at": INSIDE, "flight.errors.club_values": READS,
    "flight.refuse.refusals": CHOOSES, "flight.shape.shape_from_launch": INSIDE, "flight.shape.words": SAYS_IT,
    "flight.trajectory.within_range": CHOOSES, "flight.visit.why": SAYS_IT, "flight.whatif.estimate": INSIDE,
    "photo.homography.apply": INSIDE, "photo.reading.read_photo": INSIDE, "photo.reading.grid_lines": INSIDE,
    "photo.doubts.refuse_impossible": CHOOSES, "photo.doubts.doubts_about": SAYS_IT, "intervals.present": CHOOSES,
    "windows.find_window": READS, "windows.tolerance": READS, "rules.conditions.applies": CHOOSES,
    "rules.conditions.judge": INSIDE, "rules.conditions.limits_of": READS, "rules.engine.evaluate": CHOOSES,
    "rules.estimates.setup_value": READS, "rules.health.health_gate": CHOOSES, "rules.health.body_notes": SAYS_IT,
    "rules.health.drill_fits": CHOOSES, "rules.ordering.level_gate": CHOOSES, "rules.ordering.rank": CHOOSES,
    "rules.predict.per_unit_of": READS, "rules.setup_checks.check_states": CHOOSES,
    "rules.setup_checks.linked_outside": CHOOSES, "rules.setup_checks.to_show": CHOOSES,
    "rules.states.min_shown": READS,
    "rules.states.judge_pattern": CHOOSES, "handicap.index.lowest_counted": READS, "handicap.scores.exact": INSIDE,
    "handicap.scores.to_tenth": INSIDE,
    "shortgame.designs.target_at": CHOOSES, "plans.drills.allowed": CHOOSES, "plans.drills.pick": CHOOSES,
    "plans.kit.alternatives": READS, "plans.kit.can_do": CHOOSES, "plans.lesson.nudge_after": INSIDE,
    "plans.series.bend_series": CHOOSES, "plans.series.apply_bend": INSIDE, "plans.alerts.alerts_of": SAYS_IT,
    "plans.lesson_parts.parts_of": CHOOSES, "plans.battery.concerns": CHOOSES, "shortgame.held.within": READS,
    "change.words.wanted": SAYS_IT,
}
"""Public functions without a row, each with the reason. A new function is a number until somebody says why not."""


def public_functions() -> set[str]:
    return {
        f"{'.'.join(path.relative_to(ROOT).with_suffix('').parts)}.{node.name}"
        for path in FILES for node in ast.parse(path.read_text(encoding="utf-8")).body
        if isinstance(node, ast.FunctionDef) and not node.name.startswith("_")
    }


def module_of(function: str) -> str:
    return function.rsplit(".", 1)[0]


def test_no_number_lacks_its_row():
    rows = {method.function.removeprefix("metrics.") for method in METHODS}
    lacking = public_functions() - NO_NUMBER.keys() - rows
    assert sorted(each for each in lacking if module_of(each) not in WHOLE_MODULES) == []


def test_nothing_is_excused_that_has_a_row_or_is_gone():
    rows = {method.function.removeprefix("metrics.") for method in METHODS}
    assert sorted(NO_NUMBER.keys() & rows) == []
    assert sorted(NO_NUMBER.keys() - public_functions()) == []
    assert sorted(WHOLE_MODULES.keys() & {module_of(row) for row in rows}) == []
    assert sorted(WHOLE_MODULES.keys() - {module_of(each) for each in public_functions()}) == []


@pytest.mark.parametrize("method", METHODS, ids=lambda method: method.key)
def test_every_row_is_whole_and_names_a_function_that_says_what_it_does(method):
    module, name = method.function.rsplit(".", 1)
    function = getattr(importlib.import_module(module), name)
    assert callable(function) and function.__doc__ and function.__doc__.strip()
    assert all((method.label, method.formula, method.valid_range, method.source))
    assert method.mark in MARKS


def test_keys_labels_and_functions_stand_once():
    for part in ("key", "label", "function"):
        values = [getattr(method, part) for method in METHODS]
        assert sorted(values) == sorted(set(values)), part


def test_every_mark_is_explained():
    assert set(MARKS) == set(typing.get_args(Mark))


def test_a_search_finds_all_words_in_any_place_and_drops_empty_groups():
    found = matching(words="Carry REFERENCE")
    assert {group.key for group in found} == {"flight"}
    assert "carry_at_reference" in {method.key for method in found[0].methods}
    assert all("carry" in " ".join(vars(method).values()).lower() for method in found[0].methods)


def test_a_search_for_nothing_shows_everything_and_a_stray_word_nothing():
    assert matching(words="  ") == GROUPS
    assert matching(words="zeppelin") == ()
