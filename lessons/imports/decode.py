"""Bytes to text: byte-order marks, UTF-8, UTF-16, Windows-1252, Shift-JIS; and what is no text at all."""

import codecs
import re

from .types import UnreadableFile

_MARKS = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF32_LE, "utf-32"),
    (codecs.BOM_UTF32_BE, "utf-32"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)
_OTHER_KINDS = (
    (b"\xd0\xcf\x11\xe0", "an old Excel workbook; save it as .xlsx or as CSV"),
    (b"%PDF", "a PDF; export the balls as CSV or .xlsx instead"),
    (b"\x89PNG", "a picture"),
    (b"\xff\xd8\xff", "a picture"),
    (b"GIF8", "a picture"),
    (b"\x1f\x8b", "a compressed file; unpack it first"),
    (b"SQLite format 3", "a database"),
    (b"{\\rtf", "a word-processor document; export the balls as CSV or .xlsx instead"),
)
_CONTROL = re.compile("[\x00-\x08\x0e-\x19\x1b-\x1f\x7f]")
_MARKUP = re.compile(r"\s*(?:<!doctype|<html|<\?xml|<svg)", re.IGNORECASE)
_SHARE_OF_CONTROL = 0.002
_LOOK_AT = 65536
_TRIALS = ("utf-8", "cp1252", "cp932")


def decode(data: bytes, *, encoding: str | None = None) -> tuple[str, str]:
    """Return the text of a file and the encoding it was read with, line ends as "\\n".

    ``encoding`` is a person's answer and wins over every guess. Raises ``UnreadableFile`` for what is no
    text: pictures, archives, old workbooks, broken encodings.
    """
    for start, kind in _OTHER_KINDS:
        if data.startswith(start):
            raise UnreadableFile(f"This looks like {kind}. Expected a table as text (CSV) or an .xlsx workbook.")
    chosen = encoding or _encoding_of(data)
    try:
        text = data.decode(chosen)
    except LookupError:
        raise UnreadableFile(f"“{chosen}” is not an encoding known here; UTF-8 is the usual one.") from None
    except UnicodeDecodeError as error:
        _refuse_what_is_no_table(data[:_LOOK_AT].decode("latin-1"))
        line = data.count(b"\n", 0, error.start) + 1
        raise UnreadableFile(
            f"Line {line} holds a byte (0x{data[error.start]:02X}) that is not text in {chosen}. "
            "Save the file as “CSV UTF-8” and try again."
        ) from None
    except UnicodeError:  # Some rarer encodings do not say where they stumbled.
        raise UnreadableFile(f"The file is not text in {chosen}. UTF-8 is the usual encoding.") from None
    text = text.removeprefix("\ufeff").rstrip("\x1a")
    _refuse_what_is_no_table(text)
    if "\r" in text:
        text = text.replace("\r\n", "\n").replace("\r", "\n")
    return text, "utf-8" if chosen == "utf-8-sig" else chosen


def _encoding_of(data: bytes) -> str:
    for mark, name in _MARKS:
        if data.startswith(mark):
            return name
    head = data[:4096]
    if head.count(0) > len(head) * 0.2:
        # Latin text in UTF-16 without a mark: every other byte is zero.
        even, odd = head[0::2].count(0), head[1::2].count(0)
        if odd > 4 * even:
            return "utf-16-le"
        if even > 4 * odd:
            return "utf-16-be"
    for name in _TRIALS:
        try:
            data.decode(name)
        except UnicodeDecodeError:
            continue
        return name
    return "utf-8"  # Its error message names the line.


def _refuse_what_is_no_table(text: str) -> None:
    head = text[:_LOOK_AT]
    if len(_CONTROL.findall(head)) > _SHARE_OF_CONTROL * len(head):
        raise UnreadableFile("This is not text: it looks like a picture, a program or another binary file. "
                             "Expected a table as text (CSV) or an .xlsx workbook.")
    if _MARKUP.match(head):
        raise UnreadableFile("This is a web page or markup, not a table. Expected CSV or .xlsx.")
    if not text or text.isspace():
        raise UnreadableFile("The file is empty: there is no text in it. Expected a row of column names and "
                             "a row for each ball.")
