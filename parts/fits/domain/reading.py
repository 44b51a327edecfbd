"""How a designation is read character by character, so that a wrong one can be pointed at."""

import re
from typing import NoReturn


def gettext_noop(sentence: str) -> str:
    """Marks a sentence for translation; whoever shows it translates it."""
    return sentence


ASTRAY = gettext_noop(
    "“%(text)s”: character %(at)d, “%(letter)s”, does not belong there. Known forms: %(forms)s."
)
TOO_SHORT = gettext_noop("“%(text)s” ends too soon. Known forms: %(forms)s.")


class DesignationError(ValueError):
    """A designation that does not read. ``sentence`` has places that ``places`` fill; ``at`` among
    them is the character to blame, from 1, or one more than the last when it ends too soon.
    ``reach`` tells how many characters made sense before that showed."""

    def __init__(self, sentence: str, reach: int, **places):
        super().__init__(sentence % places)
        self.sentence, self.reach, self.places = sentence, reach, places


class Reading:
    """A text, how far it has been read, and the forms that it might have (examples, for errors).

    Patterns are ASCII and blind to capitals; blanks around the whole text do not count.
    """

    def __init__(self, text: str, forms: str):
        self.text, self.forms, self.at = text.strip(), forms, 0

    @property
    def done(self) -> bool:
        return self.at == len(self.text)

    def take(self, pattern: str) -> str:
        """What stands here and fits, in capitals; ``""`` when it does not, and nothing is read."""
        found = re.compile(pattern, re.ASCII | re.IGNORECASE).match(self.text, self.at)
        if not found:
            return ""
        self.at = found.end()
        return found.group().upper()

    def need(self, pattern: str) -> str:
        return self.take(pattern) or self.fail()

    def end(self) -> None:
        if not self.done:
            self.fail()

    def fail(self, at: int | None = None) -> NoReturn:
        """Blame the character at this place (from 0), by default the next unread one."""
        at = self.at if at is None else at
        sentence = ASTRAY if at < len(self.text) else TOO_SHORT
        raise DesignationError(
            sentence,
            self.at,
            at=at + 1,
            text=self.text,
            letter=self.text[at : at + 1],
            forms=self.forms,
        )
