from django.db import models


class MakerQuerySet(models.QuerySet):
    def suggested_by(self, key: str):
        return self.filter(key__contains=key)


class MachineModelQuerySet(models.QuerySet):
    def current(self):
        """Models that were not merged into another."""
        return self.filter(merged_into=None)

    def unconfirmed(self):
        return self.current().filter(confirmed=False)

    def suggested_by(self, key: str):
        return self.current().filter(key__contains=key)


class UnitQuerySet(models.QuerySet):
    def with_identity(self):
        return self.select_related("model__maker", "model__kind", "maker")

    def of_serial(self, maker, serial_key: str):
        return self.filter(maker=maker, serial_key=serial_key).exclude(serial_key="")
