from django.db import models

from units.inspections.domain import judging
from units.inspections.domain.standing import Look, standing


class InspectionQuerySet(models.QuerySet):
    def unfinished(self):
        return self.filter(finished_at=None)

    def finished(self):
        return self.exclude(finished_at=None)

    def with_identity(self):
        return self.select_related(
            "unit__model__maker", "unit__model__kind", "protocol", "opened_by", "finished_by"
        )


class ProtocolStepQuerySet(models.QuerySet):
    def asked_in(self, inspection):
        """The steps that an inspection needs, in order: all of its protocol if not bounded."""
        steps = self.filter(protocol=inspection.protocol_id).order_by("position")
        return steps if inspection.asked is None else steps.filter(key__in=inspection.asked)


class StepResultQuerySet(models.QuerySet):
    def failing_a_test(self):
        """What no final test is passed with: not sound, or a safety look that was not made."""
        unmade = models.Q(outcome=judging.NOT_POSSIBLE, step__holds=True)
        return self.filter(models.Q(outcome=judging.FAIL) | unmade)


class FindingQuerySet(models.QuerySet):
    def newest_first(self):
        """With all that tells whether a finding still stands."""
        joined = ("result__step", "result__error_code", "component", "clearance")
        found = self.select_related(*joined).order_by("-found_at", "-id")
        return found.prefetch_related("result__error_code__components")

    def standing(self, units) -> dict[int, list]:
        """``{unit id: findings that stand, newest first}``, every unit named; one query, and
        one more where an error code was found."""
        looks = {unit.pk: [] for unit in units}
        for finding in self.newest_first().filter(unit__in=looks):
            looks[finding.unit_id].append(_look(finding))
        return {pk: [look.ref for look in standing(rows)] for pk, rows in looks.items()}


class MeasureReadingQuerySet(models.QuerySet):
    def standing(self):
        """Those that nobody withdrew."""
        return self.filter(withdrawal=None)

    def baselines(self):
        return self.standing().filter(is_baseline=True)


def _look(finding) -> Look:
    return Look(
        ref=finding,
        key=finding.result.step.key,
        sound=finding.passes,
        possible=finding.condition != judging.NOT_POSSIBLE,
        cleared=hasattr(finding, "clearance"),
    )
