"""A tutor for the tests to run beside others: answers so many times, saving each, and says how many saves waited.

    python tests/record_writer.py FOLDER ANSWERS

prints "ready", and begins when a line comes in. It ends when standard input does, so that it can hold a lesson open.
"""

import sys
from pathlib import Path

from record_driving import easy_lesson

from tutor.practice.session import Session
from tutor.record import open_record
from tutor.units import Unit

if __name__ == "__main__":
    folder, answers = Path(sys.argv[1]), int(sys.argv[2])
    lesson = easy_lesson(Path(sys.argv[3]))
    with open_record(folder) as record:
        session = record.resume(lesson)[0] or Session(lesson, Unit.CM)
        session.go_to_task(2)
        print("ready", flush=True)
        sys.stdin.readline()
        waited = 0
        for number in range(answers):
            session.answer(f"{sys.argv[4]} {number}/1024 in")
            waited += not record.save(session, {"answer": number})
        print(waited, record.notice, flush=True)
        sys.stdin.read()
