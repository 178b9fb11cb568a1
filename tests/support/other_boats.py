"""A refit unlike the demo through every command and the server: what is wrong, in sentences."""

import contextlib
import io
import json
import re
import shutil
import traceback
from dataclasses import dataclass
from pathlib import Path

import agreement
import plain_english
from fastapi.testclient import TestClient
from other_refits import other_refit

from hullchange_api.app import create_app
from hullchange_api.command_line.main import main
from hullchange_api.review import shared_page
from hullchange_api.store.refits import Refits

REFUSED = 2
LOCAL = "http://127.0.0.1"
WORKING = "revisions/working"
PAGE = {
    "index.html": '<script src="./assets/a.js"></script><link href="./assets/a.css">',
    "one-file.js": "",
    "assets/a.css": "",
    "licenses.md": "",
}
"""A viewer as the build leaves it, in little."""


@dataclass(frozen=True)
class CommandResult:
    """What a command left: exit status, standard output, standard error."""

    status: int
    out: str
    err: str


def command_result(*words):
    """A command of the command line, in this process."""
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        status = main([str(word) for word in words])
    return CommandResult(status, out.getvalue(), err.getvalue())


def faults_of(seed, folder):
    """Everything that is wrong with the boat of a seed, kept in a folder of her own."""
    return faults_in(f"boat-{seed}", other_refit(seed).plain, folder)


def faults_in(name, plain, folder):
    """Everything that is wrong with a boat, kept in a folder of her own."""
    own = Path(folder) / name
    shutil.rmtree(own, ignore_errors=True)
    own.mkdir()
    file = own / f"{name}.yaml"
    file.write_text(json.dumps(plain, indent=1), encoding="utf-8")
    faults = []
    for look in (_commands, _server):
        try:
            faults += look(plain, file)
        except Exception:
            faults.append(traceback.format_exc())
    return faults


def _commands(plain, file):
    """The command line's answers, held against one another."""
    checked = command_result("check", file, "--json")
    if checked.status == REFUSED:
        yield f"check refuses: {checked.err}"
        return
    quick = command_result("assess", file, "--quick", "--json")
    answer = json.loads(quick.out, parse_constant=lambda word: float(word.lower()))
    kept(file, answer)
    yield from quick.err.splitlines()
    doubts = {(f["place"], f["sentence"]) for f in answer["findings"]}
    for doubt in json.loads(checked.out)["findings"]:
        if (doubt["place"], doubt["sentence"]) not in doubts:
            yield f"check alone says: {doubt['place']}: {doubt['sentence']}"
    fails = any(f["severity"] == "fail" for f in answer["findings"])
    if quick.status != int(fails):
        yield f"assess ends with {quick.status}, fail findings: {fails}"
    yield from agreement.incomplete_results(plain, answer)
    yield from agreement.sums_that_differ(answer)
    yield from agreement.contradictory_verdicts(plain, answer)
    yield from plain_english.faults_in_answer(answer, plain)
    yield from agreement.differences_in_printed_tables(
        answer, command_result("assess", file, "--quick").out
    )
    yield from _files(file, answer)
    for option in plain["options"]:
        under = command_result("assess", file, "--quick", "--json", "--option", option)
        yield from (f"option {option}: {line}" for line in under.err.splitlines())
        if under.status != REFUSED:
            under_option = json.loads(under.out)
            yield from (
                f"option {option}: {s}" for s in agreement.sums_that_differ(under_option)
            )


def kept(file, answer):
    """The answer beside the document, to be looked at."""
    file.with_suffix(".json").write_text(json.dumps(answer, indent=1), encoding="utf-8")


def _written(folder):
    return {
        p.relative_to(folder).as_posix(): p.read_text(encoding="utf-8")
        for p in folder.rglob("*.csv")
    }


def _files(file, answer):
    """What is written to files, held against the answer."""
    tables = file.with_suffix(".tables")
    made = command_result("tables", file, "--out", tables)
    yield from made.err.splitlines()
    if made.status != REFUSED:
        yield from agreement.differences_in_csv_tables(answer, _written(tables))
    if answer["parts"]:
        yield from faults_of_cutting(file, answer)
    yield from faults_of_sharing(file, answer)


def faults_of_cutting(file, answer):
    """The cut pack's lists, held against the answer."""
    cut = file.with_suffix(".cut")
    made = command_result("cut", file, "--quick", "--out", cut)
    yield from made.err.splitlines()
    if made.status != REFUSED:
        yield from agreement.differences_in_cut_lists(answer, _written(cut))


def faults_of_sharing(file, answer):
    """The scene and the one file that opens without a server, held against the answer."""
    scene = file.with_suffix(".glb")
    yield from command_result("scene", file, "--out", scene).err.splitlines()
    yield from agreement.plates_missing_from_scene(answer, scene.read_bytes())
    yield from _shared(file, answer)


def _shared(file, answer):
    """The one file that opens without a server."""
    web, page = file.with_suffix(".web"), file.with_suffix(".html")
    for name, text in PAGE.items():
        (web / name).parent.mkdir(parents=True, exist_ok=True)
        (web / name).write_text(text, encoding="utf-8")
    before = shared_page.shared_page.__defaults__
    shared_page.shared_page.__defaults__ = (web,)
    try:
        yield from command_result("share", file, "--quick", "--out", page).err.splitlines()
    finally:
        shared_page.shared_page.__defaults__ = before
    held = re.search(r'id="refit">(.*?)</script>', page.read_text("utf-8"), re.DOTALL)[1]
    shared = json.loads(held)["working"]["assessment"]
    yield from (f"share: {one}" for one in agreement.differing(shared, answer))


def _server(plain, file):
    """The server's answers, held against the command line's."""
    answer = json.loads(file.with_suffix(".json").read_text("utf-8"))
    app = create_app(Refits(file.with_suffix(".data"), file))
    with TestClient(app, base_url=LOCAL, raise_server_exceptions=False) as client:
        refit = client.get("/api/refits").json()[0]["id"]
        yield from _Served(client, f"/api/refits/{refit}", plain, answer).faults()


@dataclass(frozen=True, eq=False)
class _Served:
    """A boat as a page sees her."""

    client: TestClient
    address: str
    plain: dict
    answer: dict

    def faults(self):
        """What the server answers otherwise than the command line, and what it falls over."""
        whole = self.read(f"{WORKING}?full=true").json()
        yield from (f"server: {one}" for one in self.differing(whole))
        yield from self._partial()
        yield from self._opened()
        yield from self._drawn(whole)
        yield from self._edited(whole)
        for name in ("ratios", "allowance"):
            got = self.read(f"{WORKING}/{name}")
            if got.status_code >= 500:
                yield f"{name}: {got.status_code} {got.text}"

    def read(self, path):
        return self.client.get(f"{self.address}/{path}")

    def _partial(self):
        """The chosen condition's first answer is the whole answer's."""
        for condition in self.plain["conditions"]:
            got = self.read(f"{WORKING}?full=false&condition={condition}")
            if got.status_code != 200:
                yield f"{condition}: {got.status_code} {got.text[:200]}"
                continue
            for c in got.json()["assessment"]["conditions"]:
                if c["id"] != condition:
                    continue
                there = next(
                    o for o in self.answer["conditions"]
                    if (o["id"], o["stage"]) == (c["id"], c["stage"])
                )  # fmt: skip
                for key in ("displacement_kg", "sinkage_mm", "trim_mm", "heel_deg", "gm_m"):
                    if c[key] != there[key]:
                        yield f"{condition} {key}: first {c[key]}, then {there[key]}"

    def _opened(self):
        """Figures open with the value that is answered."""
        paths = [
            f"conditions.{c['id']}.{c['stage']}.{key}"
            for c in self.answer["conditions"]
            for key in ("displacement_kg", "trim_mm", "gm_m", "range_deg", "heel_deg")
            if c[key] is not None
        ]
        paths += [f"parts.{p['id']}.mass_kg" for p in self.answer["parts"]]
        paths += [f"changes.{c['id']}.net_kg" for c in self.answer["changes"]]
        opened = []
        for path in paths:
            got = self.read(f"{WORKING}/explanation?path={path}")
            if got.status_code != 200:
                yield f"{path} does not open: {got.status_code} {got.text[:200]}"
            else:
                opened.append(got.json())
        yield from agreement.differences_in_explanations(self.answer, opened)

    def _drawn(self, whole):
        for piece in whole["scene"]:
            got = self.client.get(piece["mesh"])
            if got.status_code != 200:
                yield f"mesh of {piece['id']}: {got.status_code} {got.text[:200]}"
        got = self.read(f"{WORKING}/scene.glb")
        if got.status_code != 200:
            yield f"scene.glb: {got.status_code}"

    def _edited(self, whole):
        """A dimension of each part moved a little and put back: she is as she was."""
        edit = whole["edit"]
        for path, value in dimensions(self.plain):
            step = {"op": "set", "path": path, "value": round(value * 1.02, 4)}
            got = self.sent("PATCH", "", edit, {"label": "a try", "steps": [step]})
            if got.status_code >= 500:
                yield f"{path} = {step['value']}: {got.status_code} {got.text[:300]}"
            if got.status_code != 200:
                continue
            got = self.sent("POST", "/undo", got.json()["edit"])
            if got.status_code != 200:
                yield f"undo of {path}: {got.status_code} {got.text[:200]}"
                return
            edit = got.json()["edit"]
        again = self.read(f"{WORKING}?full=true").json()
        yield from (f"after edits and undo: {one}" for one in self.differing(again))

    def differing(self, whole):
        """Where the answer differs, but for being held at every degree, for pages alone."""
        assessment = whole["assessment"]
        rows = [row | {"held": None} for row in assessment["conditions"]]
        return agreement.differing(assessment | {"conditions": rows}, self.answer)

    def sent(self, method, path, edit, body=None):
        headers = {"If-Match": f'"{edit}"'}
        address = f"{self.address}/{WORKING}{path}"
        return self.client.request(method, address, json=body, headers=headers)


def dimensions(plain):
    """(path, value) of the first measure of every new part."""
    for change, change_plain in plain["changes"].items():
        for name, part in change_plain.get("parts", {}).items():
            for key, value in part.items():
                if isinstance(value, float) and key.endswith(("_m", "_mm")):
                    yield f"changes.{change}.parts.{name}.{key}", value
                    break
