"""Bricks of every picture: escaping, numbers, and the words a screen reader hears."""

import re

import pytest
from django.utils.safestring import SafeString

from lessons.pictures import svg
from tests.lessons.pictures.reading import parse
from tests.styleguide.samples import pictures

ALL = pictures()
NASTY = '<script>alert("1")</script> & \'co\''


def test_text_is_escaped_and_comes_back_as_it_was_written() -> None:
    drawn = svg.picture(svg.label(0, 0, NASTY), key="k", width=10, height=10, class_="c", title=NASTY,
                        description=NASTY)
    assert "<script" not in drawn
    root = parse(drawn)
    assert ["".join(element.itertext()) for element in root] == [NASTY, NASTY, NASTY]


def test_an_attribute_cannot_break_out_of_its_quotes() -> None:
    assert parse(svg.el("g", data_part='" onload="x')).attrib == {"data-part": '" onload="x'}


def test_a_safe_string_from_elsewhere_is_still_escaped() -> None:
    assert svg.el("g", SafeString("<b>")) == "<g>&lt;b&gt;</g>"


@pytest.mark.parametrize("value", [float("nan"), float("inf"), float("-inf")])
def test_a_coordinate_that_is_no_number_is_refused(value: float) -> None:
    with pytest.raises(ValueError, match="finite"):
        svg.line(0, 0, value, 0, "ink")


def test_a_picture_without_a_title_is_refused() -> None:
    with pytest.raises(ValueError, match="title"):
        svg.picture(key="k", width=1, height=1, class_="c", title=" ", description="")


def test_numbers_are_written_with_a_true_minus_and_never_as_minus_zero() -> None:
    assert [svg.signed(v) for v in (-1.25, 0.04, -0.04, 2)] == ["−1.2", "0.0", "0.0", "+2.0"]
    assert [svg.plain(v, 0) for v in (-3.2, -0.2, 7)] == ["−3", "0", "7"]
    assert svg.number(-0.001) == "0"


@pytest.mark.parametrize("name", ALL)
def test_every_picture_says_its_title_and_description(name: str) -> None:
    root = parse(ALL[name])
    assert root.get("role") == "img"
    ids = {element.get("id"): "".join(element.itertext()) for element in root.iter() if element.get("id")}
    for key in root.get("aria-labelledby").split():
        assert ids[key].strip()


@pytest.mark.parametrize("name", ALL)
def test_every_picture_carries_classes_and_no_inline_style_script_or_link(name: str) -> None:
    root = parse(ALL[name])
    for element in root.iter():
        assert not {key for key in element.attrib if key == "style" or key.startswith("on") or "href" in key}
        assert not element.tag.endswith(("}script", "}style", "}foreignObject"))
    assert isinstance(ALL[name], SafeString)


@pytest.mark.parametrize("name", ALL)
def test_words_in_a_picture_stay_readable_on_a_phone_of_320_pixels(name: str) -> None:
    root = parse(ALL[name])
    width = float(root.get("viewBox").split()[2])
    sizes = [float(e.get("font-size")) for e in root.iter() if e.get("font-size")]
    # 16 px of page margin on either side; sparklines carry no words.
    assert all(size * 288 / width >= 8.9 for size in sizes)


def test_ids_are_unique_across_pictures_on_one_page() -> None:
    ids = re.findall(r'\sid="([^"]+)"', "".join(ALL.values()))
    assert len(ids) == len(set(ids))
