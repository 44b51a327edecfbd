from django.db import migrations

from parts.days.guards import after_closed_day
from units.rows.guards import only_grows


class Migration(migrations.Migration):
    dependencies = [("floor", "0001_initial"), ("days", "0002_calendar")]

    operations = [
        *only_grows("floor_machinecost"),
        after_closed_day("floor_machinecost", "spent_on"),
    ]
