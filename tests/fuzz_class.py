"""Damages good answers and has them marked: run as a script, ``python tests/fuzz_class.py [SECONDS [SEED]]``.

Forms, plans, drawings, traced points and tables of the demo class are changed in bytes, words, numbers and order, or
grown together with hostile ones, and marked a batch at a time in a folder of their own. Printed are how many of each
kind were marked and how many got a line, the longest time that one took, and the peak of memory. The status is 1, and
the file is kept in the folder for temporary files, when anything but a clear line came of one, when one took more than
two seconds of processor time, or when memory went above 300 MB. Ten minutes are the default.
"""

from __future__ import annotations

import random
import re
import resource
import shutil
import sys
import tempfile
import time
import traceback
import unicodedata
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

from demo_class import CLASS, FOLDER
from hostile_class import HOSTILE

from tutor.classwork.enrolment import enrolled, handed_in
from tutor.classwork.homework import Homework
from tutor.classwork.homework_reading import read_homework
from tutor.classwork.marking_run import MarkingRun
from tutor.classwork.report import Report
from tutor.classwork.store import Store
from tutor.faults import printable

SECONDS = 600.0
BATCH = 24
GOOD = 0.2
"""The share of batches in which everything good is handed in as well."""
LONGEST = 2.0
MOST_MB = 300.0
HIDDEN = {"Cc", "Cs", "Zl", "Zp"}
WORDS = [
    *(
        b"nan",
        b"inf",
        b"-1e309",
        b"1e-320",
        b"0x10",
        b"-0",
        b"9" * 400,
        b"1/0",
        b"''",
        b'"""',
        b"[[",
        b"]]",
        b"{",
        b"}",
    ),
    *(b"<", b">", b"</svg>", b"<g>", b"<!--", b"&lt;", b"&a;", b"<![CDATA[", b"\xff", b"\0", b"\r", b"\n", b";", b","),
    *(
        "\u202e".encode(),
        "\ufeff".encode(),
        "١".encode(),
        "－".encode(),
        b"=1+1",
        b"@x",
        b"..",
        b"/",
        b"\\",
        b"#",
        b"=",
    ),
    *(b"crown", b"hem", b"grain-hem", b"cap-back", b"cap-front", b"true", b"2999-01-01", b"task = 1", b"armhole-back"),
    *(b"M", b"C", b"A", b"z", b"transform='scale(0)'", b"matrix(1 2 3 4 5 6)", b"rotate(1e9)", b"100%", b"in", b"px"),
]
NUMBER = re.compile(rb"-?\d+(?:[.,]\d+)?")
ENEMIES = [bad.content for bad in HOSTILE.values()]
KINDS = {
    "form": "{learner}.toml",
    "plan": "{learner}-{task}.toml",
    "drawing": "{learner}-{task}.svg",
    "points": "{learner}-{task}.csv",
    "table": "table-{k}.csv",
}
"""What each kind of answer is called when it is handed in."""
Change = Callable[[bytes, random.Random], bytes]


def _cut(data: bytes, rng: random.Random) -> bytes:
    a, b = sorted(rng.choices(range(len(data) + 1), k=2))
    return data[:a] + data[b if rng.random() < 0.5 else min(a + rng.randrange(1, 40), len(data)) :]


def _twice(data: bytes, rng: random.Random) -> bytes:
    a, b = sorted(rng.choices(range(len(data) + 1), k=2))
    return data[:b] + data[a:b] * rng.choice([1, 1, 2, 30]) + data[b:]


def _flip(data: bytes, rng: random.Random) -> bytes:
    changed = bytearray(data)
    for _ in range(rng.randrange(1, 9)):
        if changed:
            changed[rng.randrange(len(changed))] = rng.randrange(256)
    return bytes(changed)


def _word(data: bytes, rng: random.Random) -> bytes:
    at = rng.randrange(len(data) + 1)
    return data[:at] + rng.choice(WORDS) + data[at:]


def _number(data: bytes, rng: random.Random) -> bytes:
    found = list(NUMBER.finditer(data))
    if not found:
        return data
    match = rng.choice(found)
    value = float(match[0].replace(b",", b"."))
    new = rng.choice(
        [-value, value * rng.choice([0, 0.1, 2.54, 10, 1e6, -1e300]), value + rng.gauss(0, 5), rng.uniform(-1e3, 1e3)]
    )
    return data[: match.start()] + f"{new!r}".encode() + data[match.end() :]


def _numbers(data: bytes, rng: random.Random) -> bytes:
    """Every number a little off, as of an unsteady hand."""
    share = rng.choice([0.001, 0.02, 0.3])
    return NUMBER.sub(lambda m: f"{float(m[0].replace(b',', b'.')) * (1 + rng.gauss(0, share)):.6g}".encode(), data)


def _lines(data: bytes, rng: random.Random) -> bytes:
    lines = data.split(b"\n")
    rng.shuffle(lines)
    return b"\n".join(lines)


def _swap(data: bytes, rng: random.Random) -> bytes:
    """One word of the file in the place of another."""
    words = re.findall(rb"[A-Za-z][\w-]+", data)
    return data.replace(rng.choice(words), rng.choice(words), 1) if words else data


def _deep(data: bytes, rng: random.Random) -> bytes:
    at = rng.randrange(len(data) + 1)
    return data[:at] + rng.choice([b"[", b"{a=", b"<g>", b"(", b'"', b"a."]) * rng.choice([3, 300, 30_000]) + data[at:]


CHANGES: tuple[Change, ...] = (_cut, _twice, _flip, _word, _number, _numbers, _lines, _swap, _deep)


@dataclass(slots=True)
class Tally:
    """What came of it."""

    handed_in: Counter[str] = field(default_factory=Counter)
    marked: int = 0
    lines: int = 0
    longest: float = 0.0
    slowest: str = ""
    wrong: list[str] = field(default_factory=list)


def seeds() -> dict[str, list[bytes]]:
    """Good answers by their kinds."""
    found: dict[str, list[bytes]] = {kind: [] for kind in KINDS}
    for path in sorted((FOLDER / "answers").iterdir()):
        data = path.read_bytes()
        if path.suffix == ".csv":
            kind = "points" if data.startswith(b"seam") else "table"
        else:
            kind = "drawing" if path.suffix == ".svg" else "form" if b"learner" in data else "plan"
        found[kind].append(data)
    return found


def changed(kind: str, good: dict[str, list[bytes]], rng: random.Random) -> bytes:
    """An answer of a kind, damaged once or a few times over, or grown together with a hostile file."""
    data = rng.choice(good[kind])
    if rng.random() < 0.15:
        other = rng.choice(ENEMIES)
        data = data[: rng.randrange(len(data) + 1)] + other[rng.randrange(len(other) + 1) :]
    for _ in range(rng.choice([1, 1, 1, 2, 4])):
        data = rng.choice(CHANGES)(data, rng)
    return data[:3_000_000]


def batch(folder: Path, homework: Homework, good: dict[str, list[bytes]], rng: random.Random, tally: Tally) -> None:
    """Hands in one batch and has it marked and told."""
    answers = folder / "answers"
    if rng.random() < GOOD:
        shutil.copytree(FOLDER / "answers", answers)
    else:
        answers.mkdir()
    for k in range(BATCH):
        kind = rng.choice(list(KINDS))
        learner, task = rng.choice(CLASS).name.lower(), rng.choice([2, 3, 6])
        name = KINDS[kind].format(learner=learner, task=task, k=k)
        (answers / name).write_bytes(changed(kind, good, rng))
        tally.handed_in[kind] += 1
    store = Store(folder / "out")
    try:
        register = enrolled(homework, store, FOLDER / "class.csv", [])
        run = MarkingRun(homework, register, store, date.today())
        last = time.process_time()

        def went_on(source: str) -> None:
            nonlocal last
            now = time.process_time()
            if now - last > tally.longest:
                tally.longest, tally.slowest = now - last, source
                if now - last > LONGEST:
                    tally.wrong.append(f"{source} took {now - last:.1f} s")
            last = now

        run.take(handed_in([answers], register), went_on)
        reported = Report(homework, register, store).write()
        tally.marked += run.taken.marked
        tally.lines += len(run.taken.lines)
        tally.wrong += [line for line in [*run.taken.lines, *reported.lines] if not _is_clear(line)]
    finally:
        store.close()
    outside = {path.name for path in folder.iterdir()} - {"answers", "out"}
    tally.wrong += [f"{name} was written" for name in outside]


def _is_clear(line: str) -> bool:
    """Whether a line is one line, as the command prints it, and blames no bug."""
    shown = printable(line)
    return not {unicodedata.category(letter) for letter in shown} & HIDDEN and "Traceback" not in shown


def fuzz(seconds: float, seed: int) -> Tally:
    """Goes on for so many seconds; stops at the first thing that is wrong."""
    tally, rng, good = Tally(), random.Random(seed), seeds()
    homework = read_homework(FOLDER / "homework.toml")
    until = time.monotonic() + seconds
    # Variants are dealt once; each batch begins with a new folder and the same register.
    with tempfile.TemporaryDirectory() as dealt:
        store = Store(Path(dealt))
        register = enrolled(homework, store, FOLDER / "class.csv", []).text().encode()
        store.close()
    while time.monotonic() < until and not tally.wrong:
        folder = Path(tempfile.mkdtemp(prefix="fuzz-class-"))
        (folder / "out").mkdir()
        (folder / "out" / "register.json").write_bytes(register)
        try:
            batch(folder, homework, good, rng, tally)
        except Exception:
            tally.wrong.append(traceback.format_exc())
        if tally.wrong:
            tally.wrong.append(f"kept in {folder}")
        else:
            shutil.rmtree(folder)
    return tally


def main() -> int:
    seconds = float(sys.argv[1]) if len(sys.argv) > 1 else SECONDS
    tally = fuzz(seconds, int(sys.argv[2]) if len(sys.argv) > 2 else 0)
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    kinds = ", ".join(f"{count} of {kind}" for kind, count in sorted(tally.handed_in.items()))
    print(f"{tally.handed_in.total()} damaged files handed in ({kinds})")
    print(f"{tally.marked} answers marked, {tally.lines} lines of what could not be")
    print(f"the longest took {tally.longest:.2f} s of processor time ({tally.slowest}); {memory:.0f} MB at the most")
    for line in tally.wrong:
        print(f"wrong: {line}")
    return int(bool(tally.wrong) or memory > MOST_MB)


if __name__ == "__main__":
    sys.exit(main())
