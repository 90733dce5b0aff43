"""A headset that drops out in a job: it stands still, and goes on by itself."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from assistant.journal.store import read
from assistant.speech.voice.rendering import Renderer
from tests.cli.command import KF_07, gloveside
from tests.sound.dropouts import Dropouts
from tests.sound.person import Person
from tests.sound.server import PLAYED, SAID, SoundServer, lacking, program
from tests.sound.test_job_by_sound import SHORT

pytestmark = pytest.mark.skipif(bool(lacking()), reason=lacking())


@pytest.fixture
def server() -> Iterator[SoundServer]:
    with SoundServer() as running:
        yield running


def test_a_job_outlives_a_headset_that_is_unplugged(server: SoundServer, tmp_path: Path) -> None:
    job = tmp_path / "job"
    dropouts = Dropouts(server, times=2)
    with (
        server.monitor(PLAYED) as played,
        server.monitor(SAID) as said,
        Renderer(tmp_path / "voice") as renderer,
        program(server, "run", SHORT, "--unit", KF_07, "--job", job) as running,
    ):
        Person(job, server, played, said, renderer, dropouts.asked).answer(running)
        assert running.wait(timeout=60) == 0
    assert dropouts.made == 2
    returned = [entry.body for entry in read(job) if entry.kind == "returned"]
    assert len(returned) >= 2
    assert all("lost" in body for body in returned)
    assert gloveside("verify", job).code == 0
