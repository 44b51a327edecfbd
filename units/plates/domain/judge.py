"""What one photo's looks and symbols come to: each field's proposal and how sure it is."""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from units.catalogue.domain.keys import match_key
from units.plates.domain import supply
from units.plates.domain.confidence import VETOED, confidence_of, outcome_of
from units.plates.domain.evidence import (
    Hypothesis,
    Span,
    coded_spans,
    gap,
    goes_on,
    least_weight,
    mean_fit,
    place_worth,
    shares,
    spans_of,
)
from units.plates.domain.groups import edge_twins
from units.plates.domain.knowledge import Knowledge, shape_of
from units.plates.domain.labels import fold
from units.plates.domain.likeness import Alike, signs_of
from units.plates.domain.met_serials import Serials
from units.plates.domain.new_maker import new_maker
from units.plates.domain.proposal import Barcode, Candidate, FieldName, Outcome, ReadField
from units.plates.domain.sight.look import View
from units.plates.domain.snippets import ALONE, Snippet, snippets_of
from units.plates.domain.which_model import (
    mistakable,
    neighbours,
    only_here,
    shapes_of,
    which_maker,
    which_model,
)
from units.plates.domain.which_serial import (
    ambiguous,
    contradicted,
    cut_short,
    hardly_a_number,
    in_two_cases,
    named_otherwise,
    shape_worth,
    unsettled,
    which_serial,
)

LIKELY_MAKER = 0.85  # of 1, by letters
MOST_CANDIDATES = 4
CLOSE_RUNNER_UP = 2.5  # natural logarithm
DOUBTFUL_SWAP, UNSHAPED_SWAP = 0.06, 0.008
# So far ahead that a number of a shape never seen is believed; and that of two numbers which look
# alike the one that was read is. By trial on the tuning families.
FAR_AHEAD, AHEAD_OF_TWIN = 10.0, 7.0
FAINT = 0.35
MOST_GAP = 14.0
SUPPLY_SURE = 0.9


@dataclass(frozen=True)
class Judgement:
    fields: dict[FieldName, ReadField]
    features: dict[str, dict[str, float]] = field(default_factory=dict)


@dataclass(frozen=True)
class Case:
    """All that was gathered from a photo for one plate."""

    snippets: Sequence[Snippet]
    spans: Sequence[Span]
    coded: Sequence[Span]
    views: Sequence[View]
    knowledge: Knowledge
    alike: Alike


def judge(views: Sequence[View], barcodes: Sequence[Barcode], knowledge: Knowledge) -> Judgement:
    """Weigh everything that the looks at one plate show."""
    snippets = [one for at, view in enumerate(views) for one in snippets_of(view, at)]
    case = Case(
        snippets,
        spans_of(snippets),
        coded_spans(barcodes),
        views,
        knowledge,
        Alike(knowledge.misread),
    )
    named = which_maker(snippets, knowledge)
    makers = [name for name, likeness, _snippet in named if likeness >= LIKELY_MAKER]
    models = which_model(case.spans, case.coded, makers, knowledge, case.alike)
    model, model_features = _model(case, models, makers)
    maker = _maker(case, named, models, model)
    serials = Serials(knowledge, maker.text if maker.text in knowledge.makers else "")
    taken = _taken(knowledge, models)
    numbers = which_serial(case.spans, case.coded, serials, case.alike, taken)
    serial, serial_features = _serial(case, numbers, serials)
    fields = {FieldName.MAKER: maker, FieldName.MODEL: model, FieldName.SERIAL: serial}
    fields |= _supply(case)
    return Judgement(fields, {"model": model_features, "serial": serial_features})


def _taken(knowledge: Knowledge, models: Sequence[Hypothesis]) -> set[str]:
    """What is no serial: makers' names and the model; a catalogued one may have been misread."""
    names = {fold(name) for name in knowledge.makers}
    return names | {fold(one.key) if one.known else one.key for one in models[:1]}


def _common(
    case: Case, ranked: Sequence[Hypothesis], names: set[str], settled: Callable[[int], bool]
) -> dict[str, float]:
    best = ranked[0]
    return {
        "gap": min(MOST_GAP, gap(ranked)),
        "fit": mean_fit(best),
        "least": math.log(least_weight(best, settled)) if best.span else -7.0,
        "place": place_worth(best.span, names),
        "looks": float(sum(view > -6 for view in best.views.values())) / max(len(case.views), 1),
        "coded": float(best.coded),
        "height": math.log(max(best.span.height, 4.0)) if best.span else 1.0,
    }


def _model(case: Case, ranked: Sequence[Hypothesis], makers) -> tuple[ReadField, dict]:
    if not ranked:
        return ReadField(FieldName.MODEL), {}
    best = ranked[0]
    near = neighbours(best.key, case.knowledge)
    shapes = shapes_of(makers, case.knowledge)
    features = _common(
        case, ranked, {"model", "maker"}, lambda at: best.known or only_here(best.key, at, shapes)
    ) | {
        "known": float(best.known),
        "maker": float(best.maker in makers) if makers else 0.5,
        "neighbours": min(3.0, float(near)),
    }
    vetoed = (
        features["gap"] < CLOSE_RUNNER_UP
        or goes_on(ranked)
        or features["least"] < math.log(FAINT)
        or _coded_otherwise(best, case)
        or _mistakable(best, features["gap"], case)
        or (not best.known and (features["place"] < 1 or features["looks"] < 1))
        or (not best.known and not best.coded and features["least"] < math.log(0.9))
        or (bool(makers) and best.maker not in makers)
        or (
            not best.known
            and not best.coded
            and features["gap"] < FAR_AHEAD
            and _strange(best, makers, case.knowledge)
        )
    )
    return _field(FieldName.MODEL, ranked, features, vetoed), features


def _mistakable(best: Hypothesis, ahead: float, case: Case) -> bool:
    """Another catalogued number looks alike, and the print is not far enough from it."""
    twin = not best.coded and mistakable(best.key, case.knowledge, case.alike)
    return twin and ahead < AHEAD_OF_TWIN


def _coded_otherwise(best: Hypothesis, case: Case) -> bool:
    """A symbol names another catalogued model, and none names this one."""
    numbers = {match_key(number) for _maker, number in case.knowledge.models}
    return not best.coded and any(span.key in numbers - {best.key} for span in case.coded)


def _strange(best: Hypothesis, makers: Sequence[str], knowledge: Knowledge) -> bool:
    """A number that no catalogue holds and that no number of its maker looks like."""
    shapes = shapes_of(makers, knowledge)
    odd = bool(shapes) and shape_of(best.key) not in shapes
    return odd or (not shapes and bool(edge_twins(best.key)))


def _serial(case: Case, ranked: Sequence[Hypothesis], serials: Serials) -> tuple[ReadField, dict]:
    if not ranked:
        return ReadField(FieldName.SERIAL), {}
    best = ranked[0]
    doubt = unsettled(best, serials, case.alike)
    conflict = contradicted(best, case.coded)
    features = _common(case, ranked, {"serial"}, lambda at: serials.usual(best.key, at)) | {
        "shape": shape_worth(best, serials),
        "doubt": math.log(doubt + 1e-3),
        "conflict": float(conflict),
        "twins": float(ambiguous(best, serials, gap(ranked) >= FAR_AHEAD)),
        "short": float(cut_short(best, serials)),
    }
    vetoed = (
        conflict
        or goes_on(ranked)
        or bool(features["twins"])
        or bool(features["short"])
        or hardly_a_number(best, serials)
        or named_otherwise(best)
        or in_two_cases(best)
        or (serials.unheard_of(best.key) and not best.coded)
        or (not best.known and not best.coded and features["looks"] < 1)
        or (features["gap"] < CLOSE_RUNNER_UP and not best.coded)
        or doubt > (DOUBTFUL_SWAP if best.known else UNSHAPED_SWAP)
        or (features["least"] < math.log(FAINT) and not best.coded)
        or (features["place"] < 1 and not best.coded and not best.known)
    )
    return _field(FieldName.SERIAL, ranked, features, vetoed), features


def _field(name: FieldName, ranked: Sequence[Hypothesis], features, vetoed: bool) -> ReadField:
    confidence = confidence_of(str(name), features)
    if vetoed:
        confidence = min(confidence, VETOED)
    best = ranked[0]
    rest = shares(ranked)[1:MOST_CANDIDATES]
    total = sum(rest) or 1.0
    others = [
        Candidate(one.text, round((1 - confidence) * share / total * 0.7, 4))
        for one, share in zip(ranked[1:MOST_CANDIDATES], rest, strict=True)
        if share > 1e-4
    ]
    return ReadField(
        name,
        best.text,
        round(confidence, 4),
        outcome_of(confidence, vetoed),
        best.span.box if best.span else None,
        (Candidate(best.text, round(confidence, 4)), *others),
    )


def _maker(case: Case, named, models: Sequence[Hypothesis], model: ReadField) -> ReadField:
    """The maker whose name was read; without one, the maker of the model if only one has it; else
    what may be the name of a new one."""
    best = models[0] if models else None
    others = tuple(Candidate(name, round(like * 0.5, 3)) for name, like, _one in named[1:3])
    if named:
        name, likeness, snippet = named[0]
        agrees = bool(best and best.known and best.maker == name)
        disputed = len(others) > 0 and named[1][1] >= LIKELY_MAKER
        disputed = disputed or bool(best and best.known and not agrees)
        confidence = 0.995 if agrees else 0.97 * likeness if likeness > 0.9 else 0.6 * likeness
        certain = (agrees and model.outcome == Outcome.SURE) or likeness >= 0.99
        outcome = Outcome.SURE if certain and not disputed else Outcome.LOOK
        first = Candidate(name, round(confidence, 4))
        return ReadField(
            FieldName.MAKER, name, round(confidence, 4), outcome, snippet.box, (first, *others)
        )
    if best is None or not best.known:
        return new_maker(case.snippets)
    makers = sorted({one for one, number in case.knowledge.models if match_key(number) == best.key})
    confidence = model.confidence / len(makers)
    candidates = tuple(Candidate(name, round(confidence, 4)) for name in makers)
    outcome = model.outcome if len(makers) == 1 else Outcome.LOOK
    return ReadField(FieldName.MAKER, best.maker, round(confidence, 4), outcome, None, candidates)


def _supply(case: Case) -> dict[FieldName, ReadField]:
    lines = [
        Snippet(
            line.text,
            signs_of(line.print.glyphs),
            ALONE,
            "",
            at,
            line.box,
            line.height,
            line.print.confidence,
        )
        for at, view in enumerate(case.views)
        for line in view.lines
    ]
    found: Mapping[str, supply.Found] = supply.find_supply(lines)
    made = supply.find_made(case.snippets)
    if made:
        found = {**found, "made": made}
    return {FieldName(name): _plain_field(FieldName(name), one) for name, one in found.items()}


def _plain_field(name: FieldName, one: supply.Found) -> ReadField:
    confidence = round(min(0.99, one.confidence), 4)
    outcome = Outcome.SURE if confidence >= SUPPLY_SURE else Outcome.LOOK
    return ReadField(
        name, one.text, confidence, outcome, one.snippet.box, (Candidate(one.text, confidence),)
    )


def never_sure(found: Judgement) -> Judgement:
    """The same with no field surer than a look: two plates in one picture, say."""
    fields = {
        name: replace(one, outcome=Outcome.LOOK, confidence=min(one.confidence, VETOED))
        if one.outcome == Outcome.SURE
        else one
        for name, one in found.fields.items()
    }
    return replace(found, fields=fields)
