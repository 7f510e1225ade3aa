"""What has been done, kept in SQLite in the user's data folder: lessons under way, answers, progress, settings.

Everything is kept as it happens: ``save`` has written the session, every undo step included, when it returns, and a
killed process loses nothing that was saved. Nothing here ever raises for a disk or a file: what can't be kept is told
in ``notice``, practice goes on, and each later ``save`` tries again.

The folder is the platform's for user data, or the one that the variable ``SLEEVE_TUTOR_DATA`` names.

On a screen::

    record = open_record()
    session, screen = record.resume(lesson)                  # (None, None): there is nothing to come back to
    session = session or Session(lesson, unit)
    record.save(session, {"chosen": chosen, "zoom": zoom})   # after every action, before its effect is shown
    say(record.take_notice())                                # "" while all is well
    record.close()                                           # when the tutor is left

Line by line::

    with open_record() as record:
        session = record.resume(lesson)[0] or Session(lesson, unit)
        for line in lines:
            obey(session, line)
            record.save(session)
            say(record.take_notice())

For a list of lessons there are ``record.progress(lessons)`` and ``record.last_lesson()``; a quiz is kept by
``record.save_quiz(sitting)``, which has its answers as attempts once it is over.
"""

from tutor.record.attempts import KeptAttempt
from tutor.record.progress import LessonProgress
from tutor.record.record import LastLesson, Record, open_record
from tutor.settings import data_folder

__all__ = ["KeptAttempt", "LastLesson", "LessonProgress", "Record", "data_folder", "open_record"]
