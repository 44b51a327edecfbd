"""What the background worker is asked to do."""

from django.utils import timezone
from django_tasks import task

from units.files.services import content_of
from units.plates.models import PlateReading
from units.plates.selectors import knowledge
from units.plates.services.reading_child import NotReadError, PutOffError, reader_child
from units.plates.services.readings import begin_reading, keep_read, keep_unread, put_off


@task
def read_plate(reading_id: str) -> None:
    """Read one photo. No transaction is open while the reader is at work."""
    reading = begin_reading(pk=reading_id, at=timezone.now())
    if reading is None:
        return
    try:
        _read(reading)
    except PutOffError:
        put_off(reading=reading)
    except NotReadError as error:
        keep_unread(reading=reading, trouble=error.trouble, at=timezone.now())
    except Exception:
        keep_unread(reading=reading, trouble=PlateReading.Trouble.DIED, at=timezone.now())
        raise


def _read(reading: PlateReading) -> None:
    proposal, plate = reader_child().read(content_of(file=reading.photo), knowledge())
    keep_read(reading=reading, proposal=proposal, plate=plate, at=timezone.now())
