from django.db import transaction

from units.rows.models import NumberSeries


@transaction.atomic
def next_number(series: str) -> int:
    """The next number of a series, without gaps: it is given back if the transaction fails."""
    NumberSeries.objects.get_or_create(name=series)
    row = NumberSeries.objects.select_for_update().get(name=series)
    row.last += 1
    row.save(update_fields=["last"])
    return row.last
