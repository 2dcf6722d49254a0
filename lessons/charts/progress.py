"""First tens over real dates as a figure that can be pointed at."""

from typing import Any

from lessons.pictures.progress_data import Panel, Visit


def progress_figure(panel: Panel) -> dict[str, Any]:
    """Return the figure: dots with intervals, filled without aids and hollow with, the window as a band.

    Colours are names of page tokens that the page's script fills in. Dots are not joined: between two visits
    nothing was seen.
    """
    return {
        "data": [
            _dots(panel, [visit for visit in panel.visits if not visit.aided], "no aids", "circle", "ink"),
            _dots(panel, [visit for visit in panel.visits if visit.aided], "with aids", "circle-open", "accent"),
        ],
        "layout": {
            "shapes": [*_window(panel), *_noise(panel)],
            "xaxis": {"type": "date"},
            "yaxis": {"title": {"text": f"{panel.label}{', ' + panel.unit if panel.unit else ''}"},
                      "rangemode": "tozero" if panel.from_zero else "normal"},
        },
    }


def _dots(panel: Panel, visits: list[Visit], name: str, symbol: str, token: str) -> dict[str, Any]:
    known = [visit for visit in visits if visit.mean is not None]
    up, down = ([round(_reach(visit, side), panel.digits + 2) for visit in known] for side in (1, 0))
    return {
        "type": "scatter", "mode": "markers+text", "name": name,
        "x": [visit.day.isoformat() for visit in known],
        "y": [round(visit.mean, panel.digits + 2) for visit in known],
        "text": [f"n {visit.n}" for visit in known], "textposition": "top center",
        "hovertemplate": f"%{{x|%-d %b %Y}}: %{{y:.{panel.digits}f}} {panel.unit}, %{{text}}<extra>{name}</extra>",
        "marker": {"symbol": symbol, "size": 12, "color": token, "line": {"width": 2, "color": token}},
        "error_y": {"type": "data", "color": token, "array": up, "symmetric": up == down}
        | ({} if up == down else {"arrayminus": down}),
    }


def _reach(visit: Visit, side: int) -> float:
    return abs(visit.interval[side] - visit.mean) if visit.interval else 0.0


def _window(panel: Panel) -> list[dict[str, Any]]:
    if panel.window is None:
        return []
    return [{
        "type": "rect", "xref": "paper", "x0": 0, "x1": 1, "yref": "y", "y0": panel.window[0], "y1": panel.window[1],
        "fillcolor": "accent-wash", "line": {"color": "accent", "width": 1, "dash": "dot"}, "layer": "below",
    }]


def _noise(panel: Panel) -> list[dict[str, Any]]:
    about = panel.baseline
    if panel.noise is None or about is None:
        return []
    return [{
        "type": "rect", "xref": "paper", "x0": 0, "x1": 1, "yref": "y", "y0": about - panel.noise,
        "y1": about + panel.noise, "fillcolor": "well", "line": {"width": 0}, "layer": "below",
    }]
