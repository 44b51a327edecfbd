import os
import signal
from threading import Thread

from django.core.management.base import BaseCommand, CommandError

from shop.front.server import ServerError, require_migrated
from shop.front.worker import BackgroundWorker


class Command(BaseCommand):
    help = "Does what no browser waits for, such as reading plates. “serve” starts one by itself."
    requires_system_checks = []

    def add_arguments(self, parser):
        parser.add_argument(
            "--beside",
            action="store_true",
            help="stop when standard input is closed: whoever started it has ended",
        )

    def handle(self, *, beside, **options):
        try:
            require_migrated()
        except ServerError as error:
            raise CommandError(str(error)) from error
        worker = BackgroundWorker()
        for number in (signal.SIGINT, signal.SIGTERM):
            signal.signal(number, lambda *_: worker.stop())
        if beside:
            Thread(target=_stop_at_end_of_input, args=(worker,), daemon=True).start()
        worker.run()


def _stop_at_end_of_input(worker: BackgroundWorker) -> None:
    # By the descriptor: a thread inside sys.stdin would keep Python from ending.
    while os.read(0, 1024):
        pass
    worker.stop()
