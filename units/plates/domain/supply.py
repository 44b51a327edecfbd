"""Supply and date of manufacture as plates write them."""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from units.catalogue.domain.keys import match_key
from units.plates.domain.snippets import Snippet

NUMBER = r"(\d{1,3}(?:[.,]\d{1,2})?)"
VOLTS = re.compile(
    r"(?<![\d.])(\d{3})(?:\s*[-–/]\s*(\d{3}))?\s*(?:V(?:AC|olts?|A\.?C)?|UAC)(?![a-z])", re.I
)
# Neighbouring cells of a table are sometimes read as one: "220-240" and "50/60", or only "50".
VOLT_RANGE = re.compile(
    r"(?:(?:[12]\d{2}\s*[-–/]\s*[12]\d{2}|50\s*/\s*60)[\s,;~]*)+(?:[56]0[\s,;~]*)?"
)
AMPS_AND_HERTZ = re.compile(rf"{NUMBER}\s*A\s*[56]0", re.I)  # what a broken line leaves
HERTZ = re.compile(r"(?<![\d.])(50\s*[/-]\s*60|50|60)\s*(?:Hz|H2|Hertz|CYCLES?)", re.I)
AMPS = re.compile(rf"(?<![\d.,]){NUMBER}\s*(?:AMPERES?|AMPS?|A)(?![A-Za-z0-9])", re.I)
# Values that only their label gives a unit, as "VOLTS 120".
LABELLED = {
    "volts": re.compile(
        r"(?:VOLTS?|VOLTAGE|VOLTAJE|TENSION|SPANNUNG|电压)[^\d]{0,6}(\d{3}(?:\s*[-–/]\s*\d{3})?)",
        re.I,
    ),
    "hertz": re.compile(
        r"(?:HERTZ|HZ|FREQ\w*|FRECUENCIA|频率)[^\d]{0,6}(50\s*/\s*60|50|60)\b", re.I
    ),
    "amps": re.compile(
        rf"(?:AMPS?|AMPERES?|CURRENT|CORRIENTE|COURANT|STROM|电流)[^\d]{{0,6}}{NUMBER}\b", re.I
    ),
}
# So many letters and digits more, and a value with a unit ("115V 1PH") or a date is something else.
BESIDE_A_UNIT, BESIDE_A_DATE = 4, 3
LIKELY_VOLTS = range(90, 490)
MOST_AMPS = 60.0

MONTHS = {
    name: number
    for number, names in enumerate(
        (
            "JAN ENE JANV", "FEB FEV FEVR", "MAR MARS MRZ MAERZ", "APR ABR AVR", "MAY MAI",
            "JUN JUIN JUNI", "JUL JUIL JULI", "AUG AGO AOUT",
            "SEP SEPT", "OCT OKT", "NOV", "DEC DIC DEZ",
        ),
        start=1,
    )
    for name in names.split()
}  # fmt: skip
YEAR = r"((?:19[89]|20[0-3])\d)"
SPLIT = r"\s*[-/.]\s*"
YEAR_MONTH = re.compile(rf"(?<!\d){YEAR}(?:{SPLIT}|\s*年\s*)(0?[1-9]|1[0-2])(?!\d)")
MONTH_YEAR = re.compile(rf"(?<!\d)(?:\d{{1,2}}{SPLIT})?(0?[1-9]|1[0-2]){SPLIT}{YEAR}(?!\d)")
US_DAY = re.compile(rf"(?<!\d)(0?[1-9]|1[0-2]){SPLIT}(\d{{1,2}}){SPLIT}{YEAR}(?!\d)")
WORD_YEAR = re.compile(rf"([A-Z]{{3,9}})\.?[\s\-/,]*(?:\d{{1,2}},?\s*)?{YEAR}(?!\d)", re.I)
ONLY_YEAR = re.compile(rf"(?<!\d){YEAR}(?!\d)")


@dataclass(frozen=True)
class Found:
    """A value in its plain form and the snippet it was read in; ``doubt`` grows with ambiguity."""

    text: str
    snippet: Snippet
    doubt: float = 0.0

    @property
    def confidence(self) -> float:
        return max(0.0, self.snippet.confidence - self.doubt)


def find_supply(lines: Sequence[Snippet]) -> dict[str, Found]:
    """Volts, hertz and amps. ``lines`` are whole lines, labels included."""
    found: dict[str, Found] = {}
    for line in lines:
        for name, value in _units(line.text):
            _keep(found, name, Found(value, line))
    for line in lines:
        for name, pattern in LABELLED.items():
            match = pattern.search(line.text)
            if name not in found and match and _sound(name, value := _plain(match[1])):
                _keep(found, name, Found(value, line, 0.1))
    return found


def says_supply(text: str) -> bool:
    """Whether a text states volts, hertz or amps with their unit, or a range of volts or hertz."""
    return _is_bare(text.strip()) or any(True for _value in _units(text))


def is_supply(text: str) -> bool:
    """Whether a text is a supply and little else. "123V90MC" is none, although 123 V may be one."""
    stated = [name for name, _value in _units(text)]
    if len(stated) != 1:
        return bool(stated) or _is_bare(text.strip())
    rest = {"volts": VOLTS, "hertz": HERTZ, "amps": AMPS}[stated[0]].sub("", text, count=1)
    return len(match_key(rest)) < BESIDE_A_UNIT


def _is_bare(text: str) -> bool:
    """Whether a text is a supply without its units, or a piece of one."""
    return bool(VOLT_RANGE.fullmatch(text) or AMPS_AND_HERTZ.fullmatch(text))


def is_no_model(text: str) -> bool:
    """Whether a text states volts or hertz; amps alone, such as the 8A of "KR 8A", may be part of a
    model number."""
    stated = {name for name, _value in _units(text)} - {"amps"}
    return bool(stated or VOLT_RANGE.fullmatch(text.strip(" ,;~")))


def says_date(text: str) -> bool:
    """Whether a text is a date and little more: "VHB1-2032" and "VOL2015" are none."""
    patterns = [US_DAY, YEAR_MONTH, MONTH_YEAR, *([WORD_YEAR] if _month_named(text) else [])]
    return len(match_key(text)) <= 10 and any(
        pattern.search(text) and len(match_key(pattern.sub("", text))) < BESIDE_A_DATE
        for pattern in patterns
    )


def _units(text: str):
    for name, pattern in (("volts", VOLTS), ("hertz", HERTZ), ("amps", AMPS)):
        match = pattern.search(text)
        if match:
            value = _plain("-".join(part for part in match.groups() if part))
            if _sound(name, value):
                yield name, value


def _keep(found: dict[str, Found], name: str, one: Found) -> None:
    if name not in found or one.confidence > found[name].confidence:
        found[name] = one


def _plain(text: str) -> str:
    text = re.sub(r"\s+", "", text).replace("–", "-").replace(",", ".")
    if "-" in text or "/" in text:
        return text
    number = text.lstrip("0")
    return number.rstrip("0").rstrip(".") if "." in number else number


def _sound(name: str, value: str) -> bool:
    numbers = [float(part) for part in re.split(r"[-/]", value) if part]
    if not numbers:
        return False
    if name == "volts":
        return all(number in LIKELY_VOLTS for number in numbers)
    return name == "hertz" or 0 < numbers[0] <= MOST_AMPS


def find_made(snippets: Sequence[Snippet]) -> Found | None:
    """The month or year of manufacture as ``2019-03`` or ``2019``, named by a label."""
    best = None
    for snippet in snippets:
        value = made_from(snippet.text) if snippet.names == "made" else ""
        if value and (best is None or snippet.confidence > best.snippet.confidence):
            best = Found(value, snippet)
    return best


def made_from(text: str) -> str:
    """A date as a plate writes it, without its day; ``""`` when there is none."""
    match = US_DAY.search(text)
    if match:
        first, second, year = match.groups()
        # 03/14/2019 can only be March; 03/04/2019 may be either, so only its year is sure.
        if int(second) > 12:
            return f"{year}-{int(first):02}"
        return year if first.lstrip("0") != second.lstrip("0") else f"{year}-{int(first):02}"
    for pattern, year, month in ((YEAR_MONTH, 1, 2), (MONTH_YEAR, 2, 1)):
        match = pattern.search(text)
        if match:
            return f"{match[year]}-{int(match[month]):02}"
    return _worded(text)


def _month_named(text: str) -> str:
    """The year and month of a text that names a month, else nothing: "VOL2015" names none."""
    for match in WORD_YEAR.finditer(text):
        month = MONTHS.get(match[1].upper()) or MONTHS.get(match[1].upper()[:3])
        if month:
            return f"{match[2]}-{month:02}"
    return ""


def _worded(text: str) -> str:
    if named := _month_named(text):
        return named
    match = ONLY_YEAR.search(text)
    return match[1] if match else ""
