"""How long the motor takes for its stroke, from the data of its drive."""

from __future__ import annotations

__all__ = ["stroke_seconds"]


def stroke_seconds(travel: float, gear_ratio: float, motor_rpm: float, stem_lead: float) -> float:
    """Time of an electrical stroke [s]: 60 x travel x gear ratio / (motor speed x stem lead).

    It holds for a rising stem and a motor at its rated speed throughout; starting and coasting
    are left out.

    Args:
        travel: way of the stem over the full stroke, in any unit of length.
        gear_ratio: motor revolutions for one of the stem nut.
        motor_rpm: speed of the motor [1/min].
        stem_lead: way of the stem for one revolution of the stem nut, in the same unit.

    Raises:
        ValueError: a value is not greater than 0.

    12 in, 60 to 1, 1700 rpm and 0.5 in (arithmetic):

    >>> round(stroke_seconds(12, 60, 1700, 0.5), 1)
    50.8
    """
    if not all(value > 0 for value in (travel, gear_ratio, motor_rpm, stem_lead)):
        raise ValueError("No stroke time comes from drive data that are not greater than 0.")
    # Divided step by step, so that no product of two tiny numbers becomes 0.
    return 60 * (travel / stem_lead) * (gear_ratio / motor_rpm)
