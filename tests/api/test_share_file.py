"""hullchange share: one file, whole or not at all."""

import json
import re
from hashlib import sha256

import pytest

from hullchange.errors import ModelError
from hullchange.start.invented import starting_document
from hullchange_api.command_line.main import main
from hullchange_api.review import shared_page


@pytest.fixture
def boat(tmp_path):
    file = tmp_path / "dot.yaml"
    text = starting_document("Dot")
    file.write_text(text, encoding="utf-8")
    return file


def shared(boat, capsys, *words):
    status = main(["share", str(boat), "--quick", *map(str, words)])
    return status, *capsys.readouterr()


def test_the_file_holds_the_answer_and_names_its_script(boat, web, capsys, monkeypatch):
    monkeypatch.setattr(shared_page.shared_page, "__defaults__", (web,))
    out = boat.with_suffix(".html")
    assert shared(boat, capsys, "--out", out) == (0, f"{out}\n", "")
    page = out.read_text(encoding="utf-8")
    held = json.loads(re.search(r'id="refit">(.*?)</script>', page, re.DOTALL)[1])
    main(["assess", str(boat), "--quick", "--json"])
    assert held["working"]["assessment"] == json.loads(capsys.readouterr().out)
    assert held["cautions"]
    for part in held["working"]["scene"]:
        assert f'id="{part["mesh"]}"' in page
    first = re.search(r'<div id="app"><main .*?<h1>Dot</h1><img (.*?)></main></div>', page)[1]
    assert 'src="data:image/png;base64,iVBOR' in first
    assert "default-src 'none'" in page
    blocks, seal = re.search(
        r'</div>\n(<script.*)<script type="text/plain" id="seal">(\w+)<', page, re.DOTALL
    ).groups()
    assert sha256(blocks.encode()).hexdigest() == seal
    assert page.count("<script") == page.count("</script>")


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (["--out", "dot.yaml"], ".html"),
        (["--out", "nowhere/dot.html"], "nowhere"),
        (["--out", "dot.html", "--option", "none-such"], "none-such"),
    ],
)
def test_what_is_refused_writes_nothing(words, message, boat, web, capsys, monkeypatch):
    monkeypatch.setattr(shared_page.shared_page, "__defaults__", (web,))
    monkeypatch.chdir(boat.parent)
    before = boat.read_bytes()
    status, out, err = shared(boat, capsys, *words)
    assert (status, out) == (2, "")
    assert message in err
    assert err.count("\n") == 1
    assert boat.read_bytes() == before
    assert sorted(p.name for p in boat.parent.iterdir()) == ["dot.yaml", "web"]


def test_without_a_built_viewer_there_is_no_page(tmp_path):
    with pytest.raises(ModelError) as refused:
        shared_page.page_around(tmp_path, "Dot", "")
    assert refused.value.code == "viewer-not-built"


def test_a_file_that_is_not_there_is_reported(tmp_path, capsys):
    status, _, err = shared(tmp_path / "nobody.yaml", capsys, "--out", tmp_path / "x.html")
    assert status == 2
    assert "nobody.yaml" in err
    assert [*tmp_path.iterdir()] == []
