from itertools import islice
from random import Random

from django.core.management.base import BaseCommand
from django.utils.translation import gettext as _

from parts.answers.domain.odds import WORDS
from parts.answers.domain.simulation import one_shop, reliability, worlds


class Command(BaseCommand):
    help = "Simulates shops with known rates of change and shows whether the odds come true."
    requires_system_checks = []

    def add_arguments(self, parser):
        parser.add_argument("--shops", type=int, default=400)
        parser.add_argument("--seed", type=int, default=1)

    def handle(self, *, shops, seed, **options):
        random = Random(seed)  # noqa: S311 - a simulation, to be repeated
        told = [one for world in islice(worlds(random), shops) for one in one_shop(world, random)]
        self.stdout.write(
            _("%(shops)d shops, %(words)d words judged, seed %(seed)d")
            % {"shops": shops, "words": len(told), "seed": seed}
        )
        for word in (*WORDS, ""):
            self.stdout.write(word or _("all"))
            self.stdout.write(_("  odds from      words   mean said   held   2 x standard error"))
            for one in reliability([one for one in told if word in ("", one.word)]):
                self.stdout.write(
                    f"  {one.low:9.1f} {one.count:10d} {one.mean:11.3f} {one.held:6.3f}"
                    f" {2 * one.error:10.3f}"
                )
