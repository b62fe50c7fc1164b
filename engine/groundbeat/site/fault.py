"""What can go wrong while the folder is built or served."""

from __future__ import annotations

from groundbeat.errors import GroundbeatError


class SiteError(GroundbeatError):
    """A tool that is missing or fails, an input that is not there, a folder or port that can't be had."""

    code = "site"
