"""README's commands run by the program as it is given out: ``python tests/readme_installed.py PYTHON...``.

Wheel and sdist are built, and each is installed with its libraries into an empty environment of every Python named,
such as ``python3.11 python3.13``. In a folder that has nothing of the checkout but ``lessons`` and ``assets`` all of
README's commands are then run, and what they print is held against what README shows. The status is 1 when anything
differs.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from collections.abc import Mapping, Sequence
from pathlib import Path

from test_readme import BLOCKS, ROOT, SCREENS, as_expected, on_terminal, printed_by


def built(folder: Path) -> list[Path]:
    """The sdist of the checkout and the wheel made from that."""
    _run([sys.executable, "-m", "build", "--no-isolation", "--outdir", folder, ROOT])
    return sorted([*folder.glob("*.tar.gz"), *folder.glob("*.whl")])


def installed(python: str, distribution: Path, home: Path) -> dict[str, str]:
    """A new environment of this Python with the program in it; variables with which a shell finds it."""
    _run([python, "-m", "venv", home])
    _run([home / "bin" / "pip", "install", "--quiet", "--disable-pip-version-check", f"{distribution}[pdf]"])
    kept = {name: value for name, value in os.environ.items() if not name.startswith("PYTHON")}
    return kept | {"PATH": f"{home / 'bin'}{os.pathsep}{kept['PATH']}"}


def differences(environment: Mapping[str, str], folder: Path) -> tuple[int, list[str]]:
    """How many of README's commands were run in the folder, and those that printed anything else than is shown.

    Each block of them is one learner's, who has done nothing before.
    """
    for name in ("assets", "lessons"):
        (folder / name).symlink_to(ROOT / name)
    wrong, count = list[str](), 0
    for number, block in enumerate(BLOCKS):
        own = {**environment, "SLEEVE_TUTOR_DATA": str(folder / f"data-{number}")}
        for (command, shown), output in printed_by(block, folder, own):
            count += 1
            if not as_expected(shown, output.splitlines()):
                wrong.append(f"{command} printed\n{output}")
    own = {**environment, "SLEEVE_TUTOR_DATA": str(folder / "data")}
    for command in ("sleeve-tutor", *SCREENS):
        count += 1
        status, shown_bytes = on_terminal(command, folder, own)
        if status or b"Room with the cap" not in shown_bytes:
            wrong.append(f"{command} ended with {status}")
    return count, wrong


def _run(command: Sequence[str | Path]) -> None:
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL)


def main(pythons: Sequence[str]) -> int:
    failed = False
    with tempfile.TemporaryDirectory() as name:
        place = Path(name)
        for distribution in built(place / "dist"):
            for python in pythons:
                home = place / f"{distribution.name}-{Path(python).name}"
                environment = installed(python, distribution, home)
                folder = home / "readme"
                folder.mkdir()
                count, wrong = differences(environment, folder)
                failed |= bool(wrong)
                print(f"{distribution.name} on {python}: {count} commands run, {len(wrong)} printed something else")
                print(*wrong, sep="\n", end="\n" if wrong else "")
    return int(failed)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:] or [sys.executable]))
