"""What the background worker is asked to do."""

from datetime import datetime
from functools import partial

from django.core.files.base import ContentFile
from django.utils import timezone
from django.utils.translation import gettext as _
from django_tasks import task

from shop.lots.models import LotSource
from shop.lots.selectors import chosen_of, read_upload
from shop.lots.services.errors import LotError
from shop.lots.services.sources import begin_reading, keep_read, keep_unread, tell_progress
from units.sheets.services import SheetRefusedError


@task
def read_source(source_id: str) -> None:
    """Read one list. No transaction is open while it is read."""
    source = begin_reading(pk=source_id, at=timezone.now())
    if source is not None:
        read_now(source, at=timezone.now())


def read_now(source: LotSource, *, at: datetime) -> None:
    """Read a list that was begun, and lay it out or say why not."""
    upload = ContentFile(bytes(source.content), name=source.name)
    told = partial(_tell, source)
    try:
        reading = read_upload(upload, chosen_of(source), told)
        keep_read(source=source, reading=reading, at=at)
    except (SheetRefusedError, LotError) as error:
        keep_unread(source=source, trouble=str(error), at=at)
    except Exception:
        trouble = _("The reader stopped over this list. Save it as .csv and send it again.")
        keep_unread(source=source, trouble=trouble, at=at)
        raise


def _tell(source: LotSource, done: int, rows: int) -> None:
    tell_progress(source=source, done=done, rows=rows)


def queue_reading(source: LotSource) -> None:
    """Have a list read; to be called in the transaction that made it wait."""
    if source.state == LotSource.State.WAITING:
        read_source.enqueue(str(source.pk))
