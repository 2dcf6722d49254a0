"""A teacher's case as a file on the command line: written as a device of this hand writes it, read back as JSON."""

import json
from collections.abc import Mapping
from io import StringIO
from itertools import zip_longest
from pathlib import Path
from typing import Any

import numpy as np
from django.core.management import call_command

from metrics.fields import MIRRORED

HEADINGS = {
    "club_path_deg": "Club path (deg)", "face_angle_deg": "Face angle (deg)", "face_to_path_deg": "Face to path (deg)",
    "launch_direction_deg": "Launch direction (deg)", "attack_angle_deg": "Attack angle (deg)",
    "strike_heel_toe_mm": "Impact heel toe (mm)", "carry_m": "Carry (m)", "club_speed_mps": "Club speed (m/s)",
}


class Case:
    """One player's folder of files. ``hand`` left turns every direction of a file round, as devices do."""

    def __init__(self, folder: Path, hand: str) -> None:
        self.folder, self.hand = folder, hand

    def file(self, shots: Mapping[str, np.ndarray], name: str) -> Path:
        """Write balls as the device does: + is right of the target."""
        turned = {key: -values if self.hand == "left" and key in MIRRORED else values for key, values in shots.items()}
        lines = [",".join(HEADINGS[key] for key in turned)]
        lines += [",".join(f"{value:.6f}" for value in row) for row in zip_longest(*turned.values())]
        path = self.folder / f"{name}.csv"
        path.write_text("\n".join(lines), encoding="utf-8")
        return path

    def read(self, shots: Mapping[str, np.ndarray] | None = None, *, club: str = "driver", intent: str = "straight",
             beside: Mapping[str, Any] | None = None, options: tuple = (), **files: Mapping[str, np.ndarray]) -> dict:
        """Return the one block of the answer; ``with_aids`` and ``before`` are the balls of other files."""
        arguments: list[Any] = [self.file(shots, "balls")] if shots else []
        arguments += ["--club", club, "--hand", self.hand, "--intent", intent, *options]
        if beside is not None:
            path = self.folder / "beside.json"
            path.write_text(json.dumps(beside), encoding="utf-8")
            arguments += ["--beside", path]
        for name, columns in files.items():
            arguments += [f"--{name.replace('_', '-')}", self.file(columns, name)]
        out = StringIO()
        call_command("analyse", *map(str, arguments), "--json", stdout=out, stderr=StringIO())
        return json.loads(out.getvalue())["blocks"][0]


def shown(block: dict) -> list[str]:
    """Return the patterns of the findings, in reading order."""
    return [finding["pattern"] for finding in block["findings"]]
