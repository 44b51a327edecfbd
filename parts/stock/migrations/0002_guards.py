from django.db import migrations

from parts.days.guards import after_closed_day
from units.rows.guards import only_grows


class Migration(migrations.Migration):
    dependencies = [("stock", "0001_initial"), ("days", "0002_calendar")]

    operations = [
        *only_grows("stock_stockmove"),
        *only_grows("stock_layeruse"),
        after_closed_day("stock_stockmove", "moved_on"),
    ]
