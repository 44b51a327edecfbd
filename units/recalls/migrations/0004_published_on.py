from django.db import migrations, models

from units.rows.guards import Lift, only_grows

LOADS = only_grows("recalls_recallload")


class Migration(migrations.Migration):

    dependencies = [
        ('recalls', '0003_notices_and_decisions'),
    ]

    operations = [
        migrations.AddField(
            model_name='recall',
            name='published_on',
            field=models.DateField(help_text='The day of the newest wording that we have.', null=True, verbose_name='published on'),
        ),
        *map(Lift, LOADS),
        migrations.AddField(
            model_name='recallload',
            name='older',
            field=models.PositiveIntegerField(default=0, verbose_name='older, left out'),
        ),
        *LOADS,
    ]
