"""Read a picture back as XML, the way a browser does."""

import xml.etree.ElementTree as ET

NS = "{http://www.w3.org/2000/svg}"


def parse(svg: str) -> ET.Element:
    return ET.fromstring(svg)


def by_id(root: ET.Element, key: str) -> ET.Element:
    found = [element for element in root.iter() if element.get("id") == key]
    assert len(found) == 1, f"{len(found)} elements with the id {key}"
    return found[0]


def number_of(element: ET.Element, name: str) -> float:
    return float(element.get(name))


def having_class(root: ET.Element, name: str) -> list[ET.Element]:
    return [element for element in root.iter() if name in (element.get("class") or "").split()]


def words(root: ET.Element) -> str:
    return " ".join("".join(text.itertext()) for text in root.iter(f"{NS}text"))


def description(root: ET.Element) -> str:
    return "".join(root.find(f"{NS}desc").itertext())
