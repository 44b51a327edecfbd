from django.db import migrations

from units.rows.guards import Guard, only_grows


class Migration(migrations.Migration):
    dependencies = [("lots", "0006_shares")]

    operations = [
        Guard(
            "lots_valuation",
            "UPDATE",
            "a valuation that has ended is kept as it is",
            "OLD.state <> 'waiting'",
        ),
        Guard("lots_valuation", "DELETE", "a valuation is kept for ever"),
        *only_grows("lots_lotshare"),
    ]
