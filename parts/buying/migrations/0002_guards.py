from django.db import migrations

from parts.days.guards import after_closed_day
from units.rows.guards import only_grows


class Migration(migrations.Migration):
    dependencies = [("buying", "0001_initial"), ("days", "0002_calendar")]

    operations = [
        *only_grows("buying_receipt"),
        *only_grows("buying_receiptline"),
        *only_grows("buying_supplierprice"),
        after_closed_day("buying_receipt", "received_on"),
    ]
