"""Taps, beds and plantings of a new garden, one a line at a terminal; every guess is read back.

Each line is entered by the service of its own command as soon as it can be right, so that whoever breaks
off has lost nothing. What is a guess and stands is said to be right, as by --right.
"""

from pathlib import Path
from typing import Any

from soakbook.cli import options, paper
from soakbook.cli.answers import answer, is_right, yes
from soakbook.cli.paper import Report
from soakbook.errors import InputError

USUAL_REACH = "30"
NOT_TRIED = "not tried"
YES = "yes"

OF_TAPS = """\
A tap: its letter, and the seconds to fill a {can_l:g} L can at the hose's end, with the lance you use:
  A 43
Run it until it comes cold first. Enter for none."""
OF_BEDS = """\
Beds, one a line: name, size, soil, place, tap. "?" lists the words; "?" for the soil asks about it.
  Chapel Wall, 18 m2, sandy loam, south wall foot, A
Enter ends."""
OF_PLANTINGS = """\
Plantings, one a line: bed, what, how many, pot or ball, when. Several may be pasted at once.
  chapel, climbing rose, 6, 7.5 L pot, 20 mar
  dole, shrub rose, 14, dug ball 45 cm, 3 apr
  ride, hornbeam whip, 120, bare root, 22 jan
Enter ends."""
PINCH = (
    "Wet a pinch, squeeze it between thumb and finger. Falls apart: loamy sand. A ball, no ribbon: sandy loam. A "
    "ribbon under 25 mm: loam. One of 25 to 50 mm: clay loam. Longer: clay. No idea: unknown."
)
GO_ON = """\
What was read back is in the book. Each line also works alone:
  soakbook tap A --fill 10l 43s
  soakbook bed chapel --area 18m2 --soil "sandy loam" --place open --tap A
  soakbook plant chapel "climbing rose" 6 --pot 7.5l --on 20mar
or a whole list: soakbook plant --from plan.csv. Then soakbook round."""


class NewBeds:
    """The conversation about one book."""

    def __init__(self, path: Path, can_l: float) -> None:
        self.path = path
        self.can_l = can_l
        self.taps: list[str] = []
        self.keys: list[str] = []
        self.with_balls: list[str] = []
        self._said: set[str] = set()

    def ask_taps(self) -> None:
        """Taps, until there is none more."""
        _put(OF_TAPS.format(can_l=self.can_l))
        while lines := _but_no(paper.ask_lines("Another tap" if self.taps else "A tap")):
            for line in lines:
                self._entered(self._tap, line)

    def ask_beds(self) -> None:
        """Beds, until a blank line."""
        _put(OF_BEDS)
        while lines := _but_no(paper.ask_lines("Bed")):
            for line in lines:
                self._entered(self._bed, line)

    def ask_plantings(self) -> None:
        """Plantings, until a blank line; nothing where there is no bed."""
        if not self.keys:
            return
        _put(OF_PLANTINGS)
        while lines := _but_no(paper.ask_lines("Planting")):
            for line in lines:
                self._entered(self._planting, line)

    def _entered(self, enter: Any, line: str) -> None:
        """Enter a line; where it cannot be right say why, and nothing of it is entered."""
        try:
            enter(line)
        except InputError as error:
            paper.put_error(str(error))

    def _tap(self, line: str) -> None:
        from soakbook.services.line_words import tap_line
        from soakbook.services.setup import tap

        word, typed = tap_line(line, self.can_l)
        told = tap(self.path, word, now=options.now(), **typed)
        _put(*told["say"])
        key = told["changed"]["tap"]
        if key not in self.taps:  # once more it is another test of the same tap
            self.taps.append(key)

        def enter(text: str) -> None:
            tap(self.path, key, now=options.now(), reach=_metres(text))

        answer(None, "How far does its hose reach, in metres?", enter, USUAL_REACH)

    def _bed(self, line: str) -> None:
        from soakbook.services.bed_words import bed_fields
        from soakbook.services.beds import NO_TAP
        from soakbook.services.line_words import HELP, bed_line, soil_said
        from soakbook.services.setup import bed

        if line.strip() == HELP:
            _put(*_words(self.taps))
            return
        key, typed, ask_soil = bed_line(line, self.keys, self.taps)
        if ask_soil:  # once the rest of the line can be right: nobody wets a pinch for nothing
            bed_fields({option: text for option, text in typed.items() if option != "tap"})
            _put(PINCH)
            typed |= answer(None, f"Soil of {typed['name']}", soil_said, "unknown")
        told = bed(self.path, key, now=options.now(), **typed)
        self.keys.append(key)
        _put(told["say"][0])
        if typed.get("tap", NO_TAP[0]).casefold() in NO_TAP:
            self._caution("soak")
        guessed = {one["what"]: one["value"] for one in told["changed"]["guesses"]}
        self._of_place(key, guessed)
        if "drainage" in guessed and "soil" not in guessed:
            self._of_hole(key)

    def _of_place(self, key: str, guessed: dict[str, str]) -> None:
        """Read back what the place of a bed was taken for."""
        from soakbook.services.setup import bed

        share, drying = guessed.get("share of the rain"), guessed.get("drying")
        if share is None or drying is None:
            return
        if is_right(f"{key}: share of the rain {share}; dries {drying}."):
            bed(self.path, key, now=options.now(), right=YES)
            return

        def enter(option: str) -> Any:
            return lambda text: bed(self.path, key, now=options.now(), **{option: text})

        question = "How much of the rain in the open reaches it? (0.45, or 45%)"
        answer(None, question, enter("rain_share"), share)
        question = "How many times as fast as open ground does it dry?"
        answer(None, question, enter("exposure"), drying.split()[0])

    def _of_hole(self, key: str) -> None:
        """Ask whether the bed drains; whoever has not tried is asked by a round."""
        from soakbook.services.beds import ASK_HOLE
        from soakbook.services.setup import bed

        def enter(text: str) -> None:
            if text.strip().casefold() != NOT_TRIED:
                bed(self.path, key, now=options.now(), hole=text)

        answer(None, f"{ASK_HOLE} (standing, gone, 20mm/h)", enter, NOT_TRIED)

    def _planting(self, line: str) -> None:
        from soakbook.services.line_words import plant_line
        from soakbook.services.setup import plant

        bed, kind, count, typed = plant_line(line)
        try:
            told = plant(self.path, bed, kind, count, now=options.now(), **typed)
        except InputError as error:
            like = self._like(kind) if error.field == "kind" else ""
            if not like:
                raise
            typed["plant_class"] = like
            told = plant(self.path, bed, kind, count, now=options.now(), **typed)
        if "bare" not in typed and told["bed"] not in self.with_balls:
            self.with_balls.append(told["bed"])
        _put(told["say"][0], *told["changed"]["mind"])
        self._of_plants((told["bed"], typed.get("name", kind), count), told, typed)

    def _like(self, kind: str) -> str:
        """What a plant is like that the tables do not know; empty where it is left off."""
        from soakbook.garden.tables.kinds import ROWS

        words = ", ".join(ROWS).replace("_", "-")
        return paper.ask(f"What is {kind} like? ({words}; Enter to leave it)", "").strip()

    def _of_plants(self, which: tuple[str, str, str], told: Report, typed: dict[str, str]) -> None:
        """Read back what ball and leaves were taken for; ask what the guess hangs on where it is not right."""
        from soakbook.services.setup import plant

        parts = {one["what"]: one["value"] for one in told["changed"]["guesses"]}
        guessed = [f"{what} {parts[what]}" for what in ("ball", "leaves", "grown") if what in parts]
        if not guessed:
            return
        if is_right(f"{'; '.join(guessed).capitalize()}."):
            plant(self.path, *which, now=options.now(), right=YES)
            return

        def enter(option: str) -> Any:
            return lambda text: plant(self.path, *which, now=options.now(), **{option: text})

        if "ball" in typed and yes("Were the balls dug deeper than a spade?", "no"):
            plant(self.path, *which, now=options.now(), ball=typed["ball"], deep=YES)
        if not {"pot", "ball", "bare"} & typed.keys():
            self._came(which)
        if "leaves" in parts:
            now_cm = _across(parts["leaves"])
            answer(None, "How far across are the leaves of one now?", enter("leaves"), now_cm)
        if "grown" in parts:
            grown_cm = _across(parts["grown"])
            answer(None, "And when grown?", enter("leaves_full"), grown_cm)

    def _came(self, which: tuple[str, str, str]) -> None:
        """Ask how plants came where nobody had said it."""
        from soakbook.services.origin_words import origin_said
        from soakbook.services.setup import plant

        def enter(text: str) -> None:
            if text.strip():
                plant(self.path, *which, now=options.now(), **origin_said(text))

        question = "How did they come? (7.5 L pot, dug ball 45 cm, bare root; Enter to leave it)"
        answer(None, question, enter, "")

    def _caution(self, about: str) -> None:
        from soakbook.services.cautions import CAUTIONS

        if about not in self._said:
            self._said.add(about)
            _put(CAUTIONS[about])


def _but_no(lines: list[str]) -> list[str]:
    """The lines but for a `none` or `no` that stands alone, which ends like a blank one."""
    return [] if [line.strip().casefold() for line in lines] in (["none"], ["no"]) else lines


def _words(taps: list[str]) -> tuple[str, ...]:
    """The words that a bed's line may have."""
    from soakbook.garden.tables.places import PLACES
    from soakbook.garden.tables.soils import SOILS

    return (
        "Size: 18 m2, 200 sq ft.",
        f"Soil: {', '.join(SOILS)}, unknown; or ? and a pinch tells.",
        f"Place: {', '.join(PLACES)}.",
        f"Tap: {', '.join([*taps, 'none'])}.",
    )


def _across(said: str) -> str:
    """`36cm` of `36 cm across when planted`."""
    return "".join(said.split()[:2])


def _metres(text: str) -> str:
    """A length as typed, in metres where no unit is said."""
    return f"{text.strip()}m" if text.strip().replace(".", "", 1).isdigit() else text


def _put(*paragraphs: str) -> None:
    page = paper.new_page()
    for paragraph in paragraphs:
        page.text(paragraph)
    paper.put(page)
