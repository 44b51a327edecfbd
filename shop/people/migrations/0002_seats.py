from django.db import migrations

SEATS = ["front desk", "technician", "owner", "accountant"]


def add_seats(apps, schema_editor):
    group = apps.get_model("auth", "Group")
    for name in SEATS:
        group.objects.get_or_create(name=name)


class Migration(migrations.Migration):
    dependencies = [("people", "0001_initial"), ("auth", "0012_alter_user_first_name_max_length")]

    operations = [migrations.RunPython(add_seats, migrations.RunPython.noop)]
