"""Invented drives, and small helps to read the flight page."""

import re
import xml.etree.ElementTree as ET

import numpy as np
from django.urls import reverse

YARD = 0.9144
MPH = 0.44704


def drives(n: int = 10, *, seed: int = 1, speed_mph: float = 95.0, **change) -> dict[str, list[float]]:
    """Return push-draws that scatter: start +3, curve to the hook side, path +5, face +3."""
    draw = np.random.default_rng(seed).normal
    club = speed_mph * MPH + draw(0, 0.4, n)
    columns = {
        "club_speed_mps": club, "ball_speed_mps": 1.45 * club, "launch_angle_deg": 12.5 + draw(0, 0.5, n),
        "spin_rpm": 2700 + draw(0, 100, n), "launch_direction_deg": 3 + draw(0, 0.3, n),
        "spin_axis_deg": -8 + draw(0, 0.5, n), "carry_m": (2.3 * 1.45 * speed_mph - 100 + draw(0, 3, n)) * YARD,
        "side_m": draw(0, 2, n) * YARD, "club_path_deg": 5 + draw(0, 1, n), "face_angle_deg": 3 + draw(0, 1, n),
        "attack_angle_deg": 1 + draw(0, 0.5, n), "dynamic_loft_deg": 14 + draw(0, 0.5, n),
        "apex_m": 25 + draw(0, 1, n), "landing_angle_deg": 37 + draw(0, 1, n),
    }
    whole = {key: [round(float(value), 3) for value in values] for key, values in columns.items()}
    return {key: values for key, values in (whole | change).items() if values is not None}


def page_of(client, block, **query) -> str:
    answer = client.get(reverse("lessons:block_flight", args=[block.code]), query)
    assert answer.status_code == 200
    return answer.content.decode()


def svg(page: str, key: str) -> ET.Element:
    return ET.fromstring(re.search(rf'<svg id="{key}".*?</svg>', page, re.DOTALL).group())


def having(root: ET.Element, class_: str) -> list[ET.Element]:
    return [each for each in root.iter() if class_ in (each.get("class") or "").split()]


def words(page: str) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", page))


def parts_of(page: str) -> dict[str, float]:
    table = page[page.index("Where the yards came from"):page.index("Each cause counts")]
    rows = re.findall(r'<th scope="row">(.*?)</th><td class="num"[^>]*>(?:<strong>)?([−+0-9.]+)', table)
    return {label: float(number.replace("−", "-")) for label, number in rows}
