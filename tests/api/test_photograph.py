"""Marks of a photograph over HTTP: places offered, the refit laid in, refusals in words."""

import numpy as np

from hullchange.photograph.camera import Camera

WIDTH, HEIGHT = 2000, 1500
NAMES = (
    *("stem-head", "transom-starboard", "mark-forward-starboard", "mark-aft-starboard"),
    *("old-house-forward-roof-port", "old-house-after-roof-starboard", "keel-after"),
)


def looking(at, towards):
    ahead = np.subtract(towards, at) / np.linalg.norm(np.subtract(towards, at))
    right = np.cross(ahead, [0.0, 0.0, 1.0])
    right /= np.linalg.norm(right)
    turn = np.array([right, np.cross(ahead, right), ahead])
    return Camera(np.array(at, float), turn, 1800.0, np.array([WIDTH, HEIGHT]) / 2.0)


def asked(saltmarrow, names=NAMES, camera=None):
    camera = camera or looking([-4.0, 12.0, 3.0], [5.0, 0.0, 0.5])
    places = saltmarrow.client.get(saltmarrow.address + "/photograph/places").json()
    known = {place["id"]: np.array(place["at_m"]) for place in places}
    marks = [
        {"id": name, "at_px": camera.pixels(known[name][None])[0].tolist()} for name in names
    ]
    return {"width_px": WIDTH, "height_px": HEIGHT, "marks": marks}


def laid(saltmarrow, body, **query):
    address = saltmarrow.address + "/photograph"
    return saltmarrow.client.post(address, json=body, params=query)


def test_the_refit_is_laid_into_a_photograph(saltmarrow):
    answer = laid(saltmarrow, asked(saltmarrow), condition="departure").json()
    assert answer["off_px"] < 0.01
    assert [mark["id"] for mark in answer["marks"]] == list(NAMES)
    assert {face["role"] for face in answer["faces"]} == {"part", "hides"}
    assert [line["id"] for line in answer["waterlines"]] == ["as_found", "refit"]
    assert all(line["pieces_px"] for line in answer["waterlines"])


def test_a_mark_of_ones_own_place_counts_too(saltmarrow):
    body = asked(saltmarrow)
    camera = looking([-4.0, 12.0, 3.0], [5.0, 0.0, 0.5])
    hatch = [1.0, 0.3, 1.4]
    own = {"id": "hatch", "at_px": camera.pixels(np.array([hatch]))[0].tolist()}
    body["marks"].append(own | {"place_m": hatch})
    assert laid(saltmarrow, body).json()["marks"][-1]["off_px"] < 0.01


def test_what_cannot_be_solved_is_refused(saltmarrow, refused):
    body = asked(saltmarrow)
    refused(laid(saltmarrow, body | {"marks": body["marks"][:5]}), 422, "too-few-marks")
    unknown = [*body["marks"], {"id": "mast", "at_px": [3, 4]}]
    refused(laid(saltmarrow, body | {"marks": unknown}), 422, "unknown-name")
    far = looking([-40.0, 220.0, 3.0], [5.0, 0.0, 0.5])
    refused(laid(saltmarrow, asked(saltmarrow, camera=far)), 422, "marks-clustered")
    refused(laid(saltmarrow, body, condition="none"), 422, "unknown-condition")
    wrong = [
        {**m, "at_px": m["at_px"][::-1]} if i == 0 else m for i, m in enumerate(body["marks"])
    ]
    refused(laid(saltmarrow, body | {"marks": wrong}), 422, "marks-disagree")
