"""Balls that are here already, a second device on the same balls, blocks by club and pause, mended rows."""

import numpy as np

from lessons.imports import (
    find_overlap,
    pair_devices,
    parse,
    propose,
    propose_blocks,
    read_table,
    with_corrections,
)


def balls(count: int, seed: int = 1) -> dict[str, np.ndarray]:
    chance = np.random.default_rng(seed)
    return {"carry_m": chance.normal(150, 8, count), "ball_speed_mps": chance.normal(52, 1.5, count),
            "launch_angle_deg": chance.normal(17, 1.5, count), "spin_rpm": chance.normal(6500, 400, count)}


def some(shots: dict, rows) -> dict[str, np.ndarray]:
    return {key: values[rows] for key, values in shots.items()}


def test_an_overlapping_file_is_told_apart_ball_by_ball() -> None:
    stored = balls(23)
    new = {key: np.concatenate([values, balls(2, seed=9)[key]]) for key, values in stored.items()}
    found = find_overlap(new, stored)
    assert found.sentence() == "23 of 25 already here, 2 new"
    assert found.match.tolist() == [*range(23), -1, -1]


def test_the_same_balls_rounded_by_another_export_are_the_same_balls() -> None:
    stored = balls(40)
    rounded = {"carry_m": np.round(stored["carry_m"] / 0.9144, 1) * 0.9144,
               "spin_rpm": np.round(stored["spin_rpm"], -1),
               "ball_speed_mps": np.round(stored["ball_speed_mps"] / 0.44704, 1) * 0.44704}
    assert find_overlap(rounded, stored).already == 40


def test_other_balls_are_new_however_alike_they_are() -> None:
    assert find_overlap(balls(200, seed=2), balls(200, seed=3)).already == 0
    assert find_overlap(balls(5), {}).new == 5


def test_a_ball_that_merely_resembles_one_of_many_stored_ones_is_not_lost_as_a_duplicate() -> None:
    few = ("carry_m", "ball_speed_mps", "launch_angle_deg")
    stored = {key: np.round(values, 1) for key, values in balls(20000, seed=2).items() if key in few}
    new = {key: np.round(values, 2) for key, values in balls(60, seed=3).items() if key in few}
    assert find_overlap(new, stored).already == 0


def test_balls_are_found_again_where_the_stored_ones_lack_a_quantity() -> None:
    stored = balls(10)
    stored["spin_rpm"] = np.where(np.arange(10) % 2, np.nan, stored["spin_rpm"])
    assert find_overlap(balls(10), stored).match.tolist() == list(range(10))


def test_a_stored_ball_answers_for_one_new_ball_only() -> None:
    one = some(balls(1), [0])
    twice = some(balls(1), [0, 0])
    assert find_overlap(twice, one).already == 1


def test_another_club_or_another_moment_is_another_ball() -> None:
    shots = balls(3)
    assert find_overlap(shots, shots, new_clubs=["driver"] * 3, stored_clubs=["mid_iron"] * 3).already == 0
    times = np.array(["2026-03-04T10:00", "2026-03-04T10:01", "NaT"], dtype="datetime64[ms]")
    later = times + np.timedelta64(7, "D")
    assert find_overlap(shots, shots, new_when=later, stored_when=times).match.tolist() == [-1, -1, 2]


def test_a_second_device_that_missed_two_balls_is_paired_in_order() -> None:
    first = balls(25)
    seen = [i for i in range(25) if i not in (4, 17)]
    noise = np.random.default_rng(5)
    second = {"carry_m": first["carry_m"][seen] + noise.normal(2, 2, 23),
              "ball_speed_mps": first["ball_speed_mps"][seen] + noise.normal(0, 0.3, 23),
              "spin_rpm": first["spin_rpm"][seen] + noise.normal(0, 100, 23)}
    found = pair_devices(first, second)
    assert found.same
    assert found.match.tolist() == seen
    assert found.sentence() == "23 of 23 balls are the same as stored ones, seen by a second device"


def test_two_devices_on_different_balls_are_not_paired() -> None:
    assert not pair_devices(balls(25, seed=1), {k: v * 1.3 for k, v in balls(25, seed=2).items()}).same
    assert not pair_devices({"carry_m": np.ones(9)}, {"spin_rpm": np.ones(9)}).same


def test_a_golfers_next_balls_are_not_taken_for_a_second_look_at_the_last_ones() -> None:
    """The balls of one golfer and club are all alike; 40 independent pairs of blocks, at most one paired by chance."""
    paired = [pair_devices(balls(20, seed=seed), balls(10, seed=seed + 100)).same for seed in range(40)]
    assert sum(paired) <= 1
    carry_alone = [
        pair_devices({"carry_m": balls(10, seed=seed)["carry_m"]}, {"carry_m": balls(12, seed=seed + 100)["carry_m"]})
        for seed in range(40)
    ]
    assert sum(found.same for found in carry_alone) <= 1


def test_blocks_are_proposed_by_club_pause_and_clock() -> None:
    clubs = ["7i", "7 Iron", "6i", "6i", "6i"]
    when = np.array(["2026-03-04T10:00", "2026-03-04T10:01", "2026-03-04T10:02", "2026-03-04T10:30",
                     "2026-03-04T10:10"], dtype="datetime64[ms]")
    found = propose_blocks(clubs, ["mid_iron"] * 5, when)
    assert [(b.start, b.stop) for b in found] == [(0, 2), (2, 3), (3, 4), (4, 5)]
    assert [b.reason for b in found[1:]] == [
        "another club: 6i after 7 Iron", "a pause of 28 minutes", "the clock goes back"]
    assert propose_blocks([], [], None) == []


def test_a_mended_row_goes_in_and_the_others_stay_listed() -> None:
    data = b"Club,Carry (m),Spin (rpm)\n7i,140.1,6500\n7i,long,6400\n7i,141\n7i,142.0,6300\n"
    table = read_table(data, filename="x.csv")
    columns = propose(table).columns
    before = parse(table, columns=columns, hand="right")
    assert (before.rows, before.balls, sorted(before.broken)) == (4, 2, [3, 4])
    mended = parse(with_corrections(table, {4: "7i,141,6450"}), columns=columns, hand="right")
    assert (mended.rows, mended.lines.tolist(), sorted(mended.broken)) == (4, [2, 4, 5], [3])
    assert mended.shots["spin_rpm"].tolist() == [6500, 6450, 6300]
    still = with_corrections(table, {3: "7i,139", 99: "7i,1,1"})
    assert sorted(still.broken) == [3, 4]
    assert parse(still, columns=columns, hand="right").rows == 4
