from argparse import ArgumentParser
from contextlib import nullcontext
from pathlib import Path

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError
from django.utils import timezone
from django.utils.translation import gettext as _

from shop.front import server
from shop.front.background import Background
from shop.front.certificate import fingerprint, kept_certificate, own_names
from shop.front.ready import Ready


def add_server_arguments(parser: ArgumentParser) -> None:
    parser.add_argument(
        "--host",
        help="the address to listen on (without https: this computer only; with it: all)",
    )
    parser.add_argument("--port", type=int, default=8000, help="0 takes a free one")
    parser.add_argument("--https", action="store_true", help="with a certificate of its own")
    parser.add_argument(
        "--noworker", action="store_true", help="for who runs “manage.py worker” by himself"
    )


class Command(BaseCommand):
    help = "Serves the shop to its browsers, phones and tablets until Ctrl-C."
    requires_system_checks = []

    def add_arguments(self, parser):
        add_server_arguments(parser)

    def handle(self, *, host, port, https, noworker, **options):
        try:
            server.require_migrated()
            certificate = self.certificate() if https else None
            host = host or (server.EVERY_ADDRESS if https else "127.0.0.1")
            listener = server.listening(host, port, certificate)
        except server.ServerError as error:
            raise CommandError(str(error)) from error
        asked = server.Asked()
        worker = nullcontext() if noworker else Background(self.stderr.write)
        try:
            with worker, Ready(self.stderr.write):
                self.tell(server.addresses(listener, https), https)
                server.serve_until(asked, listener)
        finally:
            listener.stop()
        self.stdout.write(_("Stopped."))

    def certificate(self) -> Path:
        # The server itself speaks https: no cookie may leave over plain http from now on.
        settings.SESSION_COOKIE_SECURE = settings.CSRF_COOKIE_SECURE = True
        path = settings.HOME / "https.pem"
        certificate = kept_certificate(path, own_names(), timezone.now())
        self.stdout.write(
            _(
                "The certificate is the shop's own, so each browser asks once whether to trust "
                "it. Compare its SHA-256 fingerprint:\n%(fingerprint)s"
            )
            % {"fingerprint": fingerprint(certificate)}
        )
        return path

    def tell(self, addresses: list[str], https: bool) -> None:
        self.stdout.write(_("Underbelt is served at:"))
        for address in addresses:
            self.stdout.write(f"  {address}")
        if not https:
            self.stdout.write(
                _(
                    "Plain http: phones give no camera stream and no offline work. "
                    "For phones and tablets add --https."
                )
            )
            if settings.SECURE_SSL_REDIRECT and not settings.SECURE_PROXY_SSL_HEADER:
                self.stdout.write(
                    _(
                        "A production set-up sends every plain request on to https: serve with "
                        "--https, or behind a proxy with UNDERBELT_PROXY=trusted."
                    )
                )
        self.stdout.write(_("Ctrl-C stops."))
        self.stdout.flush()
