"""``gloveside sign``, and what ``verify`` says of a signature."""

from __future__ import annotations

from pathlib import Path

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


def test_a_key_that_is_none_is_named(tmp_path: Path) -> None:
    job = begun(tmp_path / "job")
    key = tmp_path / "key.pem"
    key.write_text("not a key")
    outcome = gloveside("sign", job, "--name", "RV", "--key", key)
    assert outcome.code == 2
    assert "key.pem: no private key" in outcome.err


def test_a_review_after_the_signature_is_told_and_the_signature_stays(tmp_path: Path) -> None:
    job, key = begun(tmp_path / "job", *TO_READING), tmp_path / "key.pem"
    assert gloveside("sign", job, "--name", "RV", "--key", key).code == 0
    options = ("--checker", "JT", "--ears", "typed", "--voice", "off")
    gloveside("review", job, *options, typed="correct\n" * 9)
    verified = gloveside("verify", job)
    assert verified.code == 0, verified.out
    assert "notice signature.json" in verified.out
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
