"""How much is made, for which day, by whom; and the invented names it is made of."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time, timedelta
from itertools import islice
from random import Random

from django.contrib.auth.models import AbstractBaseUser
from django.db.models import Model

MAKERS = ("Corvane", "Holmgate", "Pellworth", "Kestrow", "Dunmarrow", "Ostramill")
SUPPLIERS = (
    "Aldermere Belting", "Larkmoor Fitness Parts", "Tessaly Bearings", "Quillon Electronics",
    "Vennfield Supply", "Brackwater Trading",
)  # fmt: skip
DAYS = 6 * 365
CHUNK = 2000


class FillingRefusedError(ValueError):
    """This database is not filled; the text is a sentence to show."""


@dataclass(frozen=True)
class Plan:
    """The numbers of rows, the last of the six years that they lie in, and who writes them.

    One seed gives one database: nothing here reads the clock. ``tell`` hears of the progress.
    """

    models: int
    parts: int
    answers: int
    moves: int
    on: date
    seed: int
    by: AbstractBaseUser
    tell: Callable[[str, int], None] = field(default=lambda what, done: None)

    def chance(self, what: str) -> Random:
        """A stream of chance of its own for each sort of rows: more of one changes no other."""
        return Random(f"{self.seed} {what}")  # noqa: S311 - nothing secret is drawn

    def day(self, chance: Random) -> date:
        return self.on - timedelta(days=chance.randrange(DAYS))


def noon(day: date) -> datetime:
    return datetime.combine(day, time(12), UTC)


def create(plan: Plan, model: type[Model], rows: Iterable[Model]) -> int:
    """Write rows in chunks, telling how far it is; how many there were."""
    done = 0
    for chunk in chunks(rows, CHUNK):
        model.objects.bulk_create(chunk, batch_size=CHUNK)
        done += len(chunk)
        plan.tell(str(model._meta.verbose_name_plural), done)
    return done


def chunks(rows: Iterable, size: int) -> Iterator[list]:
    rows = iter(rows)
    while chunk := list(islice(rows, size)):
        yield chunk
