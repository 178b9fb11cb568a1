"""Boats called in any script: the name stays as typed, the id can be read and is its own."""

import unicodedata

import pytest

from hullchange.latin import LATIN, document_key, latin
from hullchange.start.invented import starting_document
from hullchange_api.command_line import main
from hullchange_api.store.refits import Refits

NAMES = {
    "Åse": "ase",
    "Été": "ete",
    "Чайка": "chayka",
    "Αιγαίο": "aigaio",
    "Łódź": "lodz",
    "船": "boat",
    "海鷗": "boat-2",
    "Ase": "ase-2",
    'Anna: "die Zweite" #7': "anna-die-zweite-7",
}


@pytest.mark.parametrize("order", [list(NAMES), list(NAMES)[::-1]])
def test_every_boat_keeps_her_name_and_has_an_id_of_her_own(serve, order):
    client = serve().client
    for name in order:
        made = client.post("/api/refits", json={"name": name})
        assert (made.status_code, made.json()["name"]) == (201, name), made.text
    cards = {card["name"]: card["id"] for card in client.get("/api/refits").json()}
    assert len({*cards.values()}) == len(NAMES) + 1
    if order == list(NAMES):
        assert cards == NAMES | {"Dot": "dot"}
    for name in ("Чайка", 'Anna: "die Zweite" #7'):
        refit = cards[name]
        answer = client.get(f"/api/refits/{refit}/revisions/working?full=false").json()
        assert answer["assessment"]["boat"] == name
        packed = client.get(f"/api/refits/{refit}/archive")
        assert packed.headers["content-disposition"] == f'attachment; filename="{refit}.zip"'


def test_a_boat_of_the_same_name_is_refused_and_another_of_its_id_is_not(page, refused):
    client = page.client
    refused(client.post("/api/refits", json={"name": "Dot"}), 409, "refit-exists")
    refused(client.post("/api/refits", json={"name": "!?"}), 422, "bad-name")
    assert client.post("/api/refits", json={"name": "Dót"}).json()["id"] == "dot-2"
    page.put({"boat.name": "Wren"})
    assert client.post("/api/refits", json={"name": "Dot"}).json()["id"] == "dot-3"


def test_a_file_keeps_the_id_that_an_older_version_gave_it(tmp_path, monkeypatch):
    file = tmp_path / "Été.yaml"
    file.write_text(starting_document("Été"), encoding="utf-8")
    monkeypatch.setattr("hullchange_api.store.refits.document_key", lambda *_: "t")
    older = Refits(tmp_path / "data", file)
    older.working_copy("t")
    older.close()
    monkeypatch.undo()
    assert Refits(tmp_path / "data", file).ids() == ("t",)
    other = tmp_path / "лодка.yaml"
    assert Refits(tmp_path / "data", other).ids() == ("lodka",)


def test_the_command_line_takes_any_script(tmp_path, capsys):
    file, out = tmp_path / "Ёлка.yaml", tmp_path / "out.zip"
    assert main.main(["new", str(file)]) == 0
    assert 'name: "Ёлка"' in file.read_text(encoding="utf-8")
    data = ["--data", str(tmp_path / "data")]
    assert main.main(["archive", str(file), "--out", str(out), *data]) == 0
    assert main.main(["restore", str(out), *data]) == 0
    assert capsys.readouterr().out.strip().endswith("elka/refit.yaml")


def test_every_letter_of_these_scripts_is_read():
    for code in (*range(0x00C0, 0x0250), *range(0x0386, 0x03CF), *range(0x0400, 0x0460)):
        sign = chr(code)
        if unicodedata.category(sign) in ("Ll", "Lu") and sign.lower() not in UNUSED:
            read = [s for s in latin(sign) if s.isalpha() and unicodedata.category(s) != "Lm"]
            assert all(s.isascii() for s in read), (sign, latin(sign))
    assert all(read.isascii() for read in LATIN.values())
    assert document_key("Ähre Öl") == "ahre-ol"


UNUSED = {
    sign
    for code in (*range(0x0180, 0x0250), *range(0x03CF, 0x0400), 0x0138)
    for sign in (chr(code), chr(code).lower())
}
"""Letters of phonetics and of Africa's languages, which go without: the id stays readable."""
