"""What both published forms need: plain text, days, and the error that names the place."""

import html
import re
from datetime import date
from urllib.parse import urlsplit

LONGEST_NUMBER = 60
MONTHS = (
    "january", "february", "march", "april", "may", "june", "july", "august", "september",
    "october", "november", "december",
)  # fmt: skip
BLOCK = re.compile(r"<\s*/?\s*(?:br|p|li|ul|ol|tr|table|div|h\d)\b[^<>]*>", re.IGNORECASE)
TAG = re.compile(r"</?[A-Za-z][^<>]*>")
UNSEEN = re.compile(r"[\x00-\x08\x0b-\x1f\x7f\ufeff\u200b\ud800-\udfff]")
BLANKS = re.compile(r"[^\S\n]+")
LINES = re.compile(r"\s*\n\s*")
ISO = re.compile(r"(\d{4})-(\d{2})-(\d{2})(?:[T ].*)?")
SPOKEN = re.compile(r"([A-Za-z]+)\.? (\d{1,2}), (\d{4})")


def gettext_noop(sentence: str) -> str:
    """Marks a sentence for translation; whoever shows it translates it."""
    return sentence


class RecallFileError(ValueError):
    """A list of recalls that is not loaded. ``sentence`` has places that ``values`` fill."""

    def __init__(self, sentence: str, **values):
        super().__init__(sentence % values if values else sentence)
        self.sentence, self.values = sentence, values


def plain(value) -> str:
    """Text without markup and unseen characters, blanks single, lines kept."""
    if value is None or isinstance(value, dict | list):
        return ""
    text = html.unescape(TAG.sub(" ", BLOCK.sub("\n", str(value).replace("\r", "\n"))))
    return LINES.sub("\n", BLANKS.sub(" ", UNSEEN.sub("", text))).strip()


def one_line(value) -> str:
    return " ".join(plain(value).split())


def address(value) -> str:
    """A web address, or nothing for whatever else stands there."""
    text = one_line(value)
    try:
        scheme = urlsplit(text).scheme
    except ValueError:
        return ""
    return text if scheme in ("http", "https") else ""


def day(text: str) -> date | None:
    """``2026-07-30T00:00:00``, ``2026-07-30`` or “January 15, 2024”; None for nothing.

    Raises ValueError for any other text.
    """
    if not text:
        return None
    if found := ISO.fullmatch(text):
        return date(*map(int, found.groups()))
    if (found := SPOKEN.fullmatch(text)) and found[1].lower() in MONTHS:
        return date(int(found[3]), MONTHS.index(found[1].lower()) + 1, int(found[2]))
    raise ValueError(text)
