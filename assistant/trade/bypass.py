"""The contact that bypasses the torque switch while the disk leaves its seat."""

from __future__ import annotations

__all__ = ["ends_early"]


def ends_early(opens_at: float, unseated_at: float) -> bool:
    """Whether the bypass opens before the disk has left its seat.

    It gives the motor's full torque for unseating (IE Circular 81-13), so it has to stay closed
    until the disk has left the seat: one that ended before kept valves shut (IE Circular 77-01).
    Setting it anew can also change the lights and interlocks on the same rotor (NRC Information
    Notice 86-29).

    Args:
        opens_at: handwheel turns from the closed stop at which the contact opens.
        unseated_at: handwheel turns from there at which the disk was felt to leave its seat.

    >>> ends_early(1.5, 2), ends_early(2.5, 2)
    (True, False)
    """
    return opens_at < unseated_at
