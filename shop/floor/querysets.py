from django.db import models
from django.db.models import ExpressionWrapper, F, Sum, Value
from django.db.models.functions import Coalesce

from units.rows.fields import MoneyField, QuantityField


class StayQuerySet(models.QuerySet):
    def here(self):
        return self.filter(left_on=None)

    def ours(self):
        return self.filter(owner=None)


class GoodsQuerySet(models.QuerySet):
    def with_rest(self):
        """``left`` and ``cost_left``, what of each still stands here, in the same query."""
        gone = Coalesce(Sum("outs__quantity"), Value(0, QuantityField()))
        spent = Coalesce(Sum("outs__cost"), Value(0, MoneyField()))
        rows = self.annotate(gone=gone, spent=spent)
        return rows.annotate(
            left=ExpressionWrapper(F("quantity") - F("gone"), output_field=QuantityField()),
            cost_left=ExpressionWrapper(F("cost") - F("spent"), output_field=MoneyField()),
        )

    def here(self):
        return self.with_rest().filter(left__gt=0)
