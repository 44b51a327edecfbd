"""Parts that fit, by component."""

from collections import defaultdict
from collections.abc import Iterable

from parts.fits.models import Fit
from parts.fits.selectors import fits_of
from units.catalogue.models import MachineModel


def fittings(models: Iterable[MachineModel]) -> dict[int, dict[str, list[Fit]]]:
    """``{model id: {component slug: fits}}``. Two queries."""
    found = {}
    for pk, fits in fits_of(models).items():
        found[pk] = defaultdict(list)
        for fit in fits:
            found[pk][fit.part.component_id].append(fit)
    return found
