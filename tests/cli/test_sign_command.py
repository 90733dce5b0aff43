"""``gloveside sign``, and what ``verify`` says of a signature."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from assistant.journal.store import Journal
from assistant.journal.verdicts import judged
from assistant.record.plain import schema
from tests.cli.command import KF_07, gloveside, spoiled, two_ends
from tests.session.job import TO_READING


def begun(job: Path, *replies: str) -> Path:
    options = ("--unit", KF_07, "--job", job, "--ears", "typed", "--voice", "off")
    typed = "".join(f"{reply}\n" for reply in replies or ("yes",))
    assert gloveside("run", two_ends(), *options, typed=typed).code == 3
    return job


def test_a_signed_job_verifies_until_it_goes_on(tmp_path: Path) -> None:
    job = begun(tmp_path / "job")
    key = tmp_path / "key.pem"
    outcome = gloveside("sign", job, "--name", "RV", "--key", key)
    assert outcome.code == 0, outcome.err
    assert key.stat().st_mode & 0o077 == 0
    verified = gloveside("verify", job)
    assert verified.code == 0, verified.out
    assert "signed by the holder" in verified.out
    assert gloveside("record", job).code == 0
    assert "public key" in (job / "record.html").read_text()
    options = ("--unit", KF_07, "--job", job, "--ears", "typed", "--voice", "off")
    gloveside("run", two_ends(), *options, typed="yes\n")
    later = gloveside("verify", job)
    assert later.code == 1
    assert "an earlier state of this one" in later.out


def sign(job: Path, name: str, key: Path) -> None:
    outcome = gloveside("sign", job, "--name", name, "--key", key)
    assert outcome.code == 0, outcome.err


def kept(job: Path) -> list[dict[str, Any]]:
    held: list[dict[str, Any]] = json.loads((job / "signature.json").read_text())
    return held


def test_two_people_sign_and_each_signature_is_checked_and_shown(tmp_path: Path) -> None:
    job = begun(tmp_path / "job")
    for name in ("RV", "JT"):
        sign(job, name, tmp_path / f"{name}.pem")
    verified = gloveside("verify", job)
    assert verified.code == 0, verified.out
    assert [one["name"] for one in kept(job)] == ["RV", "JT"]
    assert gloveside("record", job).code == 0
    record = (job / "record.html").read_text()
    for one in kept(job):
        assert f"{one['name']}, signed by the holder of the key {one['public_key']}" in verified.out
        assert one["public_key"] in record
    told = json.loads(gloveside("record", job, "--format", "json", "--output", "-").out)
    jsonschema.validate(told, schema())
    shown = [{field["name"]: field["text"] for field in one} for one in told["key_signatures"]]
    lines = told["entries"]
    covers = {"covers": f"lines 1 to {lines} of {lines}"}
    assert shown == [{**one, **covers} for one in kept(job)]
    spoilt = [{**one, "meaning": "x"} if one["name"] == "JT" else one for one in kept(job)]
    (job / "signature.json").write_text(json.dumps(spoilt))
    verified = gloveside("verify", job)
    assert verified.code == 1
    assert "RV, signed by the holder" in verified.out
    assert "JT, signed" not in verified.out
    assert "error signature.json, signature 2: what is signed was changed" in verified.out
    told = json.loads(gloveside("record", job, "--format", "json", "--output", "-").out)
    assert len(told["key_signatures"]) == 1
    (fault,) = told["signature_faults"]
    assert fault.startswith("signature 2 is not right (what is signed was changed")
    assert fault in told["open"]
    assert gloveside("record", job).code == 0
    assert f"✗ {fault}" in (job / "record.html").read_text()


def test_a_signature_from_before_a_review_covers_what_stood_then(tmp_path: Path) -> None:
    job = begun(tmp_path / "job")
    sign(job, "RV", tmp_path / "rv.pem")
    with Journal.open(job) as journal:
        lines = len(journal.entries)
        journal.append("2099-01-01T00:00:00.000Z", judged(1, "a", "AB", agrees=True))
    told = json.loads(gloveside("record", job, "--format", "json", "--output", "-").out)
    (one,) = told["key_signatures"]
    assert {"name": "covers", "text": f"lines 1 to {lines} of {lines + 1}"} in one
    assert told["signature_faults"] == []


def test_what_stands_beside_a_signature_and_is_not_signed_is_not_shown(tmp_path: Path) -> None:
    job = begun(tmp_path / "job")
    sign(job, "RV", tmp_path / "rv.pem")
    (job / "signature.json").write_text(json.dumps([{**kept(job)[0], "role": "inspector"}]))
    told = json.loads(gloveside("record", job, "--format", "json", "--output", "-").out)
    assert "inspector" not in json.dumps(told)


def test_who_signs_again_renews_their_own_and_no_other(tmp_path: Path) -> None:
    job, rv, jt = begun(tmp_path / "job"), tmp_path / "rv.pem", tmp_path / "jt.pem"
    sign(job, "RV", rv)
    sign(job, "JT", jt)
    before = kept(job)
    begun(job)  # it goes on
    assert gloveside("verify", job).out.count("an earlier state of this one") == 2
    sign(job, "RV", rv)
    assert [one["name"] for one in kept(job)] == ["JT", "RV"]
    assert kept(job)[0] == before[1]
    assert gloveside("verify", job).out.count("an earlier state of this one") == 1
    sign(job, "JT", jt)
    assert gloveside("verify", job).code == 0


def test_a_file_with_one_signature_alone_still_counts(tmp_path: Path) -> None:
    """As it was written before more than one was kept."""
    job = begun(tmp_path / "job")
    sign(job, "RV", tmp_path / "rv.pem")
    (alone,) = kept(job)
    (job / "signature.json").write_text(json.dumps(alone))
    assert "RV, signed by the holder" in gloveside("verify", job).out
    sign(job, "JT", tmp_path / "jt.pem")
    assert kept(job)[0] == alone
    assert gloveside("verify", job).code == 0


@pytest.mark.parametrize("held", [b"[", b"3", b"\xff", b"[" * 100_000])
def test_what_holds_no_signatures_is_left_as_it_is(tmp_path: Path, held: bytes) -> None:
    job, key = begun(tmp_path / "job"), tmp_path / "rv.pem"
    (job / "signature.json").write_bytes(held)
    outcome = gloveside("sign", job, "--name", "RV", "--key", key)
    assert outcome.code == 2
    assert "signature.json elsewhere" in outcome.err or "move it elsewhere" in outcome.err
    assert (job / "signature.json").read_bytes() == held
    assert not key.exists()
    assert "error signature.json: " in gloveside("verify", job).out
    assert gloveside("record", job).code == 0


@pytest.mark.parametrize("one", [None, 3, {"name": "\ud800", "public_key": []}])
def test_what_is_no_signature_is_told_by_its_number_and_kept(tmp_path: Path, one: object) -> None:
    job = begun(tmp_path / "job")
    (job / "signature.json").write_text(json.dumps([one]))
    sign(job, "RV", tmp_path / "rv.pem")
    assert json.loads((job / "signature.json").read_text())[0] == one
    verified = gloveside("verify", job)
    assert "error signature.json, signature 1: no signature" in verified.out
    assert "RV, signed by the holder" in verified.out
    assert gloveside("record", job).code == 0


def test_a_key_that_is_none_is_named(tmp_path: Path) -> None:
    job = begun(tmp_path / "job")
    key = tmp_path / "key.pem"
    key.write_text("not a key")
    outcome = gloveside("sign", job, "--name", "RV", "--key", key)
    assert outcome.code == 2
    assert "key.pem: no private key" in outcome.err


def test_a_name_that_cannot_be_kept_is_refused(tmp_path: Path) -> None:
    job = begun(tmp_path / "job")
    outcome = gloveside("sign", job, "--name", "R\udcff", "--key", tmp_path / "key.pem")
    assert outcome.code == 2
    assert "the name or the meaning is no UTF-8" in outcome.err
    assert not (job / "signature.json").exists()


def test_a_review_after_the_signature_is_told_and_the_signature_stays(tmp_path: Path) -> None:
    job, key = begun(tmp_path / "job", *TO_READING), tmp_path / "key.pem"
    assert gloveside("sign", job, "--name", "RV", "--key", key).code == 0
    options = ("--checker", "JT", "--ears", "typed", "--voice", "off")
    gloveside("review", job, *options, typed="correct\n" * 9)
    verified = gloveside("verify", job)
    assert verified.code == 0, verified.out
    assert "notice signature.json, signature 1: " in verified.out
    assert "signed by the holder" in verified.out
    assert "public key" in (job / "record.html").read_text()


def test_a_full_disk_leaves_the_signature_that_was_there_and_no_half_key(tmp_path: Path) -> None:
    job, key = begun(tmp_path / "job"), tmp_path / "key.pem"
    assert gloveside("sign", job, "--name", "RV", "--key", key).code == 0
    before = (job / "signature.json").read_bytes()
    full = "import resource\nresource.setrlimit(resource.RLIMIT_FSIZE, (40, 40))"
    outcome = spoiled(full, "sign", job, "--name", "RV", "--key", key)
    assert outcome.code == 2
    assert "signature.json: the signature cannot be written" in outcome.err
    assert "make room" in outcome.err
    assert (job / "signature.json").read_bytes() == before
    other = tmp_path / "other.pem"
    outcome = spoiled(full, "sign", job, "--name", "RV", "--key", other)
    assert outcome.code == 2
    assert "other.pem: the key cannot be read or made" in outcome.err
    assert not other.exists()
    assert not list(tmp_path.rglob("*.part"))
