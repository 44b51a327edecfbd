import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models

from units.rows.guards import Guard, Lift

OF_A_FINISHED_ONE = (
    "EXISTS (SELECT 1 FROM inspections_inspection"
    " WHERE id = OLD.inspection_id AND finished_at IS NOT NULL)"
)
FINISHED = "a finished inspection does not change: inspect again"
# SQLite rebuilds the results' table for the constraint.
GUARDS = [
    Guard("inspections_stepresult", "UPDATE", FINISHED, when=OF_A_FINISHED_ONE),
    Guard("inspections_stepresult", "DELETE", FINISHED, when=OF_A_FINISHED_ONE),
]


class Migration(migrations.Migration):

    dependencies = [
        ('binder', '0001_initial'),
        ('files', '0001_initial'),
        ('inspections', '0007_outbox'),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        *[Lift(guard) for guard in GUARDS],
        migrations.AddField(
            model_name='stepresult',
            name='error_code',
            field=models.ForeignKey(null=True, on_delete=django.db.models.deletion.PROTECT, related_name='+', to='binder.errorcode', verbose_name='error code'),
        ),
        migrations.AddConstraint(
            model_name='stepresult',
            constraint=models.CheckConstraint(condition=models.Q(('error_code', None), ('condition', 'code-shown'), _connector='OR'), name='error_code_where_one_is_shown'),
        ),
        *GUARDS,
    ]
