"""Each page of a student, read as it stands: our own sentences, without the coach's words."""

from html.parser import HTMLParser
from pathlib import Path

import pytest
import textstat

from tests.end_to_end.many_languages import site_of

pytestmark = pytest.mark.ffmpeg

HARDEST_GRADE = {"en": 5.5, "de": 5.5}
LEAST_EASE = {"es": 84.0, "fr": 84.0}
LEAST_SENTENCES = 5
_VOID = frozenset({"br", "img", "input", "meta", "link", "hr", "wbr", "source"})
_SILENT = frozenset({"script", "style", "svg", "table", "head"})
_WITHIN = frozenset({"b", "strong", "em", "i", "a", "span", "bdi"})


class _Ours(HTMLParser):
    """Text outside what the coach typed (``dir="auto"``), pictures and tables."""

    def __init__(self) -> None:
        super().__init__()
        self.texts = [""]
        self._open: list[tuple[str, bool]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag in _VOID:
            return
        hidden = bool(self._open and self._open[-1][1])
        self._open.append((tag, hidden or tag in _SILENT or ("dir", "auto") in attrs))
        if tag not in _WITHIN:
            self.texts.append("")

    def handle_endtag(self, tag: str) -> None:
        while self._open and self._open.pop()[0] != tag:
            pass
        if tag not in _WITHIN:
            self.texts.append("")

    def handle_data(self, data: str) -> None:
        if not (self._open and self._open[-1][1]):
            self.texts[-1] += data


def _own_sentences(page: Path) -> list[str]:
    reader = _Ours()
    reader.feed(page.read_text(encoding="utf-8"))
    told = (" ".join(text.split()) for text in reader.texts)
    return [text for text in told if text.endswith((".", "?", "!")) and len(text.split()) > 2]


@pytest.mark.parametrize("language", [*HARDEST_GRADE, *LEAST_EASE])
def test_every_page_reads_easily(languages_out: Path, language: str) -> None:
    textstat.set_lang(language)
    hard, read = {}, 0
    for page in sorted(site_of(languages_out, language).glob("*.html")):
        sentences = _own_sentences(page)
        if len(sentences) < LEAST_SENTENCES:
            continue
        read += 1
        text = " ".join(sentences)
        if language in LEAST_EASE:
            ease = textstat.flesch_reading_ease(text)
            if ease < LEAST_EASE[language]:
                hard[page.name] = ease
            continue
        grade = (
            textstat.flesch_kincaid_grade(text)
            if language == "en"
            else textstat.wiener_sachtextformel(text, 1)
        )
        if grade > HARDEST_GRADE[language]:
            hard[page.name] = grade
    assert read >= LEAST_SENTENCES
    assert hard == {}


def test_the_coachs_words_are_left_out() -> None:
    reader = _Ours()
    reader.feed('<p>Ours.</p><div dir="auto"><p>Theirs.<br>Too.</p></div><p>Ours <b>again</b>.</p>')
    assert [text for text in reader.texts if text] == ["Ours.", "Ours again."]
