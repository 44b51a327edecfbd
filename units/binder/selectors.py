"""What stands in the binder of a model."""

from collections.abc import Collection
from dataclasses import dataclass

from units.binder.models import BenchNote, ErrorCode, ModelFile


@dataclass(frozen=True)
class Binder:
    """``service_modes`` newest first: the first one counts. ``notes`` the pinned ones first."""

    files: list[ModelFile]
    service_modes: list[BenchNote]
    notes: list[BenchNote]
    codes: list[ErrorCode]

    @property
    def service_mode(self) -> BenchNote | None:
        return next(iter(self.service_modes), None)


def binder_of(models: Collection[int]) -> Binder:
    """What was written under a model's names (their ids). Four queries."""
    files = ModelFile.objects.standing().filter(model__in=models)
    notes = BenchNote.objects.standing().filter(model__in=models).with_pin()
    notes = list(notes.select_related("written_by").order_by("-pinned", "-written_at", "-pk"))
    by_time = sorted(notes, key=lambda note: (note.written_at, note.pk), reverse=True)
    return Binder(
        files=list(files.select_related("file", "added_by")),
        service_modes=[one for one in by_time if one.sort == BenchNote.Sort.SERVICE_MODE],
        notes=[one for one in notes if one.sort == BenchNote.Sort.BENCH],
        codes=error_codes(models),
    )


def error_codes(models: Collection[int]) -> list[ErrorCode]:
    """The codes of a model's names with what they make suspect, in order. Two queries."""
    codes = ErrorCode.objects.standing().filter(model__in=models)
    return list(codes.select_related("recorded_by").prefetch_related("components"))
