"""How the worker and its reader write to each other: a head of JSON and a body of bytes.

Nothing but JSON and bytes: what comes from a process that decodes strangers' pictures is data,
never an object to be built.
"""

import json
import struct
from typing import BinaryIO

SIZES = struct.Struct(">II")


def write_frame(to: BinaryIO, head: dict, body: bytes = b"") -> None:
    """Raises OSError when nobody listens any more."""
    written = json.dumps(head).encode()
    to.write(SIZES.pack(len(written), len(body)) + written + body)
    to.flush()


def read_frame(source: BinaryIO) -> tuple[dict, bytes] | None:
    """The next frame; None when the other side has closed, in the middle of a frame too."""
    sizes = source.read(SIZES.size)
    if len(sizes) < SIZES.size:
        return None
    head_size, body_size = SIZES.unpack(sizes)
    head, body = source.read(head_size), source.read(body_size)
    if len(head) < head_size or len(body) < body_size:
        return None
    return json.loads(head), body
