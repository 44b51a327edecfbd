from django.db import migrations


from units.rows.guards import only_grows


class Migration(migrations.Migration):
    dependencies = [("plates", "0001_initial")]

    operations = [
        *only_grows("plates_platerecord"),

    ]
