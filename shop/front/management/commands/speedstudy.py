import time
from collections.abc import Callable
from contextlib import contextmanager
from statistics import median

from django.core.cache import cache
from django.core.management.base import BaseCommand, CommandError
from django.db import connection
from django.utils import timezone
from django.utils.translation import gettext as _

from parts.answers.models import Answer
from parts.fits.models import Part
from parts.fits.selectors import part_rows
from parts.stock.models import StockMove
from parts.support.selectors import call_list, coverage_of, standing_of
from units.catalogue.models import MachineModel

PAGE = 50


class Command(BaseCommand):
    help = "Times what many rows could make slow, beside the same statements put to the database."

    def add_arguments(self, parser):
        parser.add_argument("--runs", type=int, default=5)

    def handle(self, *, runs, **options):
        models = list(MachineModel.objects.current().select_related("maker", "kind"))
        if not models:
            raise CommandError(_("The database is empty. Fill one with “manage.py filldatabase”."))
        self.stdout.write(_counts(len(models)))
        self.stdout.write(_("what                                     queries   seconds  bare SQL"))
        for name, action, fresh in _actions(models):
            queries, seconds, bare = _timed(action, runs, fresh)
            self.stdout.write(f"{name:40} {queries:7d} {seconds:9.3f} {bare:9.3f}")


def _counts(models: int) -> str:
    return _("%(models)d models, %(parts)d parts, %(answers)d answers, %(moves)d stock moves") % {
        "models": models,
        "parts": Part.objects.count(),
        "answers": Answer.objects.count(),
        "moves": StockMove.objects.count(),
    }


def _actions(models) -> list[tuple[str, Callable, bool]]:
    """``(name, what is done, whether nothing may be kept from before)``."""
    on = timezone.localdate()
    weights = {model.pk: 1.0 for model in models}
    busiest = max(models[:200], key=lambda model: model.fits.count())
    return [
        (_("coverage of one machine"), lambda: coverage_of([busiest], on), False),
        (_("a page of the list of models"), lambda: standing_of(models[:PAGE], on), False),
        (_("the word on every model"), lambda: standing_of(models, on), False),
        (_("the call list over every model"), lambda: call_list(models, weights, on), False),
        (_("the odds learnt anew, and one page"), lambda: standing_of(models[:PAGE], on), True),
        (_("a page of the list of parts"), lambda: list(part_rows()[:PAGE]), False),
    ]


def _timed(action: Callable, runs: int, fresh: bool) -> tuple[int, float, float]:
    """Queries, median seconds, and the median of the same statements with nothing made of them."""
    action()
    taken = []
    for _run in range(runs):
        if fresh:
            cache.clear()
        with _recorded() as statements:
            started = time.perf_counter()
            action()
            taken.append(time.perf_counter() - started)
    bare = [_replayed(statements) for _run in range(runs)]
    return len(statements), median(taken), median(bare)


@contextmanager
def _recorded():
    statements = []

    def keep(execute, sql, params, many, context):
        statements.append((sql, params))
        return execute(sql, params, many, context)

    with connection.execute_wrapper(keep):
        yield statements


def _replayed(statements) -> float:
    started = time.perf_counter()
    with connection.cursor() as cursor:
        for sql, params in statements:
            cursor.execute(sql, params)
            cursor.fetchall()
    return time.perf_counter() - started
