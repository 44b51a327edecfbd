import json
from pathlib import Path

from django.core.files.base import ContentFile
from django.core.management.base import BaseCommand, CommandError
from django.db import DatabaseError, connection
from django.utils.translation import gettext as _

from units.files.services import FileRefusedError, redrawn
from units.plates.domain.knowledge import Knowledge
from units.plates.domain.proposal import FieldName, Proposal
from units.plates.selectors import knowledge
from units.plates.services.reading_child import NotReadError, reader_child
from units.plates.services.readings import LONGEST_SIDE

FACTS = (FieldName.MADE, FieldName.VOLTS, FieldName.HERTZ, FieldName.AMPS)


class Command(BaseCommand):
    help = "Reads the serial plate on photos. It needs no database, but reads better with one."
    requires_system_checks = []

    def add_arguments(self, parser):
        parser.add_argument("photos", nargs="+", metavar="PHOTO", type=Path)
        parser.add_argument(
            "--json", action="store_true", dest="as_json", help="print a list of objects"
        )

    def handle(self, *, photos, as_json, **options):
        known = _known()
        rows = []
        try:
            for photo in photos:
                rows.append(_row(photo, known))
                if not as_json:
                    self.stdout.write(_line(rows[-1]))
        finally:
            reader_child().close()
        if as_json:
            self.stdout.write(json.dumps(rows, indent=1, ensure_ascii=False))
        if failed := sum("error" in row for row in rows):
            raise CommandError(
                _("%(failed)d of %(all)d photos were not read.")
                % {"failed": failed, "all": len(rows)}
            )


def _known() -> Knowledge:
    """What the shop knows; nothing where there is no database yet, or an older one."""
    place = connection.settings_dict["NAME"]
    if connection.vendor == "sqlite" and not (connection.is_in_memory_db() or Path(place).exists()):
        return Knowledge()
    try:
        return knowledge()
    except DatabaseError:
        return Knowledge()


def _row(photo: Path, known: Knowledge) -> dict:
    try:
        upload = ContentFile(photo.read_bytes(), name=photo.name)
        proposal, _plate = reader_child().read(redrawn(upload=upload, longest=LONGEST_SIDE), known)
    except OSError as error:
        why = error.strerror or str(error)
        sentence = _("“%(name)s” cannot be opened: %(why)s.") % {"name": photo.name, "why": why}
        return _unread(photo, sentence)
    except (FileRefusedError, NotReadError) as error:
        return _unread(photo, str(error))
    return {"file": str(photo)} | _facts(proposal)


def _unread(photo: Path, sentence: str) -> dict:
    """A row of the same form for a photo that gave nothing: a person types it."""
    return {"file": str(photo)} | _facts(Proposal({})) | {"error": sentence}


def _facts(proposal: Proposal) -> dict:
    row = {"maker": proposal.text_of(FieldName.MAKER)}
    for name in (FieldName.MODEL, FieldName.SERIAL):
        field = proposal.fields.get(name)
        row[str(name)] = proposal.text_of(name)
        row[f"{name}_confidence"] = field.confidence if field else 0.0
    row |= {str(name): proposal.text_of(name) for name in FACTS}
    row["barcodes"] = [{"format": one.format, "text": one.text} for one in proposal.barcodes]
    return row | {"outcome": str(proposal.outcome), "seconds": proposal.seconds}


def _line(row: dict) -> str:
    if "error" in row:
        return f"{row['file']}: {row['error']}"
    shares = ", ".join(
        f"{name} {row[name] or '-'} ({row[f'{name}_confidence']:.1%})"
        for name in ("model", "serial")
    )
    return f"{row['file']}: {row['outcome']}: {row['maker'] or '-'}, {shares}, {row['seconds']} s"
