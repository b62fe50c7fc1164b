"""What the tests of the page share, from the folder above."""

from __future__ import annotations

from tests.browser.conftest import READY, OpenPage, chosen, columns, in_both_schemes, view_of, violations

__all__ = ["READY", "OpenPage", "chosen", "columns", "in_both_schemes", "view_of", "violations"]
