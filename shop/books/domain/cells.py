"""Text that is safe to stand in a spreadsheet.

Source: OWASP, CSV injection (cells that start with ``= + - @``, tab, carriage return or line feed),
and ASVS 5.0, 1.2.10, which adds NUL. Only text is touched; numbers are written as numbers.
"""

import re

RUNS = tuple("=+-@\t\r\n")
# What XML 1.0, and so a workbook, cannot hold.
UNWRITABLE = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff]")


def safe_text(text: str) -> str:
    """The text without characters that no workbook holds, quoted if it would run as a formula."""
    text = UNWRITABLE.sub("", text)
    return f"'{text}" if text.startswith(RUNS) else text
