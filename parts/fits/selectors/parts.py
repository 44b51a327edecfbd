"""Parts for lists and pages, and what fits a model by its own parts list."""

from collections.abc import Iterable, Sequence

from django.db.models import Count, F, OuterRef, Prefetch, QuerySet, Subquery
from django.db.models.functions import Coalesce

from parts.fits.models import Fit, Part
from units.catalogue.models import MachineModel
from units.catalogue.selectors import model_families


def fits_of(models: Iterable[MachineModel]) -> dict[int, list[Fit]]:
    """``{model id: fits}``, each part once, with what was learnt under merged names.

    The fit of the model itself stands before one of a name merged into it. Two queries.
    """
    families = model_families(models)
    wanted = {pk for family in families.values() for pk in family}
    found = {}
    fits = Fit.objects.standing().filter(model__in=wanted).with_names()
    for fit in fits.order_by("part__number", "pk"):
        found.setdefault(fit.model_id, []).append(fit)
    return {
        pk: _each_part_once([fit for member in (pk, *family) for fit in found.get(member, [])])
        for pk, family in families.items()
    }


def _each_part_once(fits: Sequence[Fit]) -> list[Fit]:
    by_part = {}
    for fit in fits:
        by_part.setdefault(fit.part_id, fit)
    return sorted(by_part.values(), key=lambda fit: fit.part.number)


def fitting_parts(model: MachineModel, components: Iterable[str]) -> dict[str, list[Fit]]:
    """``{component slug: fits}`` for each component asked for, by rising part number."""
    fitting = {component: [] for component in components}
    for fit in fits_of([model])[model.pk]:
        if fit.part.component_id in fitting:
            fitting[fit.part.component_id].append(fit)
    return fitting


def part_rows() -> QuerySet[Part]:
    """Parts with their names and ``model_count``, for the list."""
    parts = Part.objects.select_related("component", "maker")
    fits = Fit.objects.standing().filter(part=OuterRef("pk")).order_by().values("part")
    count = Subquery(fits.annotate(count=Count("pk")).values("count"))
    return parts.annotate(model_count=Coalesce(count, 0)).order_by("number", "pk")


def part_page() -> QuerySet[Part]:
    """Parts with what they fit as ``known_fits``, what was withdrawn last."""
    fits = Fit.objects.select_related("model__maker", "recorded_by", "withdrawn_by")
    fits = fits.order_by(
        F("withdrawn_at").asc(nulls_first=True), "model__maker__name", "model__number"
    )
    return Part.objects.select_related("component", "maker").prefetch_related(
        Prefetch("fits", fits, "known_fits")
    )
