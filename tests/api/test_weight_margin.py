"""What may still be added, over HTTP and by the command line."""

import csv

from refits import SALTMARROW, boat, demo, demo_document, with_all

from hullchange.check_pack.trade_ratios import trade_result
from hullchange.check_pack.weight_margin import weight_margin
from hullchange.start.invented import starting_document
from hullchange_api.command_line.main import main


def test_the_allowance_is_the_models(saltmarrow):
    response = saltmarrow.client.get(saltmarrow.address + "/allowance")
    assert response.status_code == 200
    assert response.json() == weight_margin(demo()[0]).model_dump(mode="json")


def test_the_ratios_are_the_models_and_say_why_one_is_missing(saltmarrow):
    answer = saltmarrow.client.get(saltmarrow.address + "/ratios").json()
    assert answer == trade_result(demo()[0]).model_dump(mode="json")
    assert [one["without"] for one in answer["ratios"]] == [""] * 6
    bare = trade_result(boat(with_all(demo_document(), {"rig": None, "weights": None})))
    missing = {one.id: one.without for one in bare.ratios if one.refit is None}
    assert set(missing) == {"sail-area-displacement", "ballast-ratio"}
    assert all(missing.values())


def test_an_unknown_refit_or_option_is_refused(saltmarrow, refused):
    refused(
        saltmarrow.client.get("/api/refits/nobody/revisions/working/allowance"),
        404,
        "unknown-refit",
    )
    answer = saltmarrow.client.get(saltmarrow.address + "/allowance", params={"option": "none"})
    refused(answer, 422, "unknown-option")


def test_where_no_limit_can_be_drawn_it_says_so(page, refused):
    conditions = page.copy.state.document.conditions
    of_the_old = {f"conditions.{name}.boat": "as_found" for name in conditions}
    page.put(of_the_old)
    refused(page.client.get(page.address + "/allowance"), 422, "no-limits")


def test_tables_writes_files_and_says_what_may_be_added(tmp_path, capsys):
    file, out = tmp_path / "dot.yaml", tmp_path / "deep" / "check"
    file.write_text(starting_document("Dot"), encoding="utf-8")
    asked = ["tables", str(file), "--out", str(out), "--set", "boat.name=Dash"]
    assert main(asked) == 0
    printed = capsys.readouterr().out.splitlines()
    files = sorted(out.iterdir())
    assert [str(f) for f in files] == sorted(line for line in printed if line.endswith(".csv"))
    assert len(files) == 20
    for path in files:
        first = path.read_text(encoding="utf-8").splitlines()[0]
        assert next(csv.reader([first])) == ["boat", "Dash"]
    assert "Weight margin, as surveyed" in printed


def test_tables_writes_nothing_where_the_document_is_refused(tmp_path, capsys):
    out = tmp_path / "check"
    status = main(["tables", str(SALTMARROW), "--out", str(out), "--set", "boat.nme=1"])
    assert status == 2
    assert "boat.nme" in capsys.readouterr().err
    assert not out.exists()
