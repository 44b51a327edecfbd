from django.db import models
from django.db.models import ExpressionWrapper, F, OuterRef, Subquery, Sum
from django.db.models.functions import Coalesce

from units.rows.fields import QuantityField


def quantity_of(steps) -> ExpressionWrapper:
    """A sum or difference of quantities as a quantity: the database counts in whole steps."""
    return ExpressionWrapper(steps, output_field=QuantityField())


class OrderLineQuerySet(models.QuerySet):
    def so_far(self):
        """With ``received``, ``sent_back``, ``cancelled`` and what is ``to_come``."""
        return self.annotate(
            received=self._sum("receipt_lines__move__quantity"),
            # What left the shelf stands in the ledger below nought.
            sent_back=quantity_of(0 - self._sum("receipt_lines__returns__move__quantity")),
            cancelled=self._sum("cancellations__quantity"),
        ).annotate(
            to_come=quantity_of(F("quantity") - F("received") + F("sent_back") - F("cancelled"))
        )

    def open(self):
        """Lines of which something is still to come."""
        return self.so_far().filter(to_come__gt=0)

    def _sum(self, figure: str):
        """The sum of a figure over what hangs on a line, each asked for by itself."""
        lines = self.model._base_manager.filter(pk=OuterRef("pk")).order_by().values("pk")
        sums = Subquery(lines.annotate(sum=Sum(figure)).values("sum"))
        return Coalesce(sums, 0, output_field=QuantityField())
