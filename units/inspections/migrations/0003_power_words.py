from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("inspections", "0002_guards")]

    operations = [
        migrations.AlterField(
            model_name="protocolstep",
            name="power",
            field=models.CharField(
                choices=[
                    ("off", "unplugged"),
                    ("on", "powered, standing still"),
                    ("running", "running"),
                    ("any", "any"),
                ],
                default="any",
                max_length=8,
                verbose_name="power",
            ),
        ),
    ]
