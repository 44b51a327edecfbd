"""Scripts of others stand in the vendor folders as they were written down, with their licences."""

import hashlib
import tomllib

import pytest
from django.conf import settings

ROOT = settings.BASE_DIR
SCRIPTS = tomllib.loads((ROOT / "shop/front/vendored.toml").read_text())["scripts"]


@pytest.mark.parametrize("script", SCRIPTS, ids=lambda script: script["package"])
def test_a_script_is_the_one_that_was_written_down(script):
    content = (ROOT / script["path"]).read_bytes()
    assert hashlib.sha256(content).hexdigest() == script["sha256"]
    assert script["version"] in script["path"]


def test_every_script_in_a_vendor_folder_is_written_down_and_has_its_licence_beside_it():
    found = {
        path
        for house in ("shop", "parts", "units")
        for path in ROOT.glob(f"{house}/**/vendor/*.js")
    }
    assert {str(path.relative_to(ROOT)) for path in found} == {row["path"] for row in SCRIPTS}
    assert all(list(path.parent.glob("*.LICENSE")) for path in found)
