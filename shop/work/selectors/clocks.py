from shop.work.models import Clock


def running_clock(person) -> Clock | None:
    """The clock that a technician has running, with its job. One query."""
    running = Clock.objects.filter(technician=person.pk, stopped_at=None)
    return running.select_related("job__unit__model__maker").first()
