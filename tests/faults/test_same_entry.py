"""Two tabs of a phone send the same outbox at once: every entry is written once."""

from tests.ground import finished

PREPARE = """
from datetime import UTC, datetime
from django.contrib.auth import get_user_model
from units.catalogue.models import Kind
from units.catalogue.services import find_or_add_maker, find_or_add_model, find_or_add_unit
from units.inspections.services import open_inspection
robin = get_user_model().objects.create_user("robin")
maker = find_or_add_maker(name="Kestrow")
model = find_or_add_model(maker=maker, number="R-40", kind=Kind.objects.get(slug="rower"))
at = datetime(2026, 10, 5, 9, 0, tzinfo=UTC)
unit, _ = find_or_add_unit(model=model, serial="KR26-00031", by=robin, at=at)
open_inspection(unit=unit, occasion="arrival", document="J00001", by=robin, at=at)
"""
SEND = """
import django; django.setup()
from datetime import UTC, datetime
from uuid import UUID
from django.contrib.auth import get_user_model
from units.inspections.models import Inspection
from units.inspections.services import Entry, take_answer, take_finish
by, at = get_user_model().objects.get(), datetime(2026, 10, 5, 10, 0, tzinfo=UTC)
inspection = Inspection.objects.get()
new = 0
for step in inspection.protocol.steps.all():
    entry = Entry(UUID(int=step.position), by.pk, inspection, at)
    sound = step.conditions[0]["condition"]
    new += take_answer(entry=entry, step=step, condition=sound, by=by, at=at)
new += take_finish(entry=Entry(UUID(int=999), by.pk, inspection, at), by=by, at=at)
print(new)
"""
COUNT = """
from units.inspections.models import Finding, Inspection, OutboxEntry, StepResult
steps = Inspection.objects.get().protocol.steps.count()
print(*[model.objects.count() - steps for model in (StepResult, Finding, OutboxEntry)], steps)
"""


def test_every_entry_of_an_outbox_that_is_sent_twice_at_once_is_written_once(real_database):
    real_database.python(PREPARE)
    first, second = (finished(one) for one in [real_database.start("-c", SEND) for _ in range(2)])
    *more, steps = map(int, real_database.python(COUNT).split())
    assert more == [0, 0, 1]
    assert int(first) + int(second) == steps + 1
