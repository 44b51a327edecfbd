from collections.abc import Sequence

from shop.resale.selectors import Unmet


class ResaleError(ValueError):
    """A grading, price, paper or way out is refused; the text is a sentence to show.

    ``unmet`` holds what the exit still needs, each with its own sentence and link; ``field`` names
    the value that is to be mended, if it is one.
    """

    def __init__(self, text: str, unmet: Sequence[Unmet] = (), field: str | None = None):
        super().__init__(text)
        self.unmet, self.field = unmet, field
