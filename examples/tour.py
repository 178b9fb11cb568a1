"""A tour of hullchange from Python, to be read from top to bottom or run cell by cell."""

# %% Read a refit. All that is wrong with a document is reported at once.
from pathlib import Path

import hullchange

refit = hullchange.read(Path(__file__).with_name("saltmarrow.yaml"))
print(refit.value("boat.name"), "has", ", ".join(refit.value("changes")))

# %% Ask the whole answer. It is what `hullchange assess` prints and the pages show.
answer = refit.assess()
for row in answer.conditions:
    print(
        f"{row.id:14} {row.stage:9} {row.displacement_kg:7.0f} kg  trim {row.trim_mm:+4.0f} mm"
    )
for finding in answer.findings[:3]:
    print(f"{finding.severity}: {finding.sentence}")

# %% Change a value by its path, and see what comes of it. The refit you read stays as it was.
HEIGHT = "changes.deckhouse.parts.house.side_height_m"
higher = refit.changed(HEIGHT, refit.value(HEIGHT) + 0.10)
before, after = (r.assess("departure").condition("departure") for r in (refit, higher))
print(f"house 100 mm higher: GM {before.gm_m:.3f} -> {after.gm_m:.3f} m")

# %% A value that cannot be is refused in a sentence that says what to do.
try:
    refit.changed(HEIGHT, 30).assess()
except hullchange.DocumentError as error:
    print(error.faults[0].sentence)

# %% Options of the document are looked at one at a time.
for name in refit.value("options"):
    print(
        name, f"{refit.with_option(name).assess('departure').condition('departure').gm_m:.3f} m"
    )

# %% Righting levers, to draw or to integrate by your own method.
levers = refit.levers("departure")
gz_m, heel_deg = max(zip(levers.gz_m, levers.heel_deg, strict=True))
print(f"largest lever {gz_m:.2f} m at {heel_deg:.0f} degrees")

# %% Files for the cutter, and a scene for any program that reads glTF: bytes, by name.
pack, scene = refit.cut(quick=True), refit.scene()
print(len(pack), "files to cut by,", len(scene) // 1000, "kB of scene")
