from concurrent.futures import ProcessPoolExecutor
from functools import partial
from time import perf_counter

from django.core.management.base import BaseCommand, CommandError
from django.utils.translation import gettext as _

from shop.lots.domain.study_table import MIDDLE, Row, rows_of
from shop.lots.domain.studying import JUDGED, STAGES, study_shop

REGRETS = ("bid", "rule", "free_bid", "free_rule")


class Command(BaseCommand):
    help = (
        "Simulates shops that bid for lots and learn from them, and shows whether bids come true."
    )
    requires_system_checks = []

    def add_arguments(self, parser):
        parser.add_argument("--shops", type=int, default=60)
        parser.add_argument("--judged", type=int, default=JUDGED, help="lots judged in each shop")
        parser.add_argument(
            "--stages",
            default=",".join(map(str, STAGES)),
            help="after how many lots each shop is judged, by commas",
        )
        parser.add_argument("--seed", type=int, default=1)
        parser.add_argument("--workers", type=int, default=2)

    def handle(self, *, shops, judged, stages, seed, workers, **options):
        begun = perf_counter()
        live = partial(study_shop, seed=seed, stages=_stages(stages), judged=judged)
        if shops < 2 or judged < 1 or workers < 1:
            raise CommandError(_("Take at least two shops, one judged lot and one worker."))
        with ProcessPoolExecutor(workers) as pool:
            lives = list(pool.map(live, range(shops)))
        self.stdout.write(
            _("%(shops)d shops, %(judged)d lots judged in each, seed %(seed)d, %(seconds)d seconds")
            % {
                "shops": shops,
                "judged": judged,
                "seed": seed,
                "seconds": perf_counter() - begun,
            }
        )
        for row in rows_of(lives):
            self.stdout.writelines(f"{line}\n" for line in lines_of(row))


def _stages(text: str) -> tuple[int, ...]:
    try:
        found = tuple(int(one) for one in text.split(","))
    except ValueError:
        found = ()
    if not found or min(found) < 0:
        raise CommandError(
            _("“%(text)s” are no numbers of lots. Write them as 0,5,10,30.") % {"text": text}
        )
    return found


def lines_of(row: Row) -> list[str]:
    """What is shown of one stage."""
    named = {
        "learnt": row.learnt,
        "middle": round(100 * MIDDLE),
        "held": _share(row.held),
        "won": row.won,
        "held_won": _share(row.held_won) if row.held_won else "-",
        "ranks": " ".join(map(str, row.ranks)),
        "over": _money(row.over_rule),
        "free": _money(row.free_over_rule),
    }
    return [
        _("after %(learnt)d lots") % named,
        _("  within the middle %(middle)d %% of the prediction: %(held)s") % named,
        _("  of the %(won)d lots won: %(held_won)s") % named,
        _("  ranks in ten bins: %(ranks)s") % named,
        _("  money a shop above the tuned rule of thumb: %(over)s") % named,
        _("  the same without the terms: %(free)s") % named,
        *(_regret(name, *row.regrets[name]) for name in REGRETS),
    ]


def _regret(name: str, worth: float, both: float) -> str:
    return _("  regret of %(name)s: %(worth).3f of who knows the worth, %(both).3f of both") % {
        "name": name,
        "worth": worth,
        "both": both,
    }


def _share(share) -> str:
    return f"{share.value:.3f} ({share.low:.3f} - {share.high:.3f})"


def _money(share) -> str:
    return f"{share.value:.0f} ({share.low:.0f} - {share.high:.0f})"
