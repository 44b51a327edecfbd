"""How a plate words its facts: labels in five languages, supply lines, dates, and decoys."""

from dataclasses import dataclass
from random import Random

from tests.platemaker.facts import Facts

# Labels by language and field; those after the bar stand on plates for judging only.
LABELS = {
    "en": {
        "maker": "MANUFACTURER;MFR;Made by|Manufactured by;MFD BY",
        "model": "MODEL;MODEL NO.;Model No.;Model;M/N;MODEL NUMBER"
        "|MODEL NO;MODEL #;Model Nr.;MOD.;MODEL CODE",
        "serial": "SERIAL;SERIAL NO.;Serial No.;S/N;SERIAL NUMBER;Serial"
        "|SERIAL NO;SN#;SN;SER. NO.;SERIAL #;Serial Number",
        "supply": "INPUT;RATING;POWER;Electrical rating|SUPPLY;POWER INPUT;Rated input",
        "volts": "VOLTS;VOLTAGE;Volts|RATED VOLTAGE;VAC",
        "hertz": "HERTZ;FREQUENCY;Hz|FREQ.;CYCLES",
        "amps": "AMPS;CURRENT;Amps|AMPERES;RATED CURRENT",
        "made": "DATE OF MFG;MFG DATE;MFD;Date of manufacture"
        "|DATE MFG;BUILD DATE;PROD. DATE;MANUFACTURED",
    },
    "es": {
        "maker": "FABRICANTE|FABRICADO POR",
        "model": "MODELO;N.º DE MODELO|MODELO N.º",
        "serial": "N.º DE SERIE;SERIE|NÚMERO DE SERIE;NO. DE SERIE",
        "supply": "ALIMENTACIÓN|ENTRADA",
        "volts": "VOLTAJE|TENSIÓN",
        "hertz": "FRECUENCIA|FRECUENCIA",
        "amps": "CORRIENTE|AMPERIOS",
        "made": "FECHA DE FABRICACIÓN|FECHA FAB.",
    },
    "fr": {
        "maker": "FABRICANT|FABRIQUÉ PAR",
        "model": "MODÈLE;N° DE MODÈLE|N° MODÈLE",
        "serial": "N° DE SÉRIE;NUMÉRO DE SÉRIE|N° SÉRIE",
        "supply": "ALIMENTATION|ENTRÉE",
        "volts": "TENSION|TENSION",
        "hertz": "FRÉQUENCE|FRÉQ.",
        "amps": "COURANT|INTENSITÉ",
        "made": "DATE DE FABRICATION|FABRIQUÉ LE",
    },
    "de": {
        "maker": "HERSTELLER|HERSTELLER",
        "model": "MODELL;TYP|Modell-Nr.;TYPENBEZEICHNUNG",
        "serial": "SERIENNUMMER;SERIEN-NR.|Seriennr.;FABRIK-NR.",
        "supply": "NETZANSCHLUSS|EINGANG",
        "volts": "SPANNUNG|NENNSPANNUNG",
        "hertz": "FREQUENZ|FREQUENZ",
        "amps": "STROM|NENNSTROM",
        "made": "HERSTELLDATUM|BAUJAHR",
    },
    "zh": {
        "maker": "制造商|生产商",
        "model": "型号|产品型号",
        "serial": "序列号;编号|出厂编号",
        "supply": "电源|输入",
        "volts": "电压|额定电压",
        "hertz": "频率|额定频率",
        "amps": "电流|额定电流",
        "made": "生产日期|制造日期",
    },
}
SUPPLY_LINES = {
    "tune": (
        "{v}V~ {h}Hz {a}A",
        "{v} VAC, {a} AMP, {h} HZ",
        "{v}V AC  {h}HZ  {a}A",
        "{v} V   {a} A   {h} Hz",
        "{v}V, {h}Hz, {a} AMPS",
    ),
    "judge": (
        "AC {v}V {h}Hz {a}A",
        "{v} VOLTS AC / {a} AMPS / {h} HERTZ",
        "{v} V ~ {h} Hz   {a} A MAX",
        "{v}VAC/{h}Hz/{a}A",
        "{a}A {v}V~ {h}Hz 1PH",
    ),
}
MONTHS = ["JAN", "FEB", "MAR", "APR", "MAY", "JUN", "JUL", "AUG", "SEP", "OCT", "NOV", "DEC"]
DATES = {
    "tune": ("{m:02}/{y}", "{y}-{m:02}", "{name} {y}", "{y}", "{y}.{m:02}"),
    "judge": (
        "{y}/{m:02}",
        "{m:02}-{y}",
        "{y}-{m:02}-{late}",
        "Week {w} {y}",
        "{name}/{y}",
        "{y}-{m:02}",
    ),
}
SUFFIXES = {
    "tune": ("", " FITNESS", " Fitness Inc.", " STRENGTH & CARDIO"),
    "judge": ("", " EXERCISE CO.", " Fitness GmbH", " Health Products, Ltd.", " Manufacturing"),
}
DECOYS = {
    "P/N": "####-###",
    "PART NO.": "9#####-0#",
    "LOT": "L####",
    "LOT NO.": "##%%##",
    "REV": "@",
    "CONTROL NO.": "#%##",
    "REG. ID": "2AQ%%-%%###",
    "PATENT NO.": "9,###,###",
    "MAX USER WEIGHT": "3#0 lb",
    "ASSY": "A####-#",
    "PO NO.": "45######",
}


@dataclass(frozen=True)
class Entry:
    """One field as printed."""

    key: str
    label: str
    value: str


@dataclass(frozen=True)
class Wording:
    """``made`` is what the date says, as the truth has it."""

    entries: dict[str, Entry]
    maker: str
    made: str
    decoys: tuple[Entry, ...]

    def of(self, *keys: str) -> list[Entry]:
        return [self.entries[key] for key in keys if key in self.entries]


def word(facts: Facts, languages: tuple[str, ...], rng: Random, families: str) -> Wording:
    """Word the facts in one or several languages at once."""

    def labelled(key: str, value: str) -> Entry:
        joint = " / ".join(dict.fromkeys(_label(one, key, rng, families) for one in languages))
        return Entry(key, joint, value)

    maker = facts.maker.upper() if rng.random() < 0.6 else facts.maker
    made_text, made = _date(facts, languages, rng, families)
    values = {
        "maker": maker + rng.choice(SUFFIXES[families]),
        "model": facts.model,
        "serial": facts.serial,
        "made": made_text,
    }
    if facts.volts:
        line = rng.choice(SUPPLY_LINES[families])
        values |= {
            "supply": line.format(v=facts.volts, h=facts.hertz, a=facts.amps),
            "volts": facts.volts,
            "hertz": facts.hertz,
            "amps": facts.amps,
        }
    entries = {key: labelled(key, value) for key, value in values.items()}
    return Wording(entries, values["maker"], made, _decoys(rng))


def _label(language: str, key: str, rng: Random, families: str) -> str:
    usual, judged = (part.split(";") for part in LABELS[language][key].split("|"))
    return rng.choice(usual if families == "tune" else usual[:1] + judged)


def _date(facts: Facts, languages, rng: Random, families: str) -> tuple[str, str]:
    y, m = facts.year, facts.month
    if languages[0] == "zh" and rng.random() < 0.6:
        return f"{y}年{m}月", f"{y}-{m:02}"
    pattern = rng.choice(DATES[families])
    text = pattern.format(y=y, m=m, w=f"{m * 4:02}", name=MONTHS[m - 1], late=rng.randint(13, 28))
    return text, f"{y}-{m:02}" if "{m" in pattern or "{name" in pattern else f"{y}"


def _decoys(rng: Random) -> tuple[Entry, ...]:
    chosen = rng.sample(sorted(DECOYS), 5)
    return tuple(Entry("decoy", label, decoy_number(DECOYS[label], rng)) for label in chosen)


def decoy_number(pattern: str, rng: Random) -> str:
    letters = "ABCDEFGHKLMNPRSTUVWXYZ"
    digits = "0123456789"
    kinds = {"#": digits, "@": letters, "%": digits + letters}
    return "".join(rng.choice(kinds[one]) if one in kinds else one for one in pattern)
