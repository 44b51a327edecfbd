from django.db import models
from django.db.models import Aggregate


class Gathered(Aggregate):
    """The values of many rows as one JSON list, so that a sub-query may hand them all up."""

    function = "JSON_GROUP_ARRAY"
    output_field = models.JSONField()

    def as_postgresql(self, compiler, connection, **context):
        return self.as_sql(compiler, connection, function="JSONB_AGG", **context)
