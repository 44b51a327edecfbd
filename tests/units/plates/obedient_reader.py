"""A reader that does what the photo says, to see what becomes of whoever started it.

The photo's height in pixels is the order; any other height reads as a plate of Corvane. It is run
by the real loop in a real process.
"""

import os
import time
from io import BytesIO

from PIL import Image

from units.plates.domain.proposal import (
    Barcode,
    Candidate,
    FieldName,
    Outcome,
    Proposal,
    ReadField,
    TextLine,
)

HANG, BLOAT, EXIT, RAISE, REFUSE, NOTHING, CHATTER = range(101, 108)
READ = 100
BLOATED = 300_000_000
EDGE = ((0.1, 0.1), (0.9, 0.1), (0.9, 0.9), (0.1, 0.9))


class PhotoUnreadableError(ValueError):
    pass


def warm() -> None:
    pass


def read_photo(photo: bytes, knowledge) -> tuple[Proposal, bytes | None]:
    with Image.open(BytesIO(photo)) as image:
        order = image.height
    match order:
        case 101:
            time.sleep(60)
        case 102:
            kept = bytearray(os.urandom(1000) * (BLOATED // 1000))
            time.sleep(60)
            del kept
        case 103:
            os._exit(7)
        case 104:
            raise RuntimeError("as the photo ordered")
        case 105:
            raise PhotoUnreadableError("as the photo ordered")
        case 106:
            return Proposal(fields={}, version="obedient 1"), None
        case 107:
            print("a library that talks on standard output")
    return proposal(makers=knowledge.makers), photo


def proposal(serial="CV1O2", makers=()) -> Proposal:
    """What it reads on every plate; the second line repeats what it was told to know."""
    texts = {FieldName.MAKER: "Corvane", FieldName.MODEL: "TM-9", FieldName.SERIAL: serial}
    return Proposal(
        fields={
            name: ReadField(name, text, 0.99, Outcome.SURE, EDGE, (Candidate(text, 0.99),))
            for name, text in texts.items()
        },
        barcodes=(Barcode("Code 128", "CV\x0002", EDGE),),
        lines=(TextLine("CORVANE", 0.98, EDGE), TextLine(" ".join(makers), 1.0, EDGE)),
        plate=EDGE,
        plates=1,
        outcome=Outcome.SURE,
        version="obedient 1",
        seconds=0.01,
    )
