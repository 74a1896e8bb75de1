"""No sentence of our own may look like a student's name."""

from recapgen.privacy.names import Vocabulary
from recapgen.words.catalogue import words
from recapgen.words.ordinary import calendar_words, ordinary_words, source_sentences

ENGLISH = words("en")


def test_words_that_only_begin_our_sentences_are_ordinary() -> None:
    assert {"wait", "please", "compare", "start"} <= ordinary_words(ENGLISH)


def test_authors_are_names_everywhere_but_in_the_sentence_that_cites_them() -> None:
    vocabulary = Vocabulary(ordinary_words(ENGLISH), calendar_words(ENGLISH))
    assert all(vocabulary.tells(author) for author in ("smith", "walsh", "downs"))
    assert any("Walsh" in source for source in source_sentences(ENGLISH))
