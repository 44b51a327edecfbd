from django.db.models import QuerySet

from parts.stock.models import CostingChoice


def costing() -> str:
    """The method by which parts are costed now."""
    newest = CostingChoice.objects.last()
    return newest.method if newest else CostingChoice.Method.FIFO


def costing_choices() -> QuerySet[CostingChoice]:
    """Every choice that was made, the newest first."""
    return CostingChoice.objects.select_related("recorded_by").order_by("-id")
