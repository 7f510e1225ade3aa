"""Keys for marking and help: check, answer, hints, the worked solution, the next task."""

from __future__ import annotations

from tutor.faults import Fault
from tutor.lesson.task import HINTS, NumberTask
from tutor.marking.marked import Marked
from tutor.pattern.measures import Kind, kind_of
from tutor.practice.options import JOIN
from tutor.tui.actions import Mode, named
from tutor.tui.figure_pages import marked_parts
from tutor.tui.guide import onward
from tutor.tui.lesson_face import LessonFace
from tutor.tui.pages import paragraphs
from tutor.tui.plan_lines import stepped_figure, stepped_text
from tutor.tui.prompt import Prompt, asked_in
from tutor.tui.seeking import seeking_of
from tutor.tui.showing import showing
from tutor.units import Unit


class MarkingKeys(LessonFace):
    """Nothing is marked until it is asked for."""

    def do_check(self) -> None:
        if self.mode is Mode.PLACE:
            self.session.show_place(self.seeking_now().marker.along)
        if self.mode in (Mode.NUMBER, Mode.CHOICE) and self.session.answered is None:
            self._ask_for_answer()
            return
        self.tell(self.session.check())

    def _ask_for_answer(self) -> None:
        """There is nothing to be marked yet."""
        if self.mode is Mode.NUMBER:
            self.do_answer()
        else:
            self.said = "Nothing is chosen yet: ↑↓ go from one to the next, Enter chooses."

    def do_show_place(self) -> None:
        self.do_check()

    def tell(self, marked: Marked) -> None:
        further = ("n", onward(self.session))
        ways = (further, ("A", "practise this again")) if marked.passed else (("h", "hint"), further)

        def then(key: str | None) -> None:
            if key == "n":
                self.do_next_task()
            elif key == "h":
                self.do_hint()
            elif key == "A":
                self.do_another()
            self.show()

        secret = self.mode in (Mode.NUMBER, Mode.PLACE) and not marked.passed
        shown = self.session.standing() == "shown"
        parts = marked_parts(marked, self.desk.unit, marked.notes, secret=secret, shown=shown)
        self.read(f"Mark: {self.session.task.title}", parts, then, ways, beside=True)

    def do_answer(self) -> None:
        session, marks = self.session, list[Marked]()

        def check(text: str) -> None:
            marks.append(session.answer(text))

        def take(text: str | None) -> None:
            if marks:
                self.tell(marks[-1])
            self.show()

        unit, task = self.desk.unit, session.task
        of = task.measure if isinstance(task, NumberTask) else ""
        # Where the answer is what a measure comes to, it is near to what that measure is.
        asks_value = isinstance(task, NumberTask) and task.asks == "value" and task.after
        start = session.measures_before().get(of, 0.0) if asks_value else 0.0

        def step(text: str, steps: int) -> str:
            return stepped_text(text, steps, unit, start) if kind_of(of) is Kind.LENGTH else stepped_figure(text, steps)

        words = f"{task.title}: your answer, in {asked_in(unit, kind_of(of))}. Enter has it marked.{self.taped_now()}"
        example = "such as 4 7/8" if unit is Unit.INCH and kind_of(of) is Kind.LENGTH else "such as 12.5"
        prompt = Prompt(words, example, check, step, enter="have it marked", ascii=self.desk.ascii)
        self.app.push_screen(prompt, take)

    def do_hint(self) -> None:
        more = self.session.hints_taken < HINTS
        text = self.session.hint()
        taken = self.session.hints_taken
        ways = (("h", "next hint"),) if taken < HINTS else (("w", "worked solution"),)

        def then(key: str | None) -> None:
            if key == "h":
                self.do_hint()
            elif key == "w":
                self.do_solution()
            self.show()

        heading = f"Hint {taken} of {HINTS}" if more else f"Hint {taken} of {HINTS} once more: there are no others"
        self.read(heading, paragraphs([text]), then, ways, beside=True)

    def do_solution(self) -> None:
        def then(key: str | None) -> None:
            if key == "y":
                self._show_solution()
            self.show()

        if self.session.standing() in ("passed", "shown"):
            self._show_solution()
            return
        text = (
            "Once you have seen the worked solution, this task counts as shown, and can be passed only when the lesson"
            " is begun anew: by R, or by A on another arm and block."
        )
        self.read("A worked solution?", paragraphs([text]), then, (("y", "show it"),), "leave it")

    def _show_solution(self) -> None:
        try:
            solution = self.session.solution()
        except Fault as fault:
            self.said = f"There is no worked solution: {fault}."
            return
        if self.mode is Mode.PLACE:
            self.seeking = seeking_of(self.session, self.session.right_place())
        if self.mode is Mode.CHOICE:
            self.chosen = self.session.right_answer().split(JOIN)[0]
        played = showing(self.session.pattern, solution, self.desk.unit)
        if played is None:
            self.read("Worked solution", paragraphs(solution.steps))
        else:
            self.play(played)

    def do_next_task(self) -> None:
        if self.session.next_task():
            self.chosen = ""
            self.look_at_what_matters()
            self.show_task()
        else:
            self.leave()

    def do_last_task(self) -> None:
        if self.session.task_number == 1:
            self.said = "This is the lesson's first task."
            return
        self.session.go_to_task(self.session.task_number - 1)
        self.chosen = ""
        self.look_at_what_matters()

    def do_start_over(self) -> None:
        if self.mode is Mode.DIAGNOSE:
            self.session.clear()
            self.said = "No sign looked for, no cause named. u brings back what was there."
            return
        if self.session.plan is None:
            self.said = "The paper is fresh already."
            return
        self.session.clear()
        self.said = "Fresh paper. u brings back what was there."

    def do_begin_again(self) -> None:
        def then(key: str | None) -> None:
            if key in ("y", "w"):
                self._begin_again(as_written=key == "w")
            self.show()

        text = (
            "Every task of this lesson then begins anew, with fresh paper and no hints taken. Your marks so far stay in"
            " your progress."
        )
        if self.mode in named("start_over").modes:
            text = f"{text} To start only this task over, leave this and press X."
        ways: tuple[tuple[str, str], ...] = (("y", "start over"),)
        if self.session.seed is not None:
            text = f"{text} This is variant {self.session.seed}; w begins the lesson as it is written."
            ways = (*ways, ("w", "as written"))
        self.read("Start the whole lesson over?", paragraphs([text]), then, ways, "leave it")

    def do_another(self) -> None:
        """The task at hand, on another arm and block; asked for twice where something is begun and not done."""
        session = self.session
        begun = session.given is not None or any(map(session.attempts, range(1, len(session.tasks) + 1)))
        if session.settled or not begun:
            self._another()
            return

        def then(key: str | None) -> None:
            if key == "y":
                self._another()
            self.show()

        text = (
            "The lesson then begins anew there, at this task, and what you have begun here is left behind. Your marks"
            " so far stay in your progress."
        )
        self.read("Another arm and block?", paragraphs([text]), then, (("y", "another arm"),), "leave it")

    def _another(self) -> None:
        """The task at hand, on another arm and block: the lesson begins anew there, at this task."""
        number = self.session.task_number
        try:
            self.session = self.desk.another(self.lesson)
        except Fault as fault:
            self.said = f"{fault}."
            return
        self.session.go_to_task(number)
        self.forget()
        self.look_at_what_matters()
        self.do_brief()

    def _begin_again(self, *, as_written: bool) -> None:
        self.session = self.desk.begin_again(self.lesson, as_written=as_written)
        self.forget()
        self.look_at_what_matters()
        self.do_brief()

    def do_lessons(self) -> None:
        """Back to the list; where a message is being told, only that is taken away."""
        if not self.telling:
            self.leave()
