"""How a maker's name, a model number and a serial number are compared and tidied."""

import unicodedata

LONGEST_SERIAL = 60
UNSEEN = {"Cc", "Cf", "Cn", "Co", "Cs", "Zl", "Zp"}


def gettext_noop(sentence: str) -> str:
    """Marks a sentence for translation; whoever shows it translates it."""
    return sentence


class SerialError(ValueError):
    """A serial number that cannot be kept. Its text is a sentence that says how to mend it."""


def match_key(text: str) -> str:
    """Upper-case letters and digits only: ``cv-10 23/b`` and ``CV1023B`` are one number.

    Accents fall away, full-width forms become plain ones. The key of a key is itself.
    """
    plain = unicodedata.normalize("NFKD", unicodedata.normalize("NFKD", text).upper())
    return "".join(letter for letter in plain if letter.isalnum())


def clean_serial(text: str) -> str:
    """The serial with single spaces inside and none around; ``""`` stays: nobody could read it.

    Raises SerialError.
    """
    if not text:
        return ""
    serial = " ".join(text.split())
    if any(unicodedata.category(letter) in UNSEEN for letter in serial):
        raise SerialError(
            gettext_noop(
                "The serial number holds a character that cannot be seen. Type it again by hand."
            )
        )
    key = match_key(serial)
    if not key:
        raise SerialError(
            gettext_noop(
                "A serial number has letters or digits. Leave it empty if nobody can read it."
            )
        )
    if max(len(serial), len(key)) > LONGEST_SERIAL:
        raise SerialError(
            gettext_noop(
                "A serial number has at most 60 characters. Enter only what follows "
                "“serial” on the plate."
            )
        )
    return serial
