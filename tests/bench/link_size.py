"""How long are links, what takes the room, and can they be scanned?

Characters against the deflated JSON of the same file (level 9, raw, base64url) in the same run; bits of each part;
the longest link that is accepted, and the version of the QR code that each needs, read back by a scanner where one is
installed (PyPI: zxing-cpp).

    python3 engine bench link_size
"""

from __future__ import annotations

import base64
import json
import tomllib
import zlib
from dataclasses import replace

import segno

from groundbeat.codec.groove_read import read_groove
from groundbeat.codec.link import MAX_LINK, measure, write_link
from groundbeat.model.groove import Groove
from groundbeat.site.tools import ROOT

ADDRESS = "https://drums.example.org/groundbeat/#"  # of usual length; counts into the QR code


def deflated(table: object) -> int:
    """Characters of a table as deflated JSON in base64url, the reference."""
    packer = zlib.compressobj(9, zlib.DEFLATED, -15)
    data = packer.compress(json.dumps(table, separators=(",", ":")).encode()) + packer.flush()
    return len(base64.urlsafe_b64encode(data).rstrip(b"="))


def scans(text: str) -> dict[str, object]:
    """Make a QR code of a text and read it back."""
    try:
        code = segno.make(text, error="m", micro=False)
    except segno.DataOverflowError:
        try:
            code = segno.make(text, error="l", micro=False)
        except segno.DataOverflowError:
            return {"qr": None, "scans": False}
    told: dict[str, object] = {"qr": f"version {code.version}, {code.error}", "modules": code.symbol_size(border=0)[0]}
    try:
        import numpy as np
        import zxingcpp
    except ImportError:
        return told | {"scans": "no scanner installed"}
    rows = np.array([list(row) for row in code.matrix_iter(scale=4, border=4)], dtype=np.uint8)
    found = zxingcpp.read_barcodes((1 - (rows > 0)).astype(np.uint8) * 255)
    return told | {"scans": bool(found) and found[0].text == text}


def longest() -> Groove:
    """Grow Slack Tide's notes until the link is as long as a link may be."""
    groove = read_groove((ROOT / "examples" / "slack-tide.toml").read_text())
    note = "Keep the left hand low. " * 80
    while True:
        more = replace(
            groove,
            variations=(*groove.variations, replace(groove.variations[1], key=groove.next_key, note=note[:1999])),
            next_key=groove.next_key + 1,
        )
        if 1 + len(measure_text(more)) > MAX_LINK:
            break
        groove = more
    last = groove.variations[-1]
    for length in range(1900, 0, -1):
        more = replace(
            groove,
            variations=(*groove.variations, replace(last, key=groove.next_key, note=note[:length])),
            next_key=groove.next_key + 1,
        )
        if len(measure_text(more)) <= MAX_LINK:
            return more
    return groove


def measure_text(groove: Groove) -> str:
    """The link, also where it is too long to be given out."""
    from groundbeat.codec.link import VERSION, _sealed
    from groundbeat.codec.link_v1 import write

    return _sealed(VERSION + write(groove).url64())


def main() -> None:
    """Print all figures as JSON."""
    rows: dict[str, object] = {}
    bare = tomllib.loads((ROOT / "examples" / "slack-tide.toml").read_text())
    for row in bare["variation"]:
        row.pop("note", None)
    groove = read_groove((ROOT / "examples" / "slack-tide.toml").read_text())
    plain = replace(groove, variations=tuple(replace(v, note="") for v in groove.variations))
    cases: list[tuple[str, Groove, object]] = [("slack-tide without its note", plain, bare)]
    for file in sorted((ROOT / "examples").glob("*.toml")):
        cases.append((file.stem, read_groove(file.read_text()), tomllib.loads(file.read_text())))
    for name, found, table in cases:
        fragment = write_link(found)
        rows[name] = {
            "characters": len(fragment) + 1,
            "deflated JSON": deflated(table),
            "ratio": round((len(fragment) + 1) / deflated(table), 3),
            "bits": measure(found),
            **scans(ADDRESS + fragment),
        }
    most = longest()
    fragment = write_link(most)
    rows["longest accepted"] = {"limit": MAX_LINK, "characters": len(fragment), **scans(ADDRESS + fragment)}
    for size in (500, 1000, 1500, 2000, 2300):
        rows[f"QR of {size} characters"] = scans((ADDRESS + fragment)[:size])
    print(json.dumps({"link_size": rows}, indent=1))


if __name__ == "__main__":
    main()
