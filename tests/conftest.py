"""What every test stands on: no display, one BLAS thread, settings of its own, patient hypothesis.

Runs before Qt and numpy load. Fixtures of one package's tests live beside those tests.
"""

from __future__ import annotations

import atexit
import os
import shutil
import tempfile

from hypothesis import settings

from gui.system import pin_blas

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
pin_blas()

# Tests neither read nor write the settings of the person who runs them.
_SETTINGS = tempfile.mkdtemp(prefix="fernwright-tests-")
os.environ["XDG_CONFIG_HOME"] = _SETTINGS
atexit.register(shutil.rmtree, _SETTINGS, ignore_errors=True)

settings.register_profile("fernwright", deadline=None, print_blob=True)
settings.load_profile("fernwright")
