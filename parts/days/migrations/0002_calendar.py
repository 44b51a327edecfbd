from django.db import migrations


def add_calendar(apps, schema_editor):
    apps.get_model("days", "Calendar").objects.get_or_create(id=1)


class Migration(migrations.Migration):
    dependencies = [("days", "0001_initial")]

    operations = [migrations.RunPython(add_calendar, migrations.RunPython.noop)]
