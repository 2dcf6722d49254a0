"""The style sheet keeps its promises: contrast in both themes, named tokens only, touch size, documented classes.

Contrast follows the formula of WCAG 2.2 (relative luminance and contrast ratio, success criteria 1.4.6 and
1.4.11), checked here against two published pairs.
"""

import re
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
CSS = (ROOT / "static" / "css" / "app.css").read_text(encoding="utf-8")
RULES = re.sub(r"/\*.*?\*/", "", CSS, flags=re.S)
THEMES = ("light", "dark")
TOKENS = {
    name: dict(zip(THEMES, pair, strict=True))
    for name, *pair in re.findall(r"--([\w-]+): light-dark\((#\w{6}), (#\w{6})\);", CSS)
}

READ_OUTSIDE = [
    *((text, ground) for text in ("ink", "ink-soft", "accent", "alarm") for ground in ("paper", "sheet")),
    ("ink", "well"), ("ink-soft", "well"),
    ("ink", "accent-wash"), ("accent", "accent-wash"), ("ink-soft", "accent-wash"),
    ("ink", "alarm-wash"), ("alarm", "alarm-wash"),
    ("paper", "ink"), ("on-accent", "accent"), ("on-alarm", "alarm"),
]
EDGES = [("edge", "paper"), ("edge", "sheet"), ("accent", "paper"), ("ink", "accent-wash"), ("edge", "accent-wash")]


def luminance(colour: str) -> float:
    channels = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def test_the_formula_gives_the_published_ratios() -> None:
    # WCAG 2.2: black on white is 21:1; WebAIM's contrast article: #777777 on white is 4.48:1.
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.005)


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize(("text", "ground"), READ_OUTSIDE)
def test_text_reads_in_the_sun(text: str, ground: str, theme: str) -> None:
    assert contrast(TOKENS[text][theme], TOKENS[ground][theme]) >= 7


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize(("line", "ground"), EDGES)
def test_edges_of_controls_and_pictures_can_be_seen(line: str, ground: str, theme: str) -> None:
    assert contrast(TOKENS[line][theme], TOKENS[ground][theme]) >= 3


def test_no_colour_is_written_outside_the_tokens() -> None:
    rules = RULES[RULES.index("}") :]
    assert set(re.findall(r"#[0-9a-fA-F]{3,8}\b", rules)) <= {"#ffffff"}  # printer paper, and under a QR code


def test_every_token_that_is_used_is_defined_and_every_defined_one_is_used() -> None:
    used = set(re.findall(r"var\(--([\w-]+)\)", RULES))
    defined = set(re.findall(r"--([\w-]+):", RULES))
    assert used == defined


def test_a_touch_target_is_at_least_44_pixels() -> None:
    root_percent = float(re.search(r"html \{ font-size: ([\d.]+)%", RULES).group(1))
    for token in ("touch", "key"):
        rem = float(re.search(rf"--{token}: ([\d.]+)rem", RULES).group(1))
        assert rem * 16 >= 44, "also at the browser's own size"
        assert rem * 16 * root_percent / 100 >= 44


def test_every_class_promised_in_the_table_of_classes_exists() -> None:
    table = CSS[CSS.index("CLASSES") : CSS.index("*/")]
    promised = set(re.findall(r"\.([a-z][\w-]+)", table)) - {"html"}
    written = set(re.findall(r"\.([a-z][\w-]+)", RULES))
    assert promised - written == set()


def test_every_part_of_the_table_of_contents_stands_in_order() -> None:
    contents = CSS[: CSS.index("CLASSES")]
    named = [int(number) for number in re.findall(r"\b(\d+) [A-Z]", contents)]
    headings = [int(number) for number in re.findall(r"^/\* (\d+) .*-{5,}", CSS, flags=re.M)]
    assert sorted(named) == headings == list(range(1, len(headings) + 1))


@pytest.mark.parametrize("path", sorted((ROOT / "templates").rglob("*.html")), ids=lambda path: path.name)
def test_no_page_writes_style_or_script_into_its_markup(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert not re.search(r"<[^>]*\sstyle\s*=", text), "the content policy would drop it"
    assert "<style" not in text
    assert not re.search(r"<script(?![^>]*(\bsrc=|application/json))", text)
    assert not re.search(r"<[^>]*\son[a-z]+\s*=", text)
