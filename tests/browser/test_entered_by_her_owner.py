"""A boat entered on the pages alone, as her owner would, is the same boat as from her file."""

import logging
import re
import time
from pathlib import Path

import pytest
from onpage import page_on
from owner_entry import Owner, OwnerWithFile, begun

from hullchange.document.reading import read_document

LOG = logging.getLogger(__name__)
ROOT = Path(__file__).parents[2]
BROCHURES = {
    "brackwren": {
        **{"hull_type": "single-chine", "keel": "long"},
        **{"length_m": 9.4, "waterline_m": 8.1, "beam_m": 2.99, "draught_m": 1.42},
        **{"displacement_kg": 6100, "transom_m": 1.92},
        **{"freeboard_forward_m": 1.3, "freeboard_least_m": 0.95, "freeboard_aft_m": 0.99},
    },
    "fernskerry": {
        **{"hull_type": "canoe-stern", "keel": "fin"},
        **{"length_m": 13.7, "waterline_m": 11.4, "beam_m": 3.96, "draught_m": 1.95},
        **{"displacement_kg": 15000, "transom_m": 0},
        **{"freeboard_forward_m": 1.62, "freeboard_least_m": 1.19, "freeboard_aft_m": 1.42},
    },
}
"""What her owner knows on the first evening: rounded, and never quite right."""
OWNERS = {"brackwren": Owner, "fernskerry": OwnerWithFile}
FIGURES = (
    *(
        "id",
        "stage",
        "displacement_kg",
        "trim_mm",
        "heel_deg",
        "sinkage_mm",
        "gm_m",
        "gm_at_rest_m",
    ),
    *("kg_per_cm", "water_density_kg_m3"),
)


@pytest.mark.parametrize("name", BROCHURES)
def test_a_boat_entered_on_the_pages_is_the_one_of_her_file(name, tmp_path, chromium):
    file = ROOT / "examples" / f"{name}.yaml"
    with page_on(chromium, folder=tmp_path, viewport={"width": 1024, "height": 600}) as page:
        begins = time.monotonic()
        owner = begun(page, read_document(file).plain, BROCHURES[name], OWNERS[name])
        assert owner.document["assumed"]
        owner.enter_all()
        took = time.monotonic() - begins
        assert owner.left() == []
        assert "assumed" not in owner.document
        entered = figures(page, f"/api/refits/{owner.boat.refit}")
        given = {"text": file.read_text(encoding="utf-8"), "name": "from her file"}
        opened = page.request.post("/api/documents", data=given).json()
        assert figures(page, f"/api/refits/{opened['id']}") == entered
    total = sum(owner.made.values())
    LOG.info("%s: %d entries in %.0f s: %s", name, total, took, dict(owner.made))
    assert total == pytest.approx(said_in_the_readme(name), rel=0.03)


def figures(page, refit):
    """What the server answers for every condition, to ten digits."""
    answer = page.request.get(f"{refit}/revisions/working?full=true", timeout=120_000).json()
    rows = [[row[key] for key in FIGURES] for row in answer["assessment"]["conditions"]]
    return [[f"{x:.10g}" if isinstance(x, float) else x for x in row] for row in rows]


def said_in_the_readme(name):
    """How many entries the README says that it takes."""
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    return int(re.search(rf"\*{name.title()}\*\s+in\s+([\d,]+)", text)[1].replace(",", ""))
