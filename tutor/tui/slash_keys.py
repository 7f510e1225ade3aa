"""Keys that make slashes: placing and moving them, hinges, taking away, undo."""

from __future__ import annotations

from dataclasses import replace

from tutor.alteration.place_words import LANDMARK_WORDS
from tutor.tui import guide
from tutor.tui.amount_keys import AmountKeys
from tutor.tui.choice import Choice
from tutor.tui.marker import Marker
from tutor.tui.placing import Placing, picked_up, refused, track_of
from tutor.tui.plan_lines import Kind
from tutor.tui.walk_keys import WalkKeys


class SlashKeys(AmountKeys, WalkKeys):
    """Slashes by key. While one is placed, a marker walks along the edge of the paper."""

    def slash_name(self) -> str:
        line = self.line()
        return line.slash if line is not None else ""

    def toggle(self, end: str) -> None:
        slash = self.session.draft.slash(self.slash_name())
        if slash is None:
            self.said = "Choose a slash first: its ends are hinges, or cut through."
        elif end == "start":
            self.attempt(lambda: self.session.set_hinge(slash.name, "start", not slash.start_hinge))
        else:
            self.attempt(lambda: self.session.set_hinge(slash.name, "end", not slash.end_hinge))

    def do_toggle_start(self) -> None:
        self.toggle("start")

    def do_toggle_end(self) -> None:
        self.toggle("end")

    def do_delete(self) -> None:
        line = self.line()
        if line is None:
            return
        if line.kind is Kind.SLASH:
            self.attempt(lambda: self.session.remove_slash(line.slash))
        elif line.kind in (Kind.STATION, Kind.AMOUNT):
            self.set_amount(line, None)

    def do_undo(self) -> None:
        if not self.session.undo():
            self.said = "There is nothing to take back."

    def do_redo(self) -> None:
        if not self.session.redo():
            self.said = "There is nothing to do again."

    def do_new_slash(self) -> None:
        if not self.session.may_use("slashes"):
            self.said = "This task is done without slashes: choose an amount with the arrows, + changes it."
            return
        track = track_of(self.session)
        self.placing = Placing(track, track.at_landmark("crown") or Marker(track.stops[0][0]))
        self.show_the_sleeve()

    def do_lay_tape(self) -> None:
        """A tape measure, held at first where the crown is."""
        track = track_of(self.session)
        self.placing = Placing(track, track.at_landmark("crown") or Marker(track.stops[0][0]), measuring=True)
        self.show_the_sleeve()

    def do_hold_tape(self) -> None:
        """Holds the tape where the marker stands; what it read up to there is said once more, and kept."""
        if self.placing is None:
            return
        if self._keep_reading():
            self.said = f"{self.taped_now().strip()} It is held here now: walk on."
        self.placing = replace(self.placing, first=self.placing.marker)

    def do_tape_off(self) -> None:
        """Takes the tape off; what it read can be read until the answer is written."""
        if self.placing is not None and self._keep_reading():
            read = guide.tape_read(self.session, self.placing, self.desk.unit)
            self.said = f"{read} Enter: your answer."
        self.placing = None

    def _keep_reading(self) -> bool:
        """Keeps where the tape lies, if it reads anything there."""
        if self.placing is None or not guide.tape_read(self.session, self.placing, self.desk.unit):
            return False
        self.taped = self.session.task_number, self.placing
        return True

    def do_move_start(self) -> None:
        self.pick_up("start")

    def do_move_end(self) -> None:
        self.pick_up("end")

    def pick_up(self, end: str) -> None:
        """Picks an end of the chosen slash up, to be moved."""
        self.placing = picked_up(self.session, self.slash_name(), end)
        if self.placing is None:
            self.said = "Choose a slash first; then m picks up its start and M its end."
        else:
            self.show_the_sleeve()

    def do_give_up(self) -> None:
        self.placing = None

    def do_next_line(self) -> None:
        self.walk(lambda placing: placing.track.next_line(placing.marker))

    def do_go_to(self) -> None:
        assert self.placing is not None
        names = [(name, LANDMARK_WORDS.get(name, name)) for _, name in self.placing.track.stops]

        def take(name: str | None) -> None:
            if name is not None and self.placing is not None:
                self.placing = self.placing.at(self.placing.track.at_landmark(name) or self.placing.marker)
            self.show()

        self.app.push_screen(Choice("Go to which place?", names, enter="go there", ascii=self.desk.ascii), take)

    def do_put(self) -> None:
        self.put(hinge=False)

    def do_put_hinge(self) -> None:
        self.put(hinge=True)

    def put(self, *, hinge: bool) -> None:
        """Sets an end of the slash at the marker; with the second one it is made."""
        placing = self.placing
        assert placing is not None
        if not placing.moving and placing.first is None:
            self.placing = replace(placing, first=placing.marker, first_hinge=hinge)
            return
        if placing.candidate is None:
            self.said = "The slash has no length yet: walk the marker to where it ends."
            return
        reason = refused(self.session, placing)
        if reason is not None:
            words = guide.refusal_words(reason, self.desk.unit)
            self.said = f"Paper can't be cut so: {words}. Walk on, or Esc leaves off."
            return
        self.chosen = self._made(placing, hinge) or self.chosen
        self.placing = None

    def _made(self, placing: Placing, hinge: bool) -> str:
        """Makes or moves the slash, and gives its name."""
        session, names = self.session, list[str]()
        if placing.moving:
            start, end = (placing.place, None) if placing.moving == "start" else (None, placing.place)
            self.attempt(lambda: session.move_slash(placing.name, start, end))
            names.append(placing.name)
        elif (first := placing.set_place) is not None:
            self.attempt(lambda: names.append(session.add_slash(first, placing.place, placing.first_hinge, hinge)))
        return names[0] if names else ""
