from django.db import migrations, models

from units.rows.guards import Lift, only_grows

WRITTEN_ONCE = only_grows("buying_pricelist")


class Migration(migrations.Migration):
    dependencies = [("buying", "0005_delete_supplierprice")]

    operations = [
        *map(Lift, WRITTEN_ONCE),
        migrations.RemoveConstraint("pricelist", "price_list_once"),
        migrations.AddConstraint(
            "pricelist",
            models.UniqueConstraint(
                fields=["supplier", "digest", "given_on"], name="price_list_once_a_day"
            ),
        ),
        *WRITTEN_ONCE,
    ]
