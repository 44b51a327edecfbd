from django.db import migrations

from units.rows.guards import Guard, only_grows


def carry_serials(apps, schema_editor):
    """Lines had one serial number; now they have a list of them."""
    for line in apps.get_model("lots", "LotLine").objects.exclude(serial=""):
        line.serials = [line.serial]
        line.save(update_fields=["serials"])


class Migration(migrations.Migration):
    dependencies = [("lots", "0003_the_way_of_a_lot")]

    operations = [
        migrations.RunPython(carry_serials, migrations.RunPython.noop),
        migrations.RemoveField("LotLine", "serial"),
        *only_grows("lots_lotstep"),
        *only_grows("lots_lotmatter"),
        Guard(
            "lots_lotline",
            "UPDATE",
            "a price hangs on this list: its lines are fixed",
            "(SELECT state FROM lots_lot WHERE lots_lot.id = OLD.lot_id)"
            " NOT IN ('listing', 'listed')",
        ),
        Guard(
            "lots_lotsource",
            "UPDATE",
            "a list is kept as it came",
            "OLD.digest <> NEW.digest OR OLD.content <> NEW.content",
        ),
    ]
