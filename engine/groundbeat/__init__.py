"""Groundbeat: develop an ordinary drum beat one change at a time, and never lose the way back."""

__version__ = "0.1.0"
