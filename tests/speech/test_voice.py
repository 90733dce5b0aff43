"""The voice and its worker."""

from __future__ import annotations

import io
import itertools
import json
import os
import subprocess
import sys
import time
from collections.abc import Iterator
from dataclasses import asdict
from pathlib import Path

import numpy as np
import pytest

from assistant.speech import wav
from assistant.speech.errors import VoiceError
from assistant.speech.fakes import FakePlayer
from assistant.speech.voice.process import WORKER, VoiceProcess, _environment
from assistant.speech.voice.rendering import FASTEST, SOFTEST
from assistant.speech.voice.voices import FolderVoice, Manner, PrintedVoice, Renderer, SpokenVoice

LONG_TEXT = (
    "Contacts one and two are closed. Turn the shaft of the open rotor counterclockwise, slowly, "
    "until contacts one and two change over, then stop at once and tell me what you see. Do not "
    "turn faster than two hundred revolutions a minute."
)

loader = pytest.importorskip(
    "espeakng_loader", reason="the voice needs the package espeakng-loader"
)


@pytest.fixture(scope="module")
def renderer(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Renderer]:
    with Renderer(tmp_path_factory.mktemp("said")) as made:
        yield made


def broken_worker(after: str) -> tuple[str, ...]:
    """A worker that is ready and then does as told with each request."""
    code = (
        f"import sys,time\nprint('{{\"ready\": true}}', flush=True)\nfor line in sys.stdin: {after}"
    )
    return (sys.executable, "-c", code)


def test_a_text_becomes_a_wav_file_and_is_kept(renderer: Renderer) -> None:
    file = renderer.render("one and two closed")
    assert wav.seconds(file) > 0.5
    before = file.stat().st_mtime_ns
    assert renderer.render("  one and two\nclosed ") == file
    assert file.stat().st_mtime_ns == before
    assert not list(renderer.folder.glob("*.part"))


def test_voice_rate_and_text_are_kept_apart(renderer: Renderer) -> None:
    manners = [Manner(), Manner("gmw/en"), Manner("gmw/en-us+f3"), Manner(rate=120)]
    files = [renderer.render("counterclockwise", manner) for manner in manners]
    sounds = [wav.load(file).samples for file in files]
    assert len(set(files)) == 4
    for one, other in itertools.combinations(sounds, 2):
        assert len(one) != len(other) or not np.allclose(one, other)
    assert len(sounds[3]) > len(sounds[0])  # fewer words a minute take longer


def test_long_texts_are_rendered_whole_each_time(tmp_path: Path) -> None:
    lengths = []
    for turn in range(3):
        with Renderer(tmp_path / str(turn)) as renderer:
            sound = wav.load(renderer.render(LONG_TEXT))
        loud = np.flatnonzero(np.abs(sound.samples) > 0.02) / sound.rate
        lengths.append(loud[-1])
        # espeak-ng closes a text with a pause: its being there shows that no word was cut off
        assert sound.seconds - loud[-1] > 0.2
    assert min(lengths) > 12
    assert max(lengths) - min(lengths) < 0.05


def test_many_texts_in_a_row_are_each_their_own(renderer: Renderer) -> None:
    texts = [f"contact {number}" for number in range(20)]
    renderer.render("first")  # starts the worker
    begun = time.monotonic()
    files = [renderer.render(text) for text in texts]
    assert (time.monotonic() - begun) / len(texts) < 0.1
    sounds = [wav.load(file).samples.tobytes() for file in files]
    assert len(set(sounds)) == len(texts)


def test_a_damaged_kept_file_is_rendered_again(renderer: Renderer) -> None:
    file = renderer.render("hold")
    file.write_bytes(file.read_bytes()[:100])
    assert wav.seconds(renderer.render("hold")) > 0.2


def test_a_kept_file_of_which_a_power_cut_left_zeros_is_rendered_again(renderer: Renderer) -> None:
    file = renderer.render("do not crank")
    whole = file.read_bytes()
    file.write_bytes(whole[: len(whole) // 2] + bytes(len(whole) - len(whole) // 2))
    samples = wav.load(renderer.render("do not crank")).samples
    assert samples[len(samples) // 2 :].any()


def test_a_file_is_on_the_disk_before_it_has_its_name(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    names: list[list[str]] = []
    synced: list[int] = []

    def fsync(handle: int) -> None:
        names.append([file.suffix for file in tmp_path.iterdir()])
        synced.append(os.fstat(handle).st_size)

    monkeypatch.setattr(os, "fsync", fsync)
    with Renderer(tmp_path) as made:
        file = made.render("hold")
    assert names == [[".part"]]
    assert synced == [file.stat().st_size]


def test_a_dead_worker_is_replaced(renderer: Renderer) -> None:
    renderer.render("before")
    worker = renderer._process._running
    assert worker is not None
    worker.kill()
    worker.wait()
    assert wav.seconds(renderer.render("after")) > 0.2
    assert renderer._process._running is not worker


def test_an_unknown_voice_is_refused_and_the_next_text_rendered(renderer: Renderer) -> None:
    with pytest.raises(VoiceError, match=r"the voice no-such failed.*choose another"):
        renderer.render("hold", Manner("no-such"))
    assert wav.seconds(renderer.render("carry on")) > 0.2


@pytest.mark.parametrize(
    "after", ["sys.exit(1)", "time.sleep(60)", "print('{\"done\": true}', flush=True)"]
)
def test_a_worker_that_fails_twice_is_a_voice_error(tmp_path: Path, after: str) -> None:
    begun = time.monotonic()
    with (
        Renderer(tmp_path, patience=0.5, command=broken_worker(after)) as renderer,
        pytest.raises(VoiceError, match="stopped or hung while it rendered 'hold'"),
    ):
        renderer.render("hold")
    assert time.monotonic() - begun < 10
    assert not list(tmp_path.iterdir())


def test_without_an_engine_the_remedy_is_named(tmp_path: Path) -> None:
    said = json.dumps({"ready": False, "error": "no eSpeak"})
    command = (sys.executable, "-c", f"print('{said}')")
    with pytest.raises(VoiceError, match=r"cannot start \(no eSpeak\): install .* espeakng-loader"):
        Renderer(tmp_path, command=command).render("hold")


def test_a_folder_that_cannot_be_made_is_named(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    with pytest.raises(VoiceError, match="file/said: rendered speech cannot be kept"):
        Renderer(tmp_path / "file" / "said").render("hold")


def test_an_empty_text_is_refused(renderer: Renderer) -> None:
    with pytest.raises(VoiceError, match="the text is empty"):
        renderer.render(" \n")


@pytest.mark.skipif(not Path("/proc/self/maps").exists(), reason="needs Linux's list of libraries")
def test_the_library_is_the_loaders_and_no_other(tmp_path: Path) -> None:
    process = VoiceProcess(WORKER, 20.0)
    request = {"text": "hold", "file": str(tmp_path / "a.wav"), **asdict(Manner())}
    try:
        assert process.ask(request) == {"done": True}
        assert process._running is not None
        maps = Path(f"/proc/{process._running.pid}/maps").read_text().splitlines()
    finally:
        process.end()
    loaded = {line.split()[-1] for line in maps if "libespeak" in line}
    assert loaded == {str(Path(loader.get_library_path()).resolve())}
    assert wav.seconds(tmp_path / "a.wav") > 0.2


def test_replies_are_not_mixed_with_what_the_engine_prints(tmp_path: Path) -> None:
    requests = [
        {"text": "hold", "file": str(tmp_path / f"{n}.wav"), **asdict(Manner())} for n in range(3)
    ]
    done = subprocess.run(
        WORKER,
        input="".join(json.dumps(request) + "\n" for request in requests),
        capture_output=True,
        text=True,
        check=True,
        timeout=60,
        env={**os.environ, "PYTHONPATH": str(Path(wav.__file__).parents[2])},
    )
    assert "Audio saved" in done.stderr  # pyttsx3 prints it; were it silent, this proved nothing
    assert [json.loads(line) for line in done.stdout.splitlines()] == [
        {"ready": True},
        {"done": True},
        {"done": True},
        {"done": True},
    ]


def test_a_path_too_long_for_the_engine_is_linked(tmp_path: Path) -> None:
    deep = tmp_path / ("d" * 200)
    deep.mkdir()
    (deep / "espeakng_loader.py").write_text(
        f"def get_library_path(): return {loader.get_library_path()!r}\n"
        f"def get_data_path(): return {str(deep / 'espeak-ng-data')!r}\n"
    )
    (deep / "espeak-ng-data").symlink_to(loader.get_data_path())
    home = str(Path(wav.__file__).parents[2])
    done = subprocess.run(
        WORKER,
        input="",
        capture_output=True,
        text=True,
        check=False,
        timeout=60,
        env={**os.environ, "PYTHONPATH": os.pathsep.join([str(deep), home])},
    )
    assert done.stdout == '{"ready": true}\n'


def test_the_worker_finds_this_very_package(tmp_path: Path) -> None:
    """Not another tree's, which an environment may have installed."""
    found = subprocess.run(
        (sys.executable, "-S", "-c", "import assistant; print(*assistant.__path__)"),
        capture_output=True,
        text=True,
        check=True,
        cwd=tmp_path,
        env=_environment(),
    )
    assert found.stdout.split() == [str(Path(wav.__file__).parents[1])]


def test_louder_is_louder(renderer: Renderer) -> None:
    manners = [Manner(), Manner().louder(), Manner(volume=200)]
    sounds = [wav.load(renderer.render("counterclockwise", manner)) for manner in manners]
    powers = [float(np.mean(sound.samples**2)) for sound in sounds]
    assert powers[0] * 1.2 < powers[1] < powers[2]


def test_manners() -> None:
    assert Manner().louder().volume == 125
    assert Manner(volume=180).louder().volume == 200
    with pytest.raises(ValueError, match="0 to 200"):
        Manner(volume=201)
    assert Manner(rate=165).slower().rate == 138  # five sixths, rounded
    assert Manner(rate=85).slower().rate == 80  # the engine's lower limit
    assert Manner(rate=165).faster().rate == 198
    assert Manner(rate=240).faster().rate == FASTEST
    assert Manner().softer().volume == 80
    assert Manner(volume=45).softer().volume == SOFTEST
    with pytest.raises(ValueError, match="80 to 450"):
        Manner(rate=500)


def test_the_printed_voice_prints_lines() -> None:
    stream = io.StringIO()
    PrintedVoice(stream).say("Hold.")
    assert stream.getvalue() == "Hold.\n"


def test_the_folder_voice_numbers_on(renderer: Renderer, tmp_path: Path) -> None:
    FolderVoice(tmp_path / "said", renderer).say("one")
    later = FolderVoice(tmp_path / "said", renderer)
    later.say("two")
    later.say("  ")
    names = sorted(file.name for file in (tmp_path / "said").iterdir())
    assert names == ["0001.wav", "0002.wav"]
    assert (
        wav.read(tmp_path / "said" / "0002.wav").tolist()
        == wav.read(renderer.render("two")).tolist()
    )


def test_the_spoken_voice_plays_what_was_rendered(renderer: Renderer) -> None:
    player = FakePlayer()
    voice = SpokenVoice(renderer, player)
    voice.say("one")
    voice.say("")
    assert [sound.seconds for sound in player.played] == [wav.seconds(renderer.render("one"))]
