from django.db import migrations

from parts.days.guards import after_closed_day
from units.rows.guards import only_grows


class Migration(migrations.Migration):
    dependencies = [("resale", "0001_initial"), ("days", "0002_calendar")]

    operations = [
        *only_grows("resale_grading"),
        *only_grows("resale_askingprice"),
        *only_grows("resale_sale"),
        after_closed_day("resale_sale", "sold_on"),
    ]
