import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models

from units.rows.guards import only_grows

TABLES = ["modelfile", "benchnote", "notepin", "errorcode", "suspectedcomponent", "takenout"]


class Migration(migrations.Migration):

    initial = True

    dependencies = [
        ('catalogue', '0001_initial'),
        ('files', '0001_initial'),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name='BenchNote',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('key', models.UUIDField(unique=True, verbose_name='once-only key')),
                ('sort', models.CharField(choices=[('bench', 'a note of the bench'), ('service-mode', 'how service mode is entered')], max_length=12, verbose_name='it says')),
                ('text', models.TextField(verbose_name='note')),
                ('written_at', models.DateTimeField(verbose_name='written at')),
                ('model', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='notes', to='catalogue.machinemodel', verbose_name='model')),
                ('written_by', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='+', to=settings.AUTH_USER_MODEL, verbose_name='written by')),
            ],
            options={
                'verbose_name': 'note of the bench',
                'verbose_name_plural': 'notes of the bench',
                'ordering': ['-written_at', '-id'],
            },
        ),
        migrations.CreateModel(
            name='ErrorCode',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('code', models.CharField(max_length=20, verbose_name='code')),
                ('code_key', models.CharField(max_length=20, verbose_name='code for matching')),
                ('meaning', models.CharField(max_length=300, verbose_name='what it means')),
                ('source', models.CharField(max_length=120, verbose_name='who says so')),
                ('recorded_at', models.DateTimeField(verbose_name='written down at')),
                ('model', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='error_codes', to='catalogue.machinemodel', verbose_name='model')),
                ('recorded_by', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='+', to=settings.AUTH_USER_MODEL, verbose_name='written down by')),
            ],
            options={
                'verbose_name': 'error code',
                'verbose_name_plural': 'error codes',
                'ordering': ['code_key', 'id'],
            },
        ),
        migrations.CreateModel(
            name='ModelFile',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('shows', models.CharField(choices=[('manual', 'manual'), ('diagram', 'parts diagram'), ('wiring', 'wiring'), ('other', 'other paper')], max_length=8, verbose_name='it is')),
                ('title', models.CharField(max_length=120, verbose_name='what it is')),
                ('added_at', models.DateTimeField(verbose_name='added at')),
                ('added_by', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='+', to=settings.AUTH_USER_MODEL, verbose_name='added by')),
                ('file', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='+', to='files.storedfile', verbose_name='file')),
                ('model', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='files', to='catalogue.machinemodel', verbose_name='model')),
            ],
            options={
                'verbose_name': 'paper of a model',
                'verbose_name_plural': 'papers of models',
                'ordering': ['shows', 'title', 'id'],
            },
        ),
        migrations.CreateModel(
            name='NotePin',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('pinned', models.BooleanField(verbose_name='pinned')),
                ('changed_at', models.DateTimeField(verbose_name='changed at')),
                ('changed_by', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='+', to=settings.AUTH_USER_MODEL, verbose_name='changed by')),
                ('note', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='pins', to='binder.benchnote', verbose_name='note')),
            ],
            options={
                'verbose_name': 'pin of a note',
                'verbose_name_plural': 'pins of notes',
                'ordering': ['changed_at', 'id'],
            },
        ),
        migrations.CreateModel(
            name='SuspectedComponent',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('component', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='+', to='catalogue.component', verbose_name='component')),
                ('error_code', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='suspects', to='binder.errorcode', verbose_name='error code')),
            ],
            options={
                'verbose_name': 'component suspected',
                'verbose_name_plural': 'components suspected',
                'ordering': ['component__name'],
            },
        ),
        migrations.AddField(
            model_name='errorcode',
            name='components',
            field=models.ManyToManyField(related_name='error_codes', through='binder.SuspectedComponent', to='catalogue.component', verbose_name='components suspected'),
        ),
        migrations.CreateModel(
            name='TakenOut',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('reason', models.CharField(max_length=200, verbose_name='why')),
                ('taken_out_at', models.DateTimeField(verbose_name='taken out at')),
                ('error_code', models.OneToOneField(null=True, on_delete=django.db.models.deletion.PROTECT, related_name='taken_out', to='binder.errorcode', verbose_name='code')),
                ('file', models.OneToOneField(null=True, on_delete=django.db.models.deletion.PROTECT, related_name='taken_out', to='binder.modelfile', verbose_name='paper')),
                ('note', models.OneToOneField(null=True, on_delete=django.db.models.deletion.PROTECT, related_name='taken_out', to='binder.benchnote', verbose_name='note')),
                ('taken_out_by', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='+', to=settings.AUTH_USER_MODEL, verbose_name='taken out by')),
            ],
            options={
                'verbose_name': 'entry taken out',
                'verbose_name_plural': 'entries taken out',
                'ordering': ['-taken_out_at', '-id'],
            },
        ),
        migrations.AddConstraint(
            model_name='benchnote',
            constraint=models.CheckConstraint(condition=models.Q(('text', ''), _negated=True), name='note_says_something'),
        ),
        migrations.AddConstraint(
            model_name='modelfile',
            constraint=models.UniqueConstraint(fields=('model', 'file'), name='file_once_a_model'),
        ),
        migrations.AddConstraint(
            model_name='modelfile',
            constraint=models.CheckConstraint(condition=models.Q(('title', ''), _negated=True), name='file_says_what_it_is'),
        ),
        migrations.AddConstraint(
            model_name='suspectedcomponent',
            constraint=models.UniqueConstraint(fields=('error_code', 'component'), name='component_once_a_code'),
        ),
        migrations.AddConstraint(
            model_name='errorcode',
            constraint=models.CheckConstraint(condition=models.Q(models.Q(('code_key', ''), _negated=True), models.Q(('meaning', ''), _negated=True), models.Q(('source', ''), _negated=True)), name='error_code_is_whole'),
        ),
        migrations.AddConstraint(
            model_name='takenout',
            constraint=models.CheckConstraint(condition=models.Q(models.Q(('error_code', None), ('file__isnull', False), ('note', None)), models.Q(('error_code', None), ('file', None), ('note__isnull', False)), models.Q(('error_code__isnull', False), ('file', None), ('note', None)), _connector='OR'), name='one_entry_is_taken_out'),
        ),
        migrations.AddConstraint(
            model_name='takenout',
            constraint=models.CheckConstraint(condition=models.Q(('reason', ''), _negated=True), name='taken_out_with_a_reason'),
        ),
        *[guard for table in TABLES for guard in only_grows(f"binder_{table}")],
    ]
