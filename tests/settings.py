"""Settings of a test run: the shop's own, kept away from its files and secrets."""

import atexit
import os
import shutil
import tempfile

os.environ["UNDERBELT_HOME"] = tempfile.mkdtemp(prefix="underbelt-tests-")
os.environ.pop("UNDERBELT_MODE", None)
atexit.register(shutil.rmtree, os.environ["UNDERBELT_HOME"], ignore_errors=True)

from shop.settings import *  # noqa: E402, F403

PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
