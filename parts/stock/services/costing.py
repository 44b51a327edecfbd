from django.db import transaction
from django.utils.translation import gettext as _

from parts.days.models import Calendar
from parts.stock.models import CostingChoice, Shelf
from parts.stock.services.shelves import StockError


@transaction.atomic
def choose_costing(*, method: str, reason: str, by, at) -> CostingChoice:
    """Cost parts by ``method`` from now on; refused while anything lies on the shelf.

    A change of method with parts on hand would have to value them anew. Every move holds the
    calendar's row, so nothing comes onto the shelf while this looks.
    """
    Calendar.objects.select_for_update().get(id=1)
    reason = " ".join(reason.split())
    if not reason:
        raise StockError(_("Say why this method is chosen, for instance who advised it."), "reason")
    newest = CostingChoice.objects.last()
    if (newest.method if newest else CostingChoice.Method.FIFO) == method:
        raise StockError(
            _("Parts are costed that way already: %(method)s.")
            % {"method": CostingChoice.Method(method).label},
            "method",
        )
    lying = Shelf.objects.filter(on_hand__gt=0).select_related("part").first()
    if lying:
        raise StockError(
            _(
                "The method can be changed only while nothing lies on the shelf, and %(part)s "
                "does. Use up, sell or scrap what is there first."
            )
            % {"part": lying.part},
            "method",
        )
    return CostingChoice.objects.create(
        method=method, reason=reason, recorded_at=at, recorded_by=by
    )
