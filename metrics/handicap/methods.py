"""One row for every number about scores, for the Method page."""

from metrics.method import Method

_RULES = "Rules of Handicapping, rule {rule}, governing bodies’ page read"

METHODS: tuple[Method, ...] = (
    Method(key="differential", label="Score differential, 18 holes", unit="strokes",
           formula="113 / slope × (adjusted gross − course rating − PCC), to 0.1, a half up",
           valid_range="18 holes, slope 55 to 155, PCC −1 to +3; nine holes are not computed",
           source=_RULES.format(rule="5.1"), mark="source", function="metrics.handicap.scores.differential"),
    Method(key="hole_maximum", label="Most that counts on a hole", unit="strokes",
           formula="par + 2 + strokes received; par + 5 before there is an index", valid_range="par 3 to 6",
           source=_RULES.format(rule="3.1"), mark="source", function="metrics.handicap.scores.hole_maximum"),
    Method(key="strokes_received", label="Strokes received on a hole", unit="strokes",
           formula="⌊(course handicap − stroke index) / 18⌋ + 1", valid_range="stroke index 1 to 18",
           source="Rules of Handicapping, rule 6.2, from memory", mark="memory",
           function="metrics.handicap.scores.strokes_received"),
    Method(key="course_handicap", label="Course handicap", unit="strokes",
           formula="index × slope / 113 + (course rating − par), rounded", valid_range="18 holes",
           source="Rules of Handicapping, rule 6.1, from memory", mark="memory",
           function="metrics.handicap.scores.course_handicap"),
    Method(key="index", label="Mirror of the index", unit="strokes",
           formula="mean of the lowest differentials of the latest 20 by the table, plus its adjustment; at most 54.0",
           valid_range="3 scores or more", source=_RULES.format(rule="5.2 and 5.3"), mark="source",
           function="metrics.handicap.index.uncapped_index"),
    Method(key="caps", label="Soft and hard cap", unit="strokes",
           formula="above low index + 3.0 half counts; never above low index + 5.0",
           valid_range="20 scores or more", source=_RULES.format(rule="5.8"), mark="source",
           function="metrics.handicap.index.capped_index"),
    Method(key="exceptional", label="Exceptional score", unit="strokes",
           formula="7.0 to 9.9 below the index: −1.0; 10.0 or more: −2.0, off the latest 20 differentials",
           valid_range="an index in effect", source=_RULES.format(rule="5.9"), mark="source",
           function="metrics.handicap.index.exceptional_reduction"),
    Method(key="mirror", label="The scoring record in order", unit="strokes",
           formula="each score: differential, reduction, index, caps against the low index of 365 days",
           valid_range="scores oldest first", source=_RULES.format(rule="5"), mark="source",
           function="metrics.handicap.record.mirror"),
    Method(key="form", label="Mean of the last ten rounds", unit="strokes",
           formula="mean and SD of the latest ten differentials, Student’s t interval", valid_range="1 round or more",
           source="any statistics textbook", mark="source", function="metrics.handicap.form.form_of"),
    Method(key="luck_of_ten", label="Luck between two means of ten rounds", unit="strokes",
           formula="1.96 √2 · SD / √10; SD assumed 4.0 until five rounds are known",
           valid_range="independent rounds", source="derived; the assumed SD is from memory", mark="computed",
           function="metrics.handicap.form.luck_between_means"),
)
"""Every row resolves to a public function with a docstring; a test holds it to that."""
