"""Random numbers by name: what one machine draws does not depend on which others are there."""

import hashlib

import numpy as np
from numpy.random import SFC64, Generator, SeedSequence

BLOCK = 2048  # draws at a time: thirty components of one block stay in a processor's cache
_IN_A_WORD = 4  # 16-bit numbers in a 64-bit one


def stream(seed: int, *names: str) -> Generator:
    """The stream of one name under one seed; other names have independent ones."""
    digest = hashlib.blake2b("\x1f".join(names).encode(), digest_size=16).digest()
    words = [int.from_bytes(digest[at : at + 4], "little") for at in range(0, 16, 4)]
    return Generator(SFC64(SeedSequence([seed, *words])))


def draw16(generator: Generator, rows: int, count: int = BLOCK) -> np.ndarray:
    """``rows`` times ``count`` 16-bit uniforms; ``count`` is a multiple of four."""
    words = generator.bit_generator.random_raw(rows * count // _IN_A_WORD)
    return words.view("<u2").reshape(rows, count)
