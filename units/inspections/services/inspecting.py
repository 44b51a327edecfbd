from datetime import datetime
from decimal import Decimal

from django.db import transaction
from django.utils.translation import gettext as _

from units.binder.models import ErrorCode
from units.catalogue.models import Unit
from units.catalogue.selectors import model_ids_of
from units.files.models import StoredFile
from units.files.services import store_picture
from units.inspections.domain import judging
from units.inspections.domain.scope import Scope, Work, joined, scope_of
from units.inspections.models import Finding, Inspection, Protocol, ProtocolStep, StepResult
from units.inspections.services.errors import InspectionError, MissingStepsError
from units.inspections.services.outcomes import record_inspected

PLACES = Decimal("0.0001")
MOST = Decimal(1_000_000)


@transaction.atomic
def open_inspection(
    *,
    unit: Unit,
    occasion: str,
    document: str,
    population: str = "",
    work: Work | None = None,
    by,
    at: datetime,
) -> Inspection:
    """Open an inspection by the newest protocol of the unit's kind, or return the open one.

    One opened under an older version is carried on under that version. ``population`` says where
    the machine came from, for the odds that are learnt from what is found. ``work`` bounds a final
    test to what the work asks for; one that is open already is widened by it.
    """
    if occasion not in Protocol.Occasion:
        raise InspectionError(_("There is no such occasion for an inspection. Choose one offered."))
    Unit.objects.select_for_update().get(pk=unit.pk)
    mine = Inspection.objects.filter(unit=unit, document=document, protocol__occasion=occasion)
    standing = mine.unfinished().first()
    if standing:
        return _widen(standing, work)
    kind = unit.model.kind
    protocol = Protocol.objects.filter(kind=kind, occasion=occasion).order_by("-version").first()
    if protocol is None:
        raise InspectionError(
            _(
                "There is no protocol “%(occasion)s” for the kind “%(kind)s”. Load the reference"
                " data."
            )
            % {"occasion": Protocol.Occasion(occasion).label, "kind": _(kind.name)}
        )
    scope = _scope(protocol, work)
    return Inspection.objects.create(
        unit=unit,
        protocol=protocol,
        document=document,
        population=population,
        asked=scope.keys,
        run_in=scope.run_in,
        opened_at=at,
        opened_by=by,
    )


def _scope(protocol: Protocol, work: Work | None) -> Scope:
    if work is None:
        return Scope(None, None)
    return scope_of(protocol.steps.all(), protocol.run_in, work)


def _widen(inspection: Inspection, work: Work | None) -> Inspection:
    if work is None:
        return inspection
    scope = _scope(inspection.protocol, work)
    inspection.asked = joined(inspection.asked, scope.keys)
    inspection.run_in = max(inspection.run_in or 0, scope.run_in or 0) or None
    inspection.save(update_fields=["asked", "run_in"])
    return inspection


@transaction.atomic
def record_result(
    *,
    inspection: Inspection,
    step: ProtocolStep,
    outcome: str | None = None,
    condition: str = "",
    value: Decimal | None = None,
    reason: str = "",
    note: str = "",
    photo: StoredFile | None = None,
    code: int | None = None,
    by,
    at: datetime,
) -> StepResult:
    """Write down, or correct, what came of a step. The step itself judges.

    ``outcome`` is needed only as ``"not-possible"``, with a ``reason``. ``value`` is in the step's
    measure. Without a new ``photo`` an earlier one stays. ``code`` is the id of the error code that
    the display shows, one of the model's binder.
    """
    inspection = _lock_open(inspection)
    if step.protocol_id != inspection.protocol_id:
        raise InspectionError(_("This step belongs to another protocol."))
    answer = _answer(step, outcome, condition, value, reason.strip())
    answer["error_code"] = _code(inspection, code, answer["condition"])
    answer |= {"note": note.strip(), "recorded_at": at, "recorded_by": by}
    if photo:
        answer["photo"] = photo
    # The inspection is locked, so nobody writes this step's result beside us.
    result = inspection.results.filter(step=step).first()
    result = result or StepResult(inspection=inspection, step=step)
    for word, value in answer.items():
        setattr(result, word, value)
    result.save()
    return result


@transaction.atomic
def record_step(*, upload=None, by, at: datetime, **answer) -> StepResult:
    """Record a result together with an uploaded picture of it: both or neither.

    The answer is judged first, so that a refused one leaves no file behind.
    """
    result = record_result(**answer, by=by, at=at)
    if upload:
        result.photo = store_picture(upload=upload, by=by, at=at)
        result.save(update_fields=["photo"])
    return result


@transaction.atomic
def finish_inspection(*, inspection: Inspection, by, at: datetime) -> Inspection:
    """Close an inspection whose every step has a result; write its findings and outcomes.

    Where something was found that ends it (taken apart, on a visit before buying), what was not
    done any more was not possible, for that reason: never a blank.
    """
    inspection = _lock_open(inspection)
    results = list(inspection.results.select_related("step"))
    done = {result.step_id for result in results}
    asked = ProtocolStep.objects.asked_in(inspection)
    missing = [step for step in asked if step.pk not in done]
    ended = next((result for result in results if result.ending), None)
    if missing and not ended:
        raise MissingStepsError(missing)
    results += [_not_reached(inspection, step, ended, by, at) for step in missing]
    final = inspection.protocol.occasion == Protocol.Occasion.FINAL
    Finding.objects.bulk_create(_finding(inspection, result, final, at) for result in results)
    inspection.finished_at, inspection.finished_by = at, by
    inspection.save(update_fields=["finished_at", "finished_by"])
    record_inspected(inspection=inspection, by=by, at=at)
    return inspection


def _not_reached(inspection, step: ProtocolStep, ended: StepResult, by, at) -> StepResult:
    reason = _("The visit ended: %(found)s") % {"found": _(ended.ending["label"])}
    return StepResult.objects.create(
        inspection=inspection,
        step=step,
        outcome=judging.NOT_POSSIBLE,
        condition=judging.NOT_POSSIBLE,
        reason=reason[:200],
        recorded_at=at,
        recorded_by=by,
    )


def _lock_open(inspection: Inspection) -> Inspection:
    locked = Inspection.objects.select_for_update().get(pk=inspection.pk)
    if locked.is_finished:
        raise InspectionError(
            _("This inspection is finished and does not change any more. Inspect again instead.")
        )
    return locked


def _answer(step, outcome, condition, value, reason: str) -> dict:
    """The fields of a result that its step decides."""
    if outcome == judging.NOT_POSSIBLE:
        if not reason:
            raise InspectionError(_("Say why the step was not possible."))
        return {"outcome": outcome, "condition": outcome, "value": None, "reason": reason}
    if step.answer == ProtocolStep.Answer.MEASURE:
        value = _checked(value)
        judged = judging.judge_measure(value, step.low, step.high, step.fails_as)
    else:
        value = None
        judged = judging.judge_condition(condition, step.conditions)
    if judged is None:
        raise InspectionError(_("Choose one of the conditions that the step names."))
    if outcome not in (None, "", judged.outcome):
        raise InspectionError(_("The outcome contradicts what was found."))
    return {
        "outcome": judged.outcome,
        "condition": judged.condition,
        "value": value,
        "reason": "",
    }


def _code(inspection: Inspection, code: int | None, condition: str) -> ErrorCode | None:
    if code is None:
        return None
    if condition != judging.CODE_SHOWN:
        raise InspectionError(_("A code goes with the answer that one is shown."))
    family = model_ids_of(inspection.unit.model)
    found = ErrorCode.objects.standing().filter(model__in=family, pk=code).first()
    if found is None:
        raise InspectionError(
            _(
                "This code does not stand in the model’s binder any more. Choose another one, or"
                " the answer that it is not listed, and write it in the note."
            )
        )
    return found


def _checked(value: Decimal | None) -> Decimal:
    if value is None:
        raise InspectionError(_("Write the measured value, or say why it was not possible."))
    value = Decimal(value)
    if not value.is_finite() or not 0 <= value < MOST:
        raise InspectionError(_("A measured value is a number from 0 to below one million."))
    if value != value.quantize(PLACES):
        raise InspectionError(_("Write the measured value with at most four decimals."))
    return value


def _finding(inspection, result, final: bool, at) -> Finding:
    step = result.step
    return Finding(
        unit_id=inspection.unit_id,
        result=result,
        component_id=step.component_of(result.condition),
        condition=result.condition,
        passes=result.outcome == StepResult.Outcome.PASS,
        holds=judging.holds_machine(step_holds=step.holds, outcome=result.outcome, final=final),
        found_at=at,
    )
