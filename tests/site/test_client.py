"""EngineClient's promises are kept in Node's own test runner: client.test.mjs beside this file."""

from __future__ import annotations

import re
import subprocess
from pathlib import Path


def test_every_question_settles(node_program: str) -> None:
    script = Path(__file__).with_name("client.test.mjs")
    command = [node_program, "--test", "--test-reporter=tap", "--test-timeout=20000", str(script)]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout[-4000:] + done.stderr[-2000:]
    ran = re.search(r"^# pass (\d+)$", done.stdout, re.MULTILINE)
    assert ran and int(ran[1]) >= 14, done.stdout[-1000:]
