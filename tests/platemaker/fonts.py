"""Typefaces, all under the SIL Open Font License, from packages of the registry."""

from functools import cache, lru_cache
from importlib.util import find_spec
from pathlib import Path

from PIL import ImageFont

# name: (package, regular file, bold file, or None for a file with a weight axis)
FILES = {
    "roboto-mono": ("RobotoMono[wght].ttf", None),
    "roboto-condensed": ("RobotoCondensed[wght].ttf", None),
    "roboto-slab": ("RobotoSlab[wght].ttf", None),
    "noto-sans": ("NotoSans[wdth,wght].ttf", None),
    "share-tech": ("ShareTech-Regular.ttf", "ShareTech-Regular.ttf"),
    "oswald": ("Oswald[wght].ttf", None),
    "arimo": ("Arimo[wght].ttf", None),
    "space-mono": ("SpaceMono-Regular.ttf", "SpaceMono-Bold.ttf"),
    "press-start-2p": ("PressStart2P-Regular.ttf", "PressStart2P-Regular.ttf"),
    "ibm-plex-mono": ("IBMPlexMono-Regular.ttf", "IBMPlexMono-SemiBold.ttf"),
    "source-code-pro": ("SourceCodePro[wght].ttf", None),
    "dm-mono": ("DMMono-Regular.ttf", "DMMono-Medium.ttf"),
    "archivo-narrow": ("ArchivoNarrow[wght].ttf", None),
    "barlow-condensed": ("BarlowCondensed-Medium.ttf", "BarlowCondensed-Bold.ttf"),
    "inter": ("Inter[opsz,wght].ttf", None),
    "pt-sans-narrow": ("PT_Sans-Narrow-Web-Regular.ttf", "PT_Sans-Narrow-Web-Bold.ttf"),
    "saira-condensed": ("SairaCondensed-Medium.ttf", "SairaCondensed-Bold.ttf"),
    "rajdhani": ("Rajdhani-Medium.ttf", "Rajdhani-Bold.ttf"),
    "chakra-petch": ("ChakraPetch-Regular.ttf", "ChakraPetch-SemiBold.ttf"),
    "black-ops-one": ("BlackOpsOne-Regular.ttf", "BlackOpsOne-Regular.ttf"),
}
SANS = {
    "tune": ("roboto-condensed", "arimo", "noto-sans", "share-tech", "oswald"),
    "judge": (
        "archivo-narrow", "barlow-condensed", "inter", "pt-sans-narrow", "saira-condensed",
        "rajdhani", "chakra-petch", "roboto-slab",
    ),
}  # fmt: skip
MONO = {
    "tune": ("roboto-mono", "space-mono"),
    "judge": ("ibm-plex-mono", "source-code-pro", "dm-mono"),
}
SHOW = {"tune": ("press-start-2p", "oswald"), "judge": ("black-ops-one", "roboto-slab")}
HAN = ("cvttf_NotoSansCJK_Regular", "NotoSansCJKtc-Regular.otf")
FIRST_HAN = 0x2E80


@cache
def _path(name: str, bold: bool) -> tuple[str, bool]:
    """The file of a typeface, and whether its weight has to be set."""
    if name == "han":
        return str(_folder(HAN[0]) / HAN[1]), False
    regular, heavy = FILES[name]
    folder = _folder(f"fontpkg_{name.replace('-', '_')}") / "files"
    return str(folder / (heavy if bold and heavy else regular)), heavy is None


def _folder(package: str) -> Path:
    found = find_spec(package)
    if found is None:
        name = package.replace("_", "-")
        raise ModuleNotFoundError(f"Typeface {name} is missing: pip install -e '.[test]'.")
    return Path(next(iter(found.submodule_search_locations)))


@lru_cache(maxsize=256)
def font(name: str, pixels: int, bold: bool = False) -> ImageFont.FreeTypeFont:
    path, varies = _path(name, bold)
    made = ImageFont.truetype(path, max(6, pixels))
    if varies:
        made.set_variation_by_name("Bold" if bold else "Regular")
    return made


def is_han(text: str) -> bool:
    return any(ord(one) >= FIRST_HAN for one in text)
