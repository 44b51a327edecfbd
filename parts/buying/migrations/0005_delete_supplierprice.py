from django.db import migrations

from units.rows.guards import Lift, only_grows


class Migration(migrations.Migration):
    dependencies = [("buying", "0004_prices_are_answers")]

    operations = [
        *map(Lift, only_grows("buying_supplierprice")),
        migrations.DeleteModel("SupplierPrice"),
    ]
