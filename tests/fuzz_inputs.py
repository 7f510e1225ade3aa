"""Feeds every reader of outside data with what a coverage-guided fuzzer makes of good bytes.

    python tests/fuzz_inputs.py [SECONDS [READER...]]

needs atheris, which is no dependency of the project and wants an environment of its own::

    python -m venv /tmp/venv-fuzz && /tmp/venv-fuzz/bin/pip install -e '.[test]' atheris

Each reader of ``tests/outside_data.py`` has a process of its own for so many seconds, 60 if left out. Printed are how
often it was called, how much of the program it reached at the start and at the end, and the longest time and the most
memory it took. The status is 1 when a reader raised anything but Fault or Refusal, took more than two seconds of
processor time, or its process more than 300 MB; the bytes are kept beside what was found to reach more of the program,
in a folder for temporary files from which the next run goes on. Nothing is written outside of such folders.
"""

from __future__ import annotations

import contextlib
import hashlib
import importlib
import os
import re
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

SECONDS = 60
LONGEST = 2.0
MOST_MB = 300
HUNG = 120
"""Seconds after which a call is broken off; they are those of the clock, on a machine that may be busy."""
LONGEST_INPUT = 10_000
KEPT = Path(tempfile.gettempdir()) / "sleeve-tutor-fuzz"
WORDS = (
    *("nan", "inf", "-1e309", "1e-320", "-0", "0x10", "99999999999999999999", "null", "true", "[]", "{}", r"\x00"),
    *("[[", "]]", "{", "}", "=", "'''", r"\"\"\"", r"\x0a", ";", ",", r"\xff", r"\xef\xbb\xbf", r"\xd9\xa1"),
    *("crown", "hem", "grain-hem", "underarm-back", "cap-front", "bicep-girth", "cap-height", "crosses", "toward"),
    *("task", "solution", "hinge", "from", "to", "amount", "value", "for", "kind", "plan", "number", "choice"),
    *("<g>", "</g>", r"<use href=\"#hem\"/>", r"transform=\"scale(0)\"", "viewBox", "&#0;", "<!DOCTYPE", "matrix("),
    *("--", "--json", "--out", "--plain", "--units", "--seed", "2999-01-01", "9999-12-31T23:59:59+00:00", " cm", " in"),
    *("~/", "../", "place"),
)
"""What may stand in such files, as the fuzzer reads it: with backslashes before quotes and bytes."""
WRITING = os.O_WRONLY | os.O_RDWR | os.O_CREAT | os.O_TRUNC | os.O_APPEND
CHANGING = ("os.mkdir", "os.rename", "os.remove", "os.rmdir", "os.link", "os.symlink", "os.truncate", "os.chmod")


def keep_inside(folder: Path) -> None:
    """Has the system's refusal met, from now on, by whatever would write outside the folder, or start a program."""
    inside = (str(folder.parent.parent), str(KEPT), os.devnull)

    def watch(event: str, arguments: tuple[Any, ...]) -> None:
        if event == "open":
            path, _, flags = arguments
            if isinstance(path, int) or not isinstance(flags, int) or not flags & WRITING:
                return
        elif event in ("subprocess.Popen", "os.system", "os.exec", "os.posix_spawn"):
            raise PermissionError(1, "Operation not permitted")
        elif event not in CHANGING:
            return
        else:
            path = arguments[0]
        if not os.path.abspath(os.fsdecode(path)).startswith(inside):
            raise PermissionError(13, "Permission denied", os.fsdecode(path))

    sys.addaudithook(watch)


def watched(take: Callable[[bytes], object], kept: str) -> Callable[[bytes], None]:
    """The reader with the time it takes looked at, and what it may raise let by; bytes that it raises something else
    for are written to a file whose name begins with ``kept``."""
    from tutor.alteration.refusal import Refusal
    from tutor.faults import Fault

    longest = 0.0

    def call(data: bytes) -> None:
        nonlocal longest
        before = time.process_time()
        try:
            take(data)
        except Fault as fault:
            line = str(fault)
            assert line.isprintable(), line
        except Refusal:
            return
        except Exception:
            # Not every release of the fuzzer keeps them itself.
            Path(f"{kept}{hashlib.sha256(data).hexdigest()[:12]}").write_bytes(data)
            raise
        finally:
            took = time.process_time() - before
            if took > longest:
                longest = took
                print(f"longest: {longest:.3f}", file=sys.stderr, flush=True)
        if took > LONGEST:
            raise TimeoutError(f"took {took:.1f} s")

    return call


def fuzz(name: str, reader: Any, folder: Path, seconds: int) -> None:
    """Fuzzes one reader in this process, which ends with it."""
    atheris: Any = importlib.import_module("atheris")
    seeds, words, found = folder / "seeds", folder / "words", KEPT / name.replace(" ", "-")
    for each in (seeds, found):
        each.mkdir(parents=True, exist_ok=True)
    for number, seed in enumerate(reader.seeds):
        (seeds / str(number)).write_bytes(seed)
    words.write_text("".join(f'"{word}"\n' for word in WORDS), encoding="utf-8")
    keep_inside(folder)
    options = {
        "max_total_time": seconds,
        "max_len": max(LONGEST_INPUT, *map(len, reader.seeds)),
        "timeout": HUNG,
        "rss_limit_mb": MOST_MB,
        "dict": words,
        "artifact_prefix": f"{KEPT}/wrong-{found.name}-",
        "print_final_stats": 1,
        "reload": 0,
    }
    given = [f"-{option}={value}" for option, value in options.items()]
    atheris.Setup([sys.argv[0], *given, str(found), str(seeds)], watched(reader.take, f"{KEPT}/wrong-{found.name}-"))
    atheris.Fuzz()


def ran(name: str, reader: Any, folder: Path, seconds: int) -> bool:
    """Fuzzes one reader in a process of its own and tells what came of it; whether nothing was wrong."""
    told = folder / "told"
    child = os.fork()
    if child == 0:
        output = os.open(told, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
        os.dup2(output, 1)
        os.dup2(output, 2)
        try:
            fuzz(name, reader, folder, seconds)
        finally:
            os._exit(70)
    status = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
    log = told.read_text(encoding="utf-8", errors="replace")
    reached = [int(figure) for figure in re.findall(r"cov: (\d+)", log)]
    figures = dict(re.findall(r"stat::(\w+):\s+(\d+)", log))
    longest = max(map(float, re.findall(r"longest: ([\d.]+)", log)), default=0.0)
    first, last = (reached[0], reached[-1]) if reached else (0, 0)
    calls, memory = figures.get("number_of_executed_units", "?"), figures.get("peak_rss_mb", "?")
    print(f"{name:14} {calls:>8} calls, reached {first:>6} to {last:>6}, {longest:5.2f} s, {memory} MB", flush=True)
    if status:
        start = log.find("=== Uncaught Python exception")
        print(f"wrong, status {status}:\n{log[start if start >= 0 else -3000 :][:3000]}", flush=True)
    return status == 0


def main() -> int:
    try:
        atheris: Any = importlib.import_module("atheris")
    except ImportError:
        print("fuzz_inputs.py needs atheris, which is not installed here; its first lines say how", file=sys.stderr)
        return 2
    seconds, names = int(sys.argv[1]) if sys.argv[1:] else SECONDS, sys.argv[2:]
    started = time.monotonic()
    sound = []
    memory = "/dev/shm" if Path("/dev/shm").is_dir() else None
    with tempfile.TemporaryDirectory(prefix="fuzz-inputs-", dir=memory) as place:
        folder = Path(place)
        # What is imported while the program runs has to be imported here to be followed.
        with atheris.instrument_imports(include=["tutor", "tomllib"]):
            from outside_data import readers

            known = readers(folder)
            for name in names or known:
                if name not in known:
                    print(f"no reader is called {name}; there are {', '.join(known)}", file=sys.stderr)
                    return 2
                for seed in known[name].seeds:
                    with contextlib.suppress(Exception):
                        known[name].take(seed)
        print(f"begun after {time.monotonic() - started:.0f} s", flush=True)
        for name in names or known:
            own = folder / "fuzzed" / name.replace(" ", "-")
            own.mkdir(parents=True)
            sound.append(ran(name, known[name], own, seconds))
    print(f"{time.monotonic() - started:.0f} s; kept in {KEPT}")
    return int(not all(sound))


if __name__ == "__main__":
    sys.exit(main())
