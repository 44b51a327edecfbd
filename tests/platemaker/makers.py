"""The invented makers: their model numbers, how they number their machines, and what a shop knows.

The catalogue follows ``fixtures/demo/models.csv`` and has near neighbours on purpose: models that
differ in one character, or in characters that look alike.
"""

from functools import cache
from random import Random

from units.plates.domain.knowledge import Knowledge, shape_of

CATALOGUE = {
    "Corvane": (
        "T-310;T-310L;T-370;T-315;T-420;T-420L;T-426;T-560;T-560L;T-580;E-210;"
        "E-218;E-330;E-330S;E-335;U-110;U-116;U-150;U-150L;R-120;R-128;R-160;"
        "R-160L;S-90;S-98;S-90X;C-70;C-78;W-50;W-58;W-80"
    ),
    "Holmgate": (
        "HG 7100;HG 7180;HG 7100X;HG 7250;HG 7260;HG 7250X;HG 7400;HG 5100;HG 5180;"
        "HG 5100X;HG 5200;HG 3100;HG 3150;HG 3180;HG 3300;HG 3350;HG 3380;HG 2400;"
        "HG 2480;HG 2400X;HG 6100;HG 6150;HG 6180;HG 1800;HG 1880;HG 1500"
    ),
    "Pellworth": (
        "PW-R8;PW-RB;PW-R6;PW-E4;PW-E6;PW-E8;PW-U2;PW-U5;PW-US;PW-C2;PW-C5;PW-"
        "CZ;PW-S1;PW-S3;PW-S5;PW-H3;PW-H8;PW-O1;PW-O2;PW-T5;PW-TS;PW-T8;PW-M1;"
        "PW-M2"
    ),
    "Kestrow": (
        "KT 22;KT 22B;KT 28;KT 32;KE 14;KE 14B;KE 18;KU 9;KU 9B;KU 8;KC 11;"
        "KC 17;KC 11M;KS 40;KS 44;KS 50M;KS 50;KS 58M;KH 30;KH 36;KH 38;KR 6;"
        "KR 8;KR 8M;KR 9"
    ),
    "Dunmarrow": (
        "DM-R1;DM-R7;DM-210;DM-216;DM-220;DM-230;DM-236;DM-240;DM-250;DM-260;"
        "DM-280;DM-310;DM-310S;DM-318;DM-320;DM-330;DM-B10;DM-B12;DM-810;DM-R2"
    ),
    "Ostramill": (
        "OM9500;OM9580;OM9500S;OM9S00;OM9600;OM7300;OM7380;OM7300S;OM7100;OM3200;"
        "OM3280;OM3400;OM3480;OM2100;OM2180;OM8000;OM8200;OM8280;OM8400;OM8480;"
        "OM8000S;OM6500;OM6580;OM5100"
    ),
}
MAKERS = tuple(CATALOGUE)
# How a model number not in the catalogue looks: # a digit, ? one of the letters after the bar.
NEW_MODELS = {
    "Corvane": ("?-##0|TEURSCW", "?-##5|TEURSCW", "?-##0L|TEUR", "T-##0X|T"),
    "Holmgate": ("HG ##00|H", "HG ##50|H", "HG ##00X|H", "HG ##80|H"),
    "Pellworth": ("PW-?#|RECUSHTOMB", "PW-?#0|RECUS", "PW-?#B|REC"),
    "Kestrow": ("K? ##|TEUCSHR", "K? ##M|TEUCSHR", "K? ##B|TEUCSHR"),
    "Dunmarrow": ("DM-##0|R", "DM-##5|R", "DM-?##|BR"),
    "Ostramill": ("OM##00|S", "OM##00S|S", "OM##50|S"),
}
# Serial styles: {yyyy} {yy} {mm} {ww} {y} dates; # digit, @ letter, also O or I since its place is
# known; % letter or digit; * check character. The first is what confirmed plates of the maker
# carry; the second nobody confirmed.
STYLES = {
    "tune": {
        "Corvane": ("CV{yyyy}#####", "@##{yy}####"),
        "Holmgate": ("HG{yy}{ww}-####", "H@@#######"),
        "Pellworth": ("P%%%%%%%%", "{yy}{mm}PW#####"),
        "Kestrow": ("K{y}-{ww}#####*", "KT-######"),
        "Dunmarrow": ("DM-{yy}-#####", "##### {yy}"),
        "Ostramill": ("O{yyyy}@####", "OB##S####"),
    },
    "judge": {
        "Corvane": ("T{yy}{ww}####", "##@##-####"),
        "Holmgate": ("####-{yyyy}-##", "HM%%%%%%"),
        "Pellworth": ("PE{mm}{yy}S####", "@########"),
        "Kestrow": ("KTR {yy} #####*", "####-##-####"),
        "Dunmarrow": ("#########", "D{yy}-@####"),
        "Ostramill": ("%%%%-%%%%-%%", "OST{yyyy}#####"),
    },
}
# One maker of each set never had a serial confirmed at all.
UNSEEN = {"tune": "Kestrow", "judge": "Dunmarrow"}
CONFIRMED = 40  # serials of a maker that the shop has confirmed
LETTERS = "ABCDEFGHJKLMNPRSTUVWXYZ"
RARE = "OIQ"
# No letters that look like digits, as makers choose check characters.
CHECK = "0123456789ABCDEFGHJKLMNPRSTUVWXYZ"


def models_of(maker: str) -> tuple[str, ...]:
    return tuple(CATALOGUE[maker].split(";"))


def new_model(maker: str, rng: Random) -> str:
    """A model number in the maker's way that the catalogue lacks."""
    while True:
        pattern, letters = rng.choice(NEW_MODELS[maker]).split("|")
        number = "".join(
            str(rng.randint(1, 9)) if one == "#" else rng.choice(letters) if one == "?" else one
            for one in pattern
        )
        if number not in models_of(maker):
            return number


def serial_in(style: str, year: int, month: int, rng: Random) -> str:
    """A serial number of a style, for a machine made in that month."""
    dated = style.format(
        yyyy=year, yy=f"{year % 100:02}", y=year % 10, mm=f"{month:02}", ww=f"{month * 4:02}"
    )
    serial = ""
    for one in dated:
        serial += _drawn(one, serial, rng)
    return serial


def _drawn(mark: str, before: str, rng: Random) -> str:
    if mark == "#":
        return str(rng.randint(0, 9))
    if mark == "@":
        return rng.choice(LETTERS + RARE)
    if mark == "%":
        return rng.choice("0123456789" * 2 + LETTERS)
    if mark == "*":
        return CHECK[sum(CHECK.find(one) * (at + 2) for at, one in enumerate(before)) % len(CHECK)]
    return mark


def shop_knowledge(families: str) -> Knowledge:
    """What a shop that will meet these plates knows beforehand."""
    return Knowledge(
        makers=MAKERS,
        models=tuple((maker, number) for maker in MAKERS for number in models_of(maker)),
        serials=confirmed_serials(families),
    )


@cache
def confirmed_serials(families: str) -> tuple[tuple[str, str], ...]:
    rng = Random(f"confirmed/{families}")
    pairs = [
        (maker, serial_in(styles[0], rng.randint(2014, 2025), rng.randint(1, 12), rng))
        for maker, styles in STYLES[families].items()
        if maker != UNSEEN[families]
        for _ in range(CONFIRMED)
    ]
    rng.shuffle(pairs)
    return tuple(pairs)


@cache
def confirmed_shapes(families: str) -> frozenset[tuple[str, str]]:
    return frozenset((maker, shape_of(serial)) for maker, serial in confirmed_serials(families))
