"""Where the battery bank may lie, and how Saltmarrow trims with it there."""

from pathlib import Path

from hullchange.assess.assessment import assessment
from hullchange.boat.boat import boat_of
from hullchange.document.paths import value_at, with_value
from hullchange.document.reading import document_of, read_document
from hullchange.present.words import trim_in_words

SALTMARROW = Path(__file__).with_name("saltmarrow.yaml")
BANK = "changes.electric-drive.adds.battery"
PLACES = 5


def main() -> list[tuple[float, float]]:
    """Place of the bank x [m] and trim of the refit [mm], over all of where it may lie."""
    drawing = read_document(SALTMARROW)
    low, high = value_at(drawing.plain, f"{BANK}.may_lie_m.x")
    rows = []
    for step in range(PLACES):
        x_m = low + (high - low) * step / (PLACES - 1)
        plain = with_value(drawing.plain, f"{BANK}.at_m.x", x_m)
        answer = assessment(boat_of(document_of(plain)), only="survey-state")
        trim_mm = next(row.trim_mm for row in answer.conditions if row.stage == "refit")
        print(f"bank at x {x_m:.2f} m: {trim_in_words(trim_mm)}")
        rows.append((x_m, trim_mm))
    return rows


if __name__ == "__main__":
    main()
