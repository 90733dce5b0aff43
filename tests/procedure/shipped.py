"""Where the shipped files are."""

from __future__ import annotations

from pathlib import Path

PROCEDURES = Path(__file__).parents[2] / "procedures"
FLAGSHIP = PROCEDURES / "set-geared-limits.yaml"
KF_07 = PROCEDURES / "units" / "kf-07.yaml"
KF_12 = PROCEDURES / "units" / "kf-12.yaml"
SHIPPED = sorted(PROCEDURES.rglob("*.yaml"))
