from django.db import migrations


from units.rows.guards import only_grows


class Migration(migrations.Migration):
    dependencies = [("answers", "0001_initial")]

    operations = [
        *only_grows("answers_answer"),
        *only_grows("answers_withdrawal"),

    ]
