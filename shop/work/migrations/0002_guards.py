from django.db import migrations


from units.rows.guards import only_grows


class Migration(migrations.Migration):
    dependencies = [("work", "0001_initial")]

    operations = [
        *only_grows("work_step"),
        *only_grows("work_approval"),

    ]
