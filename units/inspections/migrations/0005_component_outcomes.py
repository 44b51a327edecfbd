import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models

from units.rows.guards import Guard, Lift, only_grows

OF_A_FINISHED_ONE = (
    "EXISTS (SELECT 1 FROM inspections_inspection"
    " WHERE id = OLD.inspection_id AND finished_at IS NOT NULL)"
)
OF_ANOTHER_MACHINE = (
    "EXISTS (SELECT 1 FROM inspections_inspection"
    " WHERE id = NEW.inspection_id AND unit_id <> NEW.unit_id)"
)
FINISHED = "a finished inspection does not change: inspect again"
# SQLite rebuilds the inspections' table for a new column: guards that stand on it, or read it,
# are lifted meanwhile.
GUARDS = [
    Guard("inspections_inspection", "UPDATE", FINISHED, when="OLD.finished_at IS NOT NULL"),
    Guard("inspections_inspection", "DELETE", FINISHED, when="OLD.finished_at IS NOT NULL"),
    Guard("inspections_stepresult", "UPDATE", FINISHED, when=OF_A_FINISHED_ONE),
    Guard("inspections_stepresult", "DELETE", FINISHED, when=OF_A_FINISHED_ONE),
    Guard(
        "inspections_measurereading",
        "INSERT",
        "a reading belongs to the machine of its inspection",
        when=OF_ANOTHER_MACHINE,
    ),
]


class Migration(migrations.Migration):

    dependencies = [
        ('catalogue', '0001_initial'),
        ('inspections', '0004_measure_readings'),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        *[Lift(guard) for guard in GUARDS],
        migrations.AddField(
            model_name='inspection',
            name='population',
            field=models.CharField(blank=True, choices=[('private', 'offered from a private house'), ('repair', 'brought for repair'), ('club', 'from a club')], max_length=8, verbose_name='where the machine came from'),
        ),
        *GUARDS,
        migrations.CreateModel(
            name='ComponentOutcome',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('fate', models.CharField(choices=[('sound', 'sound'), ('serviced', 'put right without a part'), ('undecided', 'not sound, undecided'), ('worn', 'needs replacing'), ('replaced', 'replaced')], max_length=10, verbose_name='what became of it')),
                ('known', models.CharField(choices=[('finding', 'found in an inspection'), ('work', 'done on a job'), ('donor', 'found when a donor was taken apart')], max_length=8, verbose_name='how it is known')),
                ('population', models.CharField(choices=[('private', 'offered from a private house'), ('repair', 'brought for repair'), ('club', 'from a club')], max_length=8, verbose_name='where it came from')),
                ('state', models.CharField(choices=[('run', 'could be run'), ('powered', 'had power only'), ('apart', 'taken apart'), ('unknown', 'not known')], max_length=8, verbose_name='how far it could be tried')),
                ('hours', models.PositiveIntegerField(null=True, verbose_name='hours on it')),
                ('document', models.CharField(db_index=True, max_length=40, verbose_name='document')),
                ('source', models.CharField(max_length=60, verbose_name='by')),
                ('looked_on', models.DateField(db_index=True, verbose_name='looked at on')),
                ('recorded_at', models.DateTimeField(db_index=True, verbose_name='recorded at')),
                ('component', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='outcomes', to='catalogue.component', verbose_name='component')),
                ('recorded_by', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='+', to=settings.AUTH_USER_MODEL, verbose_name='recorded by')),
                ('unit', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='outcomes', to='catalogue.unit', verbose_name='machine')),
            ],
            options={
                'verbose_name': 'outcome of a component',
                'verbose_name_plural': 'outcomes of components',
                'ordering': ['looked_on', 'id'],
                'constraints': [models.UniqueConstraint(fields=('unit', 'component', 'source'), name='outcome_once_a_source'), models.CheckConstraint(condition=models.Q(models.Q(('document', ''), _negated=True), models.Q(('source', ''), _negated=True)), name='outcome_names_its_source'), models.CheckConstraint(condition=models.Q(('fate__in', ['sound', 'serviced', 'undecided', 'worn', 'replaced']), ('known__in', ['finding', 'work', 'donor']), ('population__in', ['private', 'repair', 'club']), ('state__in', ['run', 'powered', 'apart', 'unknown'])), name='outcome_in_known_words')],
            },
        ),
        *only_grows("inspections_componentoutcome"),
    ]
