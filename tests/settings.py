"""Settings of a test run: the shop's own, kept away from its files and secrets."""

import os
import tempfile

os.environ["UNDERBELT_HOME"] = tempfile.mkdtemp(prefix="underbelt-tests-")
os.environ.pop("UNDERBELT_MODE", None)

from shop.settings import *  # noqa: E402, F403

PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
