"""Pure functions, one module a subject; called itself, the package is ``overhaul.library.sums``."""

import sys

from overhaul.called import Called

sys.modules[__name__].__class__ = Called
