"""Telephone numbers: read as people write them, kept as E.164, shown as the region writes them."""

import phonenumbers
from phonenumbers import NumberParseException, PhoneNumberFormat, ValidationResult

_ = str  # marks a sentence for translation; it is translated where it is raised to a person

LETTERS = _("A telephone number has digits, no letters. Put an extension or a word into the note.")
UNREADABLE = _("This is no telephone number. Type its digits, with the area code.")
TOO_SHORT = _("This telephone number is too short. Type all its digits, with the area code.")
TOO_LONG = _("This telephone number has too many digits. Check it against what you were told.")
NO_AREA = _("The area code is missing. Type the whole number.")
UNKNOWN_COUNTRY = _("No country has this code. Begin with + and the country code, or leave it out.")
WRONG_LENGTH = _("No telephone number has this many digits. Check it against what you were told.")

REFUSALS = {
    ValidationResult.TOO_SHORT: TOO_SHORT,
    ValidationResult.TOO_LONG: TOO_LONG,
    ValidationResult.IS_POSSIBLE_LOCAL_ONLY: NO_AREA,
    ValidationResult.INVALID_COUNTRY_CODE: UNKNOWN_COUNTRY,
    ValidationResult.INVALID_LENGTH: WRONG_LENGTH,
}


class PhoneError(ValueError):
    """The text is no telephone number; the error's text is a sentence to show."""


def parse_phone(text: str, region: str) -> str:
    """``text`` in E.164, read in ``region`` (ISO 3166) unless it begins with a country code.

    Raises PhoneError. Only the number of digits is judged, not whether the number is in use.
    """
    if any(character.isalpha() for character in text):
        raise PhoneError(LETTERS)
    try:
        number = phonenumbers.parse(text, region)
    except NumberParseException as error:
        unknown = error.error_type == NumberParseException.INVALID_COUNTRY_CODE
        raise PhoneError(UNKNOWN_COUNTRY if unknown else UNREADABLE) from error
    refusal = REFUSALS.get(phonenumbers.is_possible_number_with_reason(number))
    if refusal:
        raise PhoneError(refusal)
    return phonenumbers.format_number(number, PhoneNumberFormat.E164)


def show_phone(e164: str, region: str) -> str:
    """As people in ``region`` write it; a number of another country with its country code."""
    try:
        number = phonenumbers.parse(e164, None)
    except NumberParseException:
        return e164
    at_home = number.country_code == phonenumbers.country_code_for_region(region)
    style = PhoneNumberFormat.NATIONAL if at_home else PhoneNumberFormat.INTERNATIONAL
    return phonenumbers.format_number(number, style)
