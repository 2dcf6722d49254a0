"""One block in, one assessment out: the same input always gives the same findings and the same words."""

from metrics.rules.assessment import Assessment, CheckShown, Considered, Finding, Gate
from metrics.rules.doubt import caveat, watching
from metrics.rules.evidence import evidence_of
from metrics.rules.explain import explanation, near_miss, own_goal, silent_reason, would_change
from metrics.rules.health import body_notes, drill_fits, health_gate
from metrics.rules.needs import in_window, needs, notes, unnamed
from metrics.rules.ordering import Ranked, rank
from metrics.rules.overrides import layer
from metrics.rules.predict import effects_of
from metrics.rules.quantities import info
from metrics.rules.records import Expectation, Library
from metrics.rules.setup_checks import CheckState, check_states, to_show
from metrics.rules.setup_windows import window_of
from metrics.rules.states import PatternResult, judge_pattern, min_shown
from metrics.rules.types import BlockEvidence
from metrics.rules.warnings import block_warnings, finding_warnings
from metrics.rules.words import fill, number, unit_suffix

MAX_DRILLS = 4


def evaluate(evidence: BlockEvidence, *, library: Library) -> Assessment:
    """Return what one block says: at most two findings of three checks each, what is needed, what was considered.

    Raises KeyError for a club category that does not exist and OverrideError for an override that fits nothing.
    """
    shipped, library = library, layer(library=library, overrides=evidence.overrides)
    gate = health_gate(evidence, library=library)
    if gate is not None:
        return _stopped(gate, evidence, library)
    results = [judge_pattern(p, evidence=evidence, library=library) for p in library.patterns.values()
               if evidence.club_category in p.clubs]
    ranked = rank(results, evidence=evidence)
    findings = tuple(_finding(r, ranked, results, evidence, library, shipped) for r in ranked.shown)
    return Assessment(
        club_category=evidence.club_category, intent=evidence.intent, aids=evidence.aids, balls=evidence.count,
        show_mean=evidence.count >= min_shown(), gate=None, findings=findings,
        watching=tuple(watching(r, evidence=evidence) for r in ranked.watched),
        needs=tuple(needs(results, shown=ranked.shown, evidence=evidence)), in_window=in_window(evidence),
        notes=tuple(notes(evidence) + unnamed(evidence, groups_shown={f.group for f in findings})
                    + body_notes(evidence, library=library)),
        warnings=tuple(block_warnings(evidence)),
        considered=tuple(_considered(r, ranked, evidence) for r in results),
    )


def _stopped(gate: Gate, evidence: BlockEvidence, library: Library) -> Assessment:
    considered = tuple(
        Considered(pattern=p.slug, title=p.title, state="silent", strength=None, shown=False,
                   reason="not looked at: health comes first")
        for p in library.patterns.values() if evidence.club_category in p.clubs)
    return Assessment(club_category=evidence.club_category, intent=evidence.intent, aids=evidence.aids,
                      balls=evidence.count, show_mean=evidence.count >= min_shown(), gate=gate, findings=(),
                      watching=(), needs=(), in_window=None, notes=(), warnings=(), considered=considered)


def _finding(result: PatternResult, ranked: Ranked, results: list[PatternResult], evidence: BlockEvidence,
             library: Library, shipped: Library) -> Finding:
    pattern, hand = result.pattern, evidence.hand
    checks = tuple(_check(s, evidence, library, shipped)
                   for s in to_show(check_states(pattern, evidence=evidence, library=library)))
    alive = [r for r in result.routes if r.state != "silent"]
    seen = [evidence_of(o, evidence=evidence) for r in alive for o in r.outcomes]
    drills = [d for d in pattern.drills if drill_fits(library.drills[d], pattern=pattern.slug, evidence=evidence)]
    return Finding(
        pattern=pattern.slug, code=pattern.code, title=fill(pattern.title, hand=hand), group=pattern.group,
        state=result.state if result.state != "silent" else "hint", strength=result.strength,
        raised_by_setup=result.raised_by_setup, caveat=caveat(result, evidence=evidence),
        evidence=tuple(dict.fromkeys(e for e in seen if e is not None)), checks=checks,
        drills=tuple(drills[:MAX_DRILLS]), explain=explanation(result, checks=checks, evidence=evidence),
        mechanism=fill(pattern.mechanism, hand=hand), expect=_expect(pattern.expect),
        over_correction=fill(pattern.over_correction.text, hand=hand), retest=fill(pattern.retest.text, hand=hand),
        caution=fill(pattern.caution, hand=hand),
        warnings=tuple(finding_warnings(result, checks=checks, evidence=evidence)),
        would_change=would_change(result, evidence=evidence), why_not=_why_not(ranked, results, evidence),
        own_goal=own_goal(evidence) if pattern.group in ("path", "face") else "",
    )


def _check(state: CheckState, evidence: BlockEvidence, library: Library, shipped: Library) -> CheckShown:
    check = state.check
    shipped_window = check.window or window_of(check.checkpoint, evidence=evidence, library=shipped)
    return CheckShown(
        checkpoint=check.checkpoint, title=fill(check.title, hand=evidence.hand),
        unit=info(check.checkpoint).unit, window=state.window, shipped_window=shipped_window,
        value=state.value, outside=None if state.value is None else not state.inside,
        reason=fill(check.reason, hand=evidence.hand), over_doing=fill(check.over_doing, hand=evidence.hand),
        then_check=check.then_check or None, effects=effects_of(state, evidence=evidence, library=library),
        mark=check.mark, source=check.source,
    )


def _expect(expected: tuple[Expectation, ...]) -> str:
    def one(e: Expectation) -> str:
        about = info(e.quantity)
        whole = e.unit == "of 10" or max(abs(e.low), abs(e.high)) >= 10
        digits = 0 if whole else max(about.digits, 1)
        ends = [number(v, digits=digits, sign=True) for v in (e.low, e.high)]
        size = ends[0] if ends[0] == ends[1] else f"{ends[0]} to {ends[1]}"
        return f"{about.label} {size}{unit_suffix(e.unit or about.unit)} {e.when} ({e.mark})"
    return "; ".join(one(e) for e in expected)


def _why_not(ranked: Ranked, results: list[PatternResult], evidence: BlockEvidence) -> tuple[str, ...]:
    titles = {r.pattern.slug: r.pattern.title for r in results}
    aside = [f"{fill(titles[slug], hand=evidence.hand)}: {why}" for slug, why in ranked.why_not.items()]
    if not aside and (near := near_miss(results, shown=list(ranked.shown), evidence=evidence)):
        aside = [f"{fill(near.pattern.title, hand=evidence.hand)}: {silent_reason(near, evidence=evidence)}"]
    return tuple(aside[:2])


def _considered(result: PatternResult, ranked: Ranked, evidence: BlockEvidence) -> Considered:
    slug, shown = result.pattern.slug, result in ranked.shown
    if result.state == "silent":
        reason = silent_reason(result, evidence=evidence)
    else:
        reason = "shown" if shown else ranked.why_not.get(slug, "")
    seen = [evidence_of(o, evidence=evidence) for r in result.routes for o in r.outcomes]
    return Considered(pattern=slug, title=fill(result.pattern.title, hand=evidence.hand), state=result.state,
                      strength=None if result.state == "silent" else result.strength, shown=shown, reason=reason,
                      evidence=tuple(dict.fromkeys(e for e in seen if e is not None)))
