"""What holds for every test: no learner's own records are touched, and slow machines aren't failures."""

import os
from pathlib import Path

import pytest
from class_for_tests import Classroom, classroom
from hypothesis import HealthCheck, settings

# A deadline fails a test for the machine's load. Draws are the same in every run, so that a failure is the change's;
# with FREE_DRAWS set others are drawn, to look for what nobody has found yet.
settings.register_profile("free", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.register_profile("same", settings.get_profile("free"), derandomize=True, print_blob=True)
settings.load_profile("free" if os.environ.get("FREE_DRAWS") else "same")


@pytest.fixture(autouse=True)
def _home_of_its_own(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> None:
    """Each test starts as on a new machine, and in no particular terminal.

    The variables are those of the XDG Base Directory Specification 0.8 and of no-color.org.
    """
    home = tmp_path_factory.mktemp("home")
    for kind in ("DATA", "CONFIG", "STATE", "CACHE"):
        monkeypatch.setenv(f"XDG_{kind}_HOME", str(home / kind.lower()))
    for variable in ("SLEEVE_TUTOR_DATA", "NO_COLOR", "COLUMNS", "LINES"):
        monkeypatch.delenv(variable, raising=False)


@pytest.fixture
def room(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Classroom:
    """A class to which the homework is dealt; where tests want another, their file has one of its own."""
    room = classroom(tmp_path, capsys)
    room.enrol()
    return room
