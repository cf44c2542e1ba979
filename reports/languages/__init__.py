"""Words of the papers in the languages there are: one catalogue, English its key.

English stands in the code, word for word; every other language is a ``.po`` file beside this one,
with a second one in ``desk`` for words that only the desk says, and a third in ``troubles`` for
what stands in the way, what stops a request, and what is found in sheets.
A message that a catalogue lacks is not passed over: asking for it stops the paper.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from functools import cache
from pathlib import Path

from supports.errors import BadInput
from supports.sentences import Sentence, Value, has_words, in_a_row, joined

FOLDER = Path(__file__).parent
FOLDERS = (FOLDER, FOLDER / "desk", FOLDER / "troubles")
ENGLISH = "en"


class Texts:
    """The words of one language; called with the English words it returns its own."""

    def __init__(self, language: str, words: Mapping[str, str]) -> None:
        self.language, self.words = language, words

    def __call__(self, message: str, **values: object) -> str:
        """Return a message in the language, its places in braces filled.

        Raises
        ------
        BadInput
            The language has no words for it.
        """
        said = self.words.get(message) if self.words else message
        if not said:
            raise BadInput(
                Sentence("the catalogue of '{language}' lacks a message", language=self.language),
                found=message,
                remedy="Take the paper in English",
            )
        return said.format(**values) if values else said

    def word(self, word: str) -> str:
        """Return a word that the register holds in the language; a stranger's stays as it is."""
        return self.words.get(word) or word

    def sentence(self, text: str) -> str:
        """Return what the program says in English in the language; a stranger's words stay.

        A sentence that knows its pattern is said by it; one that was stored is read back.
        """
        if not self.words:
            return text
        if isinstance(text, Sentence):
            return self._said(text.pattern, text.values)
        if text in self.words:
            return self.words[text]
        from reports.languages.sentences import read_back

        found = read_back(text)
        if found is None:
            return text
        return self._said(*found)

    def _said(self, pattern: str, values: Mapping[str, Value]) -> str:
        """Return a pattern in the language, filled; one without words is the same in all.

        What the language has in straight quotes is quoted as it is typed: a heading, a word of a
        sheet.
        """
        into = self(pattern) if has_words(pattern) else pattern
        said = {
            name: in_a_row(one) if f"'{{{name}}}'" in into else self._part(one)
            for name, one in values.items()
        }
        return into.format_map(said)

    def day(self, day: date, form: str) -> str:
        """Return a day by a form with names of months; a language besides English has digits.

        >>> IN_ENGLISH.day(date(2031, 5, 4), "%d %b %Y")
        '04 May 2031'
        """
        if self.words:
            form = "%d.%m.%Y" if "%d" in form else "%m.%Y"
        return f"{day:{form}}"

    def _part(self, text: Value) -> str:
        """Return a value of a sentence, or each of several, in the language."""
        if not isinstance(text, str):
            return ", ".join(map(self.sentence, text))
        said = self.sentence(text)
        if said != text:
            return said
        for between in ("; ", ", "):
            if between in text:
                return between.join(map(self._part, self._known_parts(text, between)))
        return text

    def _known_parts(self, text: str, between: str) -> Iterator[str]:
        """Give the parts of a row of words; a message that holds the sign between is one part."""
        words = text.split(between)
        while words:
            ends = range(len(words), 0, -1)
            known = (end for end in ends if between.join(words[:end]) in self.words)
            end = next(known, 1)
            yield between.join(words[:end])
            words = words[end:]


IN_ENGLISH = Texts(ENGLISH, {})
"""English: every message is its own words."""


def languages() -> tuple[str, ...]:
    """Return the languages that there is a catalogue for, English first."""
    return (ENGLISH, *sorted(path.stem for path in FOLDER.glob("*.po")))


@cache
def texts(language: str = ENGLISH) -> Texts:
    """Return the words of a language.

    Raises
    ------
    BadInput
        There is no catalogue for it.
    """
    if language == ENGLISH:
        return IN_ENGLISH
    if language not in languages():
        raise BadInput(
            "the papers are not written in this language",
            found=language,
            expected=joined(languages(), ", "),
        )
    words: dict[str, str] = {}
    for folder in FOLDERS:
        words |= _read(folder / f"{language}.po")
    return Texts(language, words)


def _read(path: Path) -> dict[str, str]:
    from babel.messages.pofile import read_po

    with path.open("rb") as file:
        catalog = read_po(file)
    return {
        str(one.id): str(one.string) for one in catalog if one.id and one.string and not one.fuzzy
    }
