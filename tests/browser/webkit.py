"""Open an address in WebKitGTK and print what is drawn, as JSON: webkit.py DRIVER BROWSER ADDRESS PROBE STAGES

Runs under a virtual screen. PROBE is a file with one expression (deep.js); it is asked again until so many stages are
drawn or a minute has passed.
"""

from __future__ import annotations

import json
import sys
import time
from pathlib import Path

from selenium import webdriver
from selenium.webdriver.webkitgtk.options import Options
from selenium.webdriver.webkitgtk.service import Service


def main(driver: str, program: str, address: str, probe: str, stages: str) -> None:
    options = Options()
    options.binary_location = program
    options.add_argument("--automation")
    browser = webdriver.WebKitGTK(options=options, service=Service(driver))
    try:
        browser.get(address)
        text = Path(probe).read_text()
        expression = text[text.index("*/") + 2 :].strip().rstrip(";")
        end = time.monotonic() + 60
        seen = {"stages": 0}
        while seen["stages"] < int(stages) and time.monotonic() < end:
            time.sleep(0.25)  # between two looks; the loop ends by what it sees
            seen = browser.execute_script(f"return {expression};")
        print(json.dumps(seen))
    finally:
        browser.quit()


if __name__ == "__main__":
    main(*sys.argv[1:])
