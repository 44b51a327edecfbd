from django.db import migrations

BATCH = 1000


def to_answers(apps, schema_editor):
    """Each price becomes what the supplier answered in its list."""
    price_of, answer_of = apps.get_model("buying", "SupplierPrice"), apps.get_model("answers", "Answer")
    prices = price_of.objects.select_related("supplier").order_by("given_on", "pk")
    answers = (
        answer_of(
            part_id=price.part_id,
            route="supplier",
            party=price.supplier.name,
            status="supported",
            cost=price.cost,
            lead_days=price.lead_days,
            given_on=price.given_on,
            given_by=price.supplier.name,
            channel="listing",
            recorded_at=price.recorded_at,
            recorded_by_id=price.recorded_by_id,
        )
        for price in prices.iterator(chunk_size=BATCH)
    )
    answer_of.objects.bulk_create(answers, batch_size=BATCH)


class Migration(migrations.Migration):
    dependencies = [
        ("buying", "0003_orders_returns_exchanges_and_lists"),
        ("answers", "0004_what_else_can_answer"),
    ]

    operations = [migrations.RunPython(to_answers, migrations.RunPython.noop)]
