"""The page of wrong documents: each gets its sentence, its place and its line, and no other.

The first lines of a document say what is expected of it:
``# expects CODE at PLACE, line N: words, of, the, sentence``.
"""

import re
from pathlib import Path

import pytest
from refits import problems_of

from hullchange.document.reading import read_document
from hullchange.errors import DocumentError

HERE = Path(__file__).parent
EXPECTED = re.compile(r"# expects ([\w-]+)(?: at (\S+?))?(?:, line (\d+))?: (.*)")


def expected_of(path):
    """Code, place, line and words of every fault a document says it has."""
    lines = path.read_text(encoding="utf-8").splitlines()
    found = [EXPECTED.fullmatch(line) for line in lines if line.startswith("# expects ")]
    return [
        (m[1], m[2] or "", int(m[3] or 0), m[4].split(", ")) for m in found if m is not None
    ]


def code_place_and_line(faults):
    return sorted((fault.code, fault.place, fault.line) for fault in faults)


WRONG = [path for path in sorted(HERE.glob("*.yaml")) if expected_of(path)]


@pytest.mark.parametrize("path", WRONG, ids=lambda path: path.stem)
def test_a_wrong_document_gets_its_sentence_and_its_place(path):
    expected = expected_of(path)
    faults = problems_of(path)
    assert code_place_and_line(faults) == sorted(
        (code, place, line) for code, place, line, _ in expected
    )
    for code, place, _, words in expected:
        sentence = next(f.sentence for f in faults if (f.code, f.place) == (code, place))
        assert [word for word in words if word not in sentence] == []
        assert re.fullmatch(r"[^\n]+[.?]", sentence)


def test_the_page_has_what_it_should():
    assert len(WRONG) >= 60
    for sound in HERE.glob("sound*.yaml"):
        assert problems_of(sound) == (), sound.name


@pytest.mark.parametrize(
    ("content", "code"),
    [
        pytest.param(b"", "empty-document", id="empty"),
        pytest.param(b"# nothing yet\n\n", "empty-document", id="comment"),
        pytest.param(b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR", "not-text", id="picture"),
        pytest.param("boat: {name: Wrong}".encode("utf-16"), "not-text", id="utf-16"),
        pytest.param(b"boat: \x00\n", "not-text", id="nul"),
        pytest.param(b"\n".join([b"junk: [1, 2, 3]"] * 660_000), "file-too-large", id="10 MB"),
        pytest.param(bytes(range(256)) * 40_000, "file-too-large", id="10 MB binary"),
        pytest.param(b"a: [" + b"1," * 60_000 + b"1]", "file-too-large", id="many values"),
        pytest.param(b"a: " + b"[" * 900_000, "too-deep", id="brackets"),
        pytest.param(b"- " * 400_000, "too-deep", id="dashes"),
        pytest.param(b"a: " + b"9" * 5000, "missing-key", id="5000 digits"),
    ],
)
def test_a_file_that_is_no_document_is_refused(tmp_path, content, code):
    path = tmp_path / "boat.yaml"
    path.write_bytes(content)
    assert code in {fault.code for fault in problems_of(path)}
    assert [*tmp_path.iterdir()] == [path]


def test_a_file_that_is_not_there_is_refused(tmp_path):
    assert [fault.code for fault in problems_of(tmp_path / "boat.yaml")] == ["no-file"]
    assert [fault.code for fault in problems_of(tmp_path)] == ["no-file"]


@pytest.mark.parametrize(
    "name", ["link.csv", "sub/../../outside.csv", ".", '"a\\0b"', "x" * 300]
)
def test_a_file_of_lines_stays_in_the_folder_links_followed(tmp_path, name):
    folder = tmp_path / "boat"
    folder.mkdir()
    table = (HERE / "lines.csv").read_bytes()
    (tmp_path / "outside.csv").write_bytes(table)
    (folder / "inside.csv").write_bytes(table)
    (folder / "link.csv").symlink_to(tmp_path / "outside.csv")
    text = (HERE / "sound.yaml").read_text(encoding="utf-8")
    path = folder / "boat.yaml"
    path.write_text(text.replace("lines.csv", name), encoding="utf-8")
    with pytest.raises(DocumentError) as refused:
        read_document(path)
    assert refused.value.code == "path-leaves-folder"
    path.write_text(text.replace("lines.csv", "inside.csv"), encoding="utf-8")
    assert len(read_document(path).document.hull.lines) == 3
