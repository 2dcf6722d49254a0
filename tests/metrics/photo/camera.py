"""A synthetic camera over a flat range: where ground points land in its picture, for tests."""

from dataclasses import dataclass, replace

import numpy as np

MAT = (150.0, 120.0)
"""Along the target line, across it: a hitting mat, cm."""


@dataclass(frozen=True, kw_only=True)
class Camera:
    """Stands ``away_cm`` from the mat's middle, ``round_deg`` round it (0: in front of the player), looks at it.

    ``lens`` shifts what lies in the picture's corner outward by this share of its way from the middle.
    """

    height_cm: float = 170.0
    away_cm: float = 170.0
    round_deg: float = 0.0
    roll_deg: float = 0.0
    focal: float = 0.8
    lens: float = 0.0
    width_px: float = 3000.0
    height_px: float = 2250.0
    look_at: tuple[float, float] = (75.0, 60.0)

    @property
    def middle(self) -> np.ndarray:
        return np.array([self.width_px, self.height_px]) / 2

    def matrix(self) -> np.ndarray:
        """Ground (u, v) in cm of a right-hander -> picture; the player looks along + v, the target is at − u."""
        turn = np.radians(self.round_deg)
        aim = np.array([*self.look_at, 0.0])
        eye = aim + [self.away_cm * np.sin(turn), self.away_cm * np.cos(turn), self.height_cm]
        ahead = (aim - eye) / np.linalg.norm(aim - eye)
        right = np.cross(ahead, [0, 0, 1.0])
        right /= np.linalg.norm(right)
        down = np.cross(ahead, right)
        roll = np.radians(self.roll_deg)
        right, down = right * np.cos(roll) + down * np.sin(roll), down * np.cos(roll) - right * np.sin(roll)
        pose = np.stack([right, down, ahead])
        lens = np.diag([self.focal * self.width_px] * 2 + [1.0])
        lens[:2, 2] = self.middle
        return lens @ np.column_stack([pose[:, 0], pose[:, 1], -pose @ eye])

    def see(self, points) -> np.ndarray:
        """Pixels (n, 2) of ground points (n, 2), with the lens's own bend."""
        whole = np.column_stack([np.asarray(points, float), np.ones(len(points))]) @ self.matrix().T
        flat = whole[:, :2] / whole[:, 2:] - self.middle
        share = (flat**2).sum(1, keepdims=True) / (self.middle**2).sum()
        return self.middle + flat * (1 + self.lens * share)

    def inside(self, points) -> bool:
        seen = self.see(points)
        return bool(np.all(seen > 0) and np.all(seen < [self.width_px, self.height_px]))

    def bent(self, lens: float) -> "Camera":
        return replace(self, lens=lens)


def corners() -> np.ndarray:
    return np.array([(0, 0), (MAT[0], 0), MAT, (0, MAT[1])], dtype=float)


def player(*, width=46.0, ball=8.0, feet=3.0, lead_flare=20.0, trail_flare=8.0, distance=40.0,
           heel=(52.0, 20.0)) -> np.ndarray:
    """Lead heel, lead toe, trail heel, trail toe, ball on the ground, from the numbers a reading should give back."""
    lead = np.array(heel)
    trail = lead + [width, -(width + 7.62) * np.tan(np.radians(feet))]
    toes = [_toe(lead, lead_flare, -1), _toe(trail, trail_flare, 1)]
    far = (toes[0][1] + toes[1][1]) / 2 + distance
    return np.array([lead, toes[0], trail, toes[1], (lead[0] + ball, far)])


def _toe(inside: np.ndarray, flare: float, outward: int) -> np.ndarray:
    turn = np.radians(flare)
    middle = inside + 3.81 * np.array([outward * np.cos(turn), -np.sin(turn)])
    return middle + 26 * np.array([outward * np.sin(turn), np.cos(turn)])
