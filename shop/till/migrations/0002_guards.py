from django.db import migrations

from parts.days.guards import after_closed_day
from units.rows.guards import only_grows


class Migration(migrations.Migration):
    dependencies = [("till", "0001_initial"), ("days", "0002_calendar")]

    operations = [
        *only_grows("till_invoice"),
        *only_grows("till_invoiceline"),
        *only_grows("till_invoicetax"),
        *only_grows("till_payment"),
        after_closed_day("till_invoice", "issued_on"),
        after_closed_day("till_payment", "paid_on"),
    ]
