"""Keys for marking and help: check, answer, hints, the worked solution, the next task."""

from __future__ import annotations

from tutor.faults import Fault
from tutor.lesson.task import HINTS, NumberTask
from tutor.marking.marked import Marked
from tutor.pattern.measures import Kind, kind_of
from tutor.tui.actions import Mode
from tutor.tui.lesson_face import LessonFace
from tutor.tui.pages import marked_parts, paragraphs
from tutor.tui.plan_lines import stepped_text
from tutor.tui.prompt import Prompt
from tutor.tui.showing import showing


class MarkingKeys(LessonFace):
    """Nothing is marked until it is asked for."""

    def do_check(self) -> None:
        marked = self.session.check()
        self.tell(marked)

    def tell(self, marked: Marked) -> None:
        ways: tuple[tuple[str, str], ...] = (("n", "next task"),) if marked.passed else (("h", "hint"),)

        def then(key: str | None) -> None:
            if key == "n":
                self.do_next_task()
            elif key == "h":
                self.do_hint()
            self.show()

        secret = self.mode is Mode.NUMBER and not marked.passed
        parts = marked_parts(marked, self.desk.unit, self.session.notes(), secret=secret)
        self.read(f"Mark: {self.session.task.title}", parts, then, ways)

    def do_answer(self) -> None:
        session, marks = self.session, list[Marked]()

        def check(text: str) -> None:
            marks.append(session.answer(text))

        def take(text: str | None) -> None:
            if marks:
                self.tell(marks[-1])
            self.show()

        unit, task = self.desk.unit, session.task
        of = task.of if isinstance(task, NumberTask) else ""
        # Where the answer is what a measure comes to, it is near to what that measure is.
        asks_value = isinstance(task, NumberTask) and task.asks == "value" and task.after
        start = session.measures_before().get(of, 0.0) if asks_value else 0.0

        def step(text: str, steps: int) -> str:
            return stepped_text(text, steps, unit, start) if kind_of(of) is Kind.LENGTH else text

        words = f"{task.title}: your answer, in {unit.value}"
        self.app.push_screen(Prompt(words, "such as 12.5", check, step, ascii=self.desk.ascii), take)

    def do_hint(self) -> None:
        text = self.session.hint()
        taken = self.session.hints_taken
        ways = (("h", "next hint"),) if taken < HINTS else (("w", "worked solution"),)

        def then(key: str | None) -> None:
            if key == "h":
                self.do_hint()
            elif key == "w":
                self.do_solution()
            self.show()

        self.read(f"Hint {taken} of {HINTS}", paragraphs([text]), then, ways)

    def do_solution(self) -> None:
        def then(key: str | None) -> None:
            if key == "y":
                self._show_solution()
            self.show()

        if self.session.standing() in ("passed", "shown"):
            self._show_solution()
            return
        text = "Once you have seen the worked solution, this task counts as shown, and can't be passed any more."
        self.read("A worked solution?", paragraphs([text]), then, (("y", "show it"),), "leave it")

    def _show_solution(self) -> None:
        try:
            solution = self.session.solution()
        except Fault as fault:
            self.said = f"There is no worked solution: {fault}."
            return
        self.showing = showing(self.session.pattern, solution, self.desk.unit)
        if self.showing is None:
            self.read("Worked solution", paragraphs(solution.steps))

    def do_next_task(self) -> None:
        if self.session.next_task():
            self.chosen = ""
            self.look_at_what_matters()
            self.do_brief()
        else:
            self.do_lessons()

    def do_last_task(self) -> None:
        if self.session.task_number == 1:
            self.said = "This is the lesson's first task."
            return
        self.session.go_to_task(self.session.task_number - 1)
        self.chosen = ""
        self.look_at_what_matters()

    def do_lessons(self) -> None:
        self._leave()
