"""The cache of the kits is kept by the modules that make them, and by no others."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

from groundbeat.site.build import kit_sources
from groundbeat.site.follow import followed
from groundbeat.site.tools import ROOT

ENGINE = ROOT / "engine"


def test_what_makes_the_kits_is_what_python_imports_for_them():
    program = "import sys, groundbeat.sound.kit; print(*(m.__file__ for n, m in sys.modules.items() if n.startswith('groundbeat')))"
    environment = os.environ | {"PYTHONPATH": str(ENGINE)}
    done = subprocess.run([sys.executable, "-c", program], env=environment, capture_output=True, text=True, check=True)
    imported = {Path(file) for file in done.stdout.split()}
    assert kit_sources(ENGINE) == imported - {ENGINE / "groundbeat/errors.py"}


def test_files_of_stages_and_sets_do_not_make_the_kits_anew_and_cymbals_do():
    names = {path.name for path in kit_sources(ENGINE)}
    assert {"cymbals.py", "levels.py", "loudness.py", "encode.py"} < names
    assert not names & {"takealong.py", "stage.py", "peak.py", "file.py"}


def test_every_way_to_import_is_followed(tmp_path):
    files = {
        "p/__init__.py": "", "p/q/__init__.py": "from . import lone", "p/q/lone.py": "", "p/other.py": "",
        "p/a.py": "import p.b\nfrom .c import x\nfrom . import d\nimport json", "p/b.py": "def f():\n    from .q import e",
        "p/c.py": "x = 1", "p/d.py": "from .a import y", "p/q/e.py": "",
    }  # fmt: skip
    for name, text in files.items():
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text(text)
    assert followed(tmp_path, "p.a") == {tmp_path / name for name in files if name != "p/other.py"}
