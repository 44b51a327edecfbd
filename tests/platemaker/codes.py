"""Barcodes as black and white modules."""

import numpy as np
import zxingcpp

FORMATS = {
    "Code 39": zxingcpp.BarcodeFormat.Code39,
    "Code 128": zxingcpp.BarcodeFormat.Code128,
    "QR Code": zxingcpp.BarcodeFormat.QRCode,
    "Data Matrix": zxingcpp.BarcodeFormat.DataMatrix,
    "EAN-13": zxingcpp.BarcodeFormat.EAN13,
}
SQUARE = ("QR Code", "Data Matrix")


def modules(sort: str, text: str) -> np.ndarray:
    """True where a module is dark; one row for a linear symbol. Quiet zones included."""
    symbol = zxingcpp.create_barcode(text, FORMATS[sort])
    drawn = np.array(zxingcpp.write_barcode_to_image(symbol, scale=1)) < 128
    return _squared(drawn) if sort in SQUARE else drawn[drawn.shape[0] // 2][None, :]


def _squared(drawn: np.ndarray) -> np.ndarray:
    """A Data Matrix may be oblong: with light room around it, it keeps its place on a plate."""
    high, wide = drawn.shape
    side = max(high, wide)
    above, before = (side - high) // 2, (side - wide) // 2
    return np.pad(drawn, ((above, side - high - above), (before, side - wide - before)))


def trade_number(digits: str) -> str:
    """A GTIN-13 from its first twelve digits, by the GS1 check digit (weights 1 and 3)."""
    total = sum(int(one) * (3 if at % 2 else 1) for at, one in enumerate(digits[:12]))
    return f"{digits[:12]}{-total % 10}"
