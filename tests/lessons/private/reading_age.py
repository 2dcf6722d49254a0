"""How hard a page is to read, by a published formula.

Coleman and Liau (1975), "A computer readability formula designed for machine scoring", Journal of Applied
Psychology 60(2), 283-284: grade = 0.0588 L − 0.296 S − 15.8, with L letters and S sentences per 100 words. It counts
letters, so it needs no guess at syllables. A reader of grade g is about g + 5 to g + 6 years old.
"""

import re
from html.parser import HTMLParser

BLOCKS = {"p", "li", "dd", "dt", "h1", "h2", "h3", "figcaption", "summary", "legend", "label", "td", "th", "caption"}
FEWEST_WORDS = 4
"""Shorter blocks are headings and names of fields, not sentences."""


def grade(*, letters: int, words: int, sentences: int) -> float:
    """Return the school grade that a text asks for."""
    return 0.0588 * letters / words * 100 - 0.296 * sentences / words * 100 - 15.8


def grade_of(sentences: list[str]) -> float:
    """Return the grade of sentences; numbers are no words."""
    words = [word for said in sentences for word in re.findall(r"[^\W\d_]+(?:[’'-][^\W\d_]+)*", said)]
    return grade(
        letters=sum(sum(sign.isalpha() for sign in word) for word in words), words=len(words),
        sentences=len(sentences),
    )


def sentences_of(page: str) -> list[str]:
    """Return the sentences that a reader of a page sees, pictures and scripts left out."""
    reader = _Blocks()
    reader.feed(page)
    said = [part.strip() for block in reader.blocks for part in re.split(r"(?<=[.!?])\s+", " ".join(block.split()))]
    return [one for one in said if len(one.split()) >= FEWEST_WORDS]


class _Blocks(HTMLParser):
    """Collects the text of blocks, each by itself."""

    def __init__(self) -> None:
        super().__init__()
        self.blocks = [""]
        self.shut = 0

    def handle_starttag(self, tag, attrs) -> None:
        if tag in BLOCKS:
            self.blocks.append("")
        self.shut += tag in {"svg", "script", "head", "option"}

    def handle_endtag(self, tag) -> None:
        if tag in BLOCKS:
            self.blocks.append("")
        self.shut -= tag in {"svg", "script", "head", "option"}

    def handle_data(self, data) -> None:
        if not self.shut:
            self.blocks[-1] += data
