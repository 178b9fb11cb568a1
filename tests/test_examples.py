"""Every script in examples/ runs and answers what it says."""

import importlib.util
import re
import runpy
from pathlib import Path

import pytest

FOLDER = Path(__file__).parents[1] / "examples"


def answer_of(name):
    spec = importlib.util.spec_from_file_location(name, FOLDER / f"{name}.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module.main()


def test_a_higher_house_weighs_more_and_stands_less_stiff():
    rows = answer_of("raise_the_house")
    _, masses, heights_of_gravity, stiffness = map(list, zip(*rows, strict=True))
    assert masses == sorted(masses)
    assert heights_of_gravity == sorted(heights_of_gravity)
    assert stiffness == sorted(stiffness, reverse=True)


def test_the_bank_trims_her_by_its_moment():
    rows = answer_of("slide_the_batteries")
    (first_x, first_trim), (last_x, last_trim) = rows[0], rows[-1]
    # 243 kg over the way it slides; moment to trim one centimetre is 132 to 141 kg m (hull
    # alone 133, and it grows as her stern goes down)
    assert last_trim - first_trim == pytest.approx(
        10.0 * 243 * (last_x - first_x) / 136.5, rel=0.035
    )


def test_two_triangles_of_six_millimetres():
    mass, trim = answer_of("plate_by_its_corners")
    assert mass == pytest.approx(2 * 0.5 * 0.5 * 0.5 * 6 * 7.85, rel=1e-6)
    assert trim > 0


@pytest.mark.slow
def test_the_tour_runs_and_shows_what_it_says(capsys):
    runpy.run_path(str(FOLDER / "tour.py"))
    output = capsys.readouterr().out
    for shown in ("Saltmarrow has deckhouse", "house 100 mm higher: GM", "largest lever"):
        assert shown in output
    assert "it must be at most" in output  # a refusal


def test_scripts_import_the_front_door_alone():
    for script in FOLDER.glob("*.py"):
        imports = re.findall(
            r"^\s*(?:from|import) (hullchange\S*)", script.read_text("utf-8"), re.M
        )
        assert imports == ["hullchange"], script.name


def test_every_script_is_tried():
    assert {p.stem for p in FOLDER.glob("*.py")} == {
        "raise_the_house",
        "slide_the_batteries",
        "plate_by_its_corners",
        "tour",
    }
