"""Are the browsers there that the tests use?

Chromium is needed: from Debian as root, else Playwright's own. Firefox, WebKit's driver, a screen without a
screen and a sound server are for one smoke test each: where they can't be installed those tests skip and say
so.
"""

from __future__ import annotations

from pathlib import Path

from launcher import system
from launcher.trouble import Trouble, run, say, succeeds

EXTRAS = {
    "firefox-esr": ("firefox-esr",),
    "WebKitWebDriver": ("webkit2gtk-driver",),
    "xvfb-run": ("xvfb", "xauth"),
    "pulseaudio": ("pulseaudio", "pulseaudio-utils"),
}
"""A program, and the packages of Debian that bring it."""

LIGHT = "chromium-headless-shell"
"""Chromium without windows; the package and the program have one name. Playwright's own Chromium brings its like."""

_PLAYWRIGHTS = """
import os, sys
from playwright.sync_api import sync_playwright
with sync_playwright() as playwright:
    sys.exit(not os.path.exists(playwright.chromium.executable_path))
"""


def ensure_browsers(venv_programs: Path) -> None:
    """Install what is missing. Raises Trouble only if there is no Chromium in the end."""
    ensure_chromium(venv_programs)
    ensure_light_chromium()
    missing = {program: packages for program, packages in EXTRAS.items() if not system.find(program)}
    if not missing:
        return
    wanted = [package for packages in missing.values() for package in packages]
    if not system.can_install():
        hint = f"Debian: apt-get install {' '.join(wanted)}"
        say(f"without {', '.join(missing)} some smoke tests will skip ({hint})")
        return
    try:
        system.install(wanted, "for smoke tests in other browsers")
    except Trouble as trouble:
        say(f"{trouble}; some smoke tests will skip")


def ensure_chromium(venv_programs: Path) -> None:
    """Install Chromium from Debian as root, else the one that Playwright brings."""
    if system.find("chromium"):
        return
    if system.can_install():
        try:
            system.install(["chromium"], "the tests drive a real browser")
        except Trouble as trouble:
            say(f"{trouble}; trying Playwright's own Chromium")
        if system.find("chromium"):
            return
    python = venv_programs / "python"
    if succeeds([python, "-c", _PLAYWRIGHTS]):
        return
    say("installing Playwright's Chromium")
    otherwise = "the tests need Chromium and it could not be installed; please install the package 'chromium'"
    run([python, "-m", "playwright", "install", "chromium"], otherwise=otherwise)


def ensure_light_chromium() -> None:
    """Install Debian's Chromium without windows beside the other; the tests are quicker with it and do without it."""
    if system.find(LIGHT) or not system.find("chromium") or not system.can_install():
        return
    try:
        system.install([LIGHT], "most tests need no windows, and are quicker without")
    except Trouble as trouble:
        say(f"{trouble}; the tests take the Chromium that is here, and longer")
