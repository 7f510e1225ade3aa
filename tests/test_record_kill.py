"""A tutor killed at any moment goes on where it was."""

import json
import subprocess
import sys
from pathlib import Path

TESTS = Path(__file__).resolve().parent


def test_sixty_kills_lose_nothing() -> None:
    """See kill.py, which fails when something was lost; it kills 200 times when it is started by itself."""
    ran = subprocess.run([sys.executable, str(TESTS / "kill.py"), "60", "5"], capture_output=True, text=True)
    assert ran.returncode == 0, ran.stderr
    told = json.loads(ran.stdout)
    assert told["kills"] == 60
    # Kills before anything was saved, and many after: the moments were spread over all that happens.
    assert told["saves acknowledged"] > 300
    assert 0 < told["killed before the first save"] < 60
    assert told["attempts logged"] > 0
