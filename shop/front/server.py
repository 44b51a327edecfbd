"""The production server: the web application on a port, in threads, on any system."""

import errno
import signal
from pathlib import Path
from threading import Thread

from cheroot.ssl.builtin import BuiltinSSLAdapter
from cheroot.wsgi import Server
from django.conf import settings
from django.core.wsgi import get_wsgi_application
from django.db import OperationalError, connection
from django.db.migrations.executor import MigrationExecutor
from django.utils.translation import gettext as _

from shop.front.certificate import own_addresses

THREADS = 8
LONGEST_WAIT = 0.2  # seconds until a wish to end is seen
LARGEST_REQUEST = 12 * settings.UPLOAD_MAX_BYTES  # a form with a dozen of the largest pictures
EVERY_ADDRESS = "0.0.0.0"  # noqa: S104 - asked for by whoever starts the server


class ServerError(ValueError):
    """The server cannot start; its text is a sentence to show."""


def require_migrated() -> None:
    """Refuse a database that cannot be opened or whose tables are not those of this version."""
    try:
        executor = MigrationExecutor(connection)
        waiting = executor.migration_plan(executor.loader.graph.leaf_nodes())
    except OperationalError as error:
        raise ServerError(_("The database cannot be opened: %(why)s") % {"why": error}) from error
    if waiting:
        raise ServerError(
            _("The database is not up to date. Run “python manage.py migrate”, then serve again.")
        )


class Listener(Server):
    @staticmethod
    def bind_socket(socket_, bind_addr):
        try:
            return Server.bind_socket(socket_, bind_addr)
        except OSError as error:
            socket_.close()
            if error.errno == errno.EADDRINUSE:
                raise ServerError(
                    _("Port %(port)d is in use by another program. Choose another one with --port.")
                    % {"port": bind_addr[1]}
                ) from error
            raise


def listening(host: str, port: int, certificate: Path | None = None) -> Server:
    """The server with its port taken, ready for ``serve()``; port 0 takes a free one.

    ``certificate`` is a file with key and certificate: the server then speaks https only.
    """
    if not 0 <= port <= 65535:
        raise ServerError(_("A port is a number from 0 to 65535, not %(port)d.") % {"port": port})
    server = Listener((host, port), get_wsgi_application(), numthreads=THREADS, server_name="")
    server.max_request_body_size = LARGEST_REQUEST
    if certificate:
        server.ssl_adapter = BuiltinSSLAdapter(str(certificate), str(certificate))
    try:
        server.prepare()
    except OSError as error:
        raise ServerError(
            _("The server cannot listen on %(host)s port %(port)d: %(why)s")
            % {"host": host, "port": port, "why": error}
        ) from error
    return server


class Asked:
    """Whether somebody asked the program to end: Ctrl-C, or the SIGTERM of a service manager, which
    a shell may have turned off for what it starts in the background.

    The signal is only noted. Raised in the midst of the server's own locks it could leave one of
    its threads waiting for ever.
    """

    def __init__(self) -> None:
        self.to_end = False
        for number in (signal.SIGINT, signal.SIGTERM):
            signal.signal(number, self._note)

    def _note(self, _number, _frame) -> None:
        self.to_end = True


def serve_until(asked: Asked, server: Server) -> None:
    """Serve until somebody asks to end; what is being answered is answered first."""
    serving = Thread(target=server.serve, name="listener")
    serving.start()
    try:
        while serving.is_alive() and not asked.to_end:
            serving.join(LONGEST_WAIT)
    finally:
        server.stop()
        serving.join()


def addresses(server: Server, https: bool) -> list[str]:
    """What to type into a browser, the address for this computer first."""
    host, port = server.bind_addr[:2]
    hosts = ["localhost", *own_addresses()] if host == EVERY_ADDRESS else [host]
    scheme, usual = ("https", 443) if https else ("http", 80)
    ending = "" if port == usual else f":{port}"
    return [f"{scheme}://{name}{ending}/" for name in hosts]
