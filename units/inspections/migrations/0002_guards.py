from django.db import migrations

from units.rows.guards import Guard, only_grows

OF_A_FINISHED_ONE = (
    "EXISTS (SELECT 1 FROM inspections_inspection"
    " WHERE id = OLD.inspection_id AND finished_at IS NOT NULL)"
)
LOADED = "a loaded protocol does not change: add a version"
FINISHED = "a finished inspection does not change: inspect again"


class Migration(migrations.Migration):
    dependencies = [("inspections", "0001_initial")]

    operations = [
        Guard("inspections_protocolstep", "UPDATE", LOADED),
        Guard("inspections_protocolstep", "DELETE", LOADED),
        Guard("inspections_protocol", "UPDATE", LOADED),
        Guard("inspections_inspection", "UPDATE", FINISHED, when="OLD.finished_at IS NOT NULL"),
        Guard("inspections_inspection", "DELETE", FINISHED, when="OLD.finished_at IS NOT NULL"),
        Guard("inspections_stepresult", "UPDATE", FINISHED, when=OF_A_FINISHED_ONE),
        Guard("inspections_stepresult", "DELETE", FINISHED, when=OF_A_FINISHED_ONE),
        *only_grows("inspections_finding"),
        *only_grows("inspections_clearance"),
    ]
