from django.db import migrations, models

from units.rows.guards import Guard, Lift

LOADED = "a loaded protocol does not change: add a version"
# SQLite rebuilds both tables for their new columns; minutes of loaded steps become seconds.
GUARDS = [
    Guard("inspections_protocolstep", "UPDATE", LOADED),
    Guard("inspections_protocolstep", "DELETE", LOADED),
    Guard("inspections_protocol", "UPDATE", LOADED),
]


class Migration(migrations.Migration):
    dependencies = [("inspections", "0005_component_outcomes")]

    operations = [
        *[Lift(guard) for guard in GUARDS],
        migrations.RenameField("protocolstep", "minutes", "seconds"),
        migrations.RunSQL(
            "UPDATE inspections_protocolstep SET seconds = seconds * 60",
            "UPDATE inspections_protocolstep SET seconds = (seconds + 59) / 60",
        ),
        migrations.AlterField(
            model_name="protocolstep",
            name="seconds",
            field=models.PositiveSmallIntegerField(default=60, verbose_name="seconds"),
        ),
        migrations.AddField(
            model_name="protocolstep",
            name="tools",
            field=models.JSONField(default=list, verbose_name="tools"),
        ),
        migrations.AddField(
            model_name="protocolstep",
            name="photo",
            field=models.CharField(blank=True, max_length=120, verbose_name="what the photo shows"),
        ),
        migrations.AddField(
            model_name="protocolstep",
            name="always",
            field=models.BooleanField(default=False, verbose_name="always in a final test"),
        ),
        migrations.AddField(
            model_name="protocolstep",
            name="after",
            field=models.JSONField(default=list, verbose_name="in a final test after work on"),
        ),
        migrations.AddField(
            model_name="protocolstep",
            name="places",
            field=models.JSONField(default=list, verbose_name="in a final test at"),
        ),
        migrations.AlterField(
            model_name="protocol",
            name="occasion",
            field=models.CharField(
                choices=[
                    ("purchase", "before buying"),
                    ("club", "at a club"),
                    ("arrival", "on arrival"),
                    ("repair", "before repair"),
                    ("final", "final test"),
                    ("after-move", "after a move"),
                ],
                max_length=12,
                verbose_name="occasion",
            ),
        ),
        migrations.AlterField(
            model_name="protocol",
            name="digest",
            field=models.CharField(max_length=64, verbose_name="SHA-256 of its content"),
        ),
        migrations.AddField(
            model_name="protocol",
            name="run_in",
            field=models.JSONField(blank=True, default=dict, verbose_name="run-in"),
        ),
        *GUARDS,
        migrations.AddField(
            model_name="inspection",
            name="asked",
            field=models.JSONField(blank=True, null=True, verbose_name="steps asked"),
        ),
        migrations.AddField(
            model_name="inspection",
            name="run_in",
            field=models.PositiveSmallIntegerField(
                blank=True, null=True, verbose_name="minutes of the run-in"
            ),
        ),
    ]
