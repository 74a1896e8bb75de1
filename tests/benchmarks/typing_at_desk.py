"""What a coach types into begun notes, and how long that takes by the keystroke-level model.

Card, Moran and Newell (1980): an average typist who is no secretary takes .28 s a key, .20 s a
mouse button; 1.1 s to point, .4 s to move a hand between keyboard and mouse, 1.35 s to make up
one's mind. Every place is pointed at with the mouse, and thought about once.
"""

from dataclasses import dataclass, field

KEY_S, BUTTON_S, POINT_S, HAND_S, MIND_S = 0.28, 0.20, 1.1, 0.4, 1.35
_TO_A_PLACE_S = MIND_S + HAND_S + POINT_S + BUTTON_S + HAND_S


@dataclass(slots=True)
class Typed:
    """``signs`` are characters, ``keys`` all that is pressed; neither counts intent and words."""

    signs: int = 0
    keys: int = 0
    seconds: float = 0.0

    def add(self, signs: int, *, further_keys: int = 0) -> None:
        self.signs += signs
        self.keys += signs + further_keys
        self.seconds += KEY_S * (signs + further_keys)


@dataclass(slots=True)
class Desk:
    """A text that is typed in."""

    text: str
    typed: Typed = field(default_factory=Typed)

    def intent(self, words: str) -> None:
        """Not counted, as are the words to the student."""
        self._replace("\nintent:\n", f"\nintent: {words}\n")

    def words(self, words: str) -> None:
        self.text = f"{self.text}{words}\n"

    def fill(self, key: str, value: str) -> None:
        """What is typed behind a key that stands there."""
        self._go()
        self._replace(f"\n{key}:\n", f"\n{key}: {value}\n")
        self.typed.add(len(value) + 1)

    def into(self, line: str, blank: str, value: str) -> None:
        """What is typed at a place that was left open within a line."""
        self._go()
        at = self.text.index(blank, self.text.index(line)) + len(blank)
        self.text = f"{self.text[:at]}{value}{self.text[at:]}"
        self.typed.add(len(value))

    def take(self, *lines: str) -> None:
        """The "# " taken from lines that follow each other: two keys each, and one to the next."""
        self._go()
        for line in lines:
            self._replace(f"\n# {line}\n", f"\n{line}\n")
            self.typed.add(0, further_keys=3)

    def add_line(self, below: str, line: str) -> None:
        self._go()
        self._replace(f"\n{below}\n", f"\n{below}\n{line}\n")
        self.typed.add(len(line), further_keys=1)

    def answer(self, words: str) -> None:
        """What is typed where ``new`` asks."""
        self.typed.seconds += MIND_S
        self.typed.add(len(words), further_keys=1)

    def _go(self) -> None:
        self.typed.seconds += _TO_A_PLACE_S

    def _replace(self, old: str, new: str) -> None:
        assert self.text.count(old) == 1, (old, self.text)
        self.text = self.text.replace(old, new)
