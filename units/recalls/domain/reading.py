"""The public recall data, read whole or not at all.

Source of the forms: the agency's published JSON and CSV listings (REFERENCE section 8).
"""

from units.recalls.domain.notice import Notice, joined
from units.recalls.domain.published_csv import HEADINGS, read_csv
from units.recalls.domain.published_json import read_json
from units.recalls.domain.texts import RecallFileError, gettext_noop

MOST_BYTES = 200_000_000
UTF16 = (b"\xff\xfe", b"\xfe\xff")


def read_notices(content: bytes) -> list[Notice]:
    """The notices of a file, one a number, in the file's order. Raises RecallFileError."""
    text = _decoded(content)
    start = text.lstrip()[:1]
    if not start:
        raise RecallFileError(gettext_noop("The file is empty. Download the list again."))
    if start in "[{":
        notices = read_json(text)
    elif HEADINGS[0].lower() in text.split("\n", 1)[0].lower():
        notices = read_csv(text)
    else:
        raise RecallFileError(
            gettext_noop(
                "Line 1 begins neither the JSON nor the CSV list of recalls. Download one of "
                "these two from the agency's site and load it as it came."
            )
        )
    if not notices:
        raise RecallFileError(gettext_noop("The file holds no recall notice."))
    return _one_a_number(notices)


def _decoded(content: bytes) -> str:
    if len(content) > MOST_BYTES:
        raise RecallFileError(
            gettext_noop("The file has more than %(most)d MB. Load it in parts."),
            most=MOST_BYTES // 1_000_000,
        )
    encoding = "utf-16" if content[:2] in UTF16 else "utf-8-sig"
    try:
        return content.decode(encoding)
    except UnicodeDecodeError as error:
        raise RecallFileError(
            gettext_noop(
                "Line %(line)d holds bytes that are no UTF-8 text: the file was cut off there, "
                "or a program saved it in another encoding. Download it again and load it as "
                "it came."
            ),
            line=content[: error.start].count(b"\n") + 1,
        ) from error


def _one_a_number(notices: list[Notice]) -> list[Notice]:
    found: dict[str, Notice] = {}
    for notice in notices:
        earlier = found.get(notice.key)
        found[notice.key] = joined(earlier, notice) if earlier else notice
    return list(found.values())
