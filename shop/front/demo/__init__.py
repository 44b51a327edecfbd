"""The invented shop of the demo. ``tell`` replays its story through the services."""

from datetime import date


def tell(anchor: date) -> None:
    """Write the story into a database that holds reference data and the people, and no more.

    Days of the story count back from ``anchor``.
    """
