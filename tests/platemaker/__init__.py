"""Draws photos of invented serial plates whose truth is known, to tune and to judge a reader.

Two sets that share nothing a reader could learn by heart: the layouts, typefaces, serial styles and
some spoilings of ``"judge"`` are never seen in ``"tune"``.
"""

from tests.platemaker.makers import shop_knowledge
from tests.platemaker.photo import TIERS, MadePhoto, family_names, make_photo
from tests.platemaker.truth import Truth

__all__ = ["TIERS", "MadePhoto", "Truth", "family_names", "make_photo", "shop_knowledge"]
