"""Where the rotors of a simulated actuator trip, measured on it and printed."""

from __future__ import annotations

from assistant.rig.actuator import Actuator
from assistant.trade.unit import Place

__all__ = ["print_trips"]


def print_trips(title: str, rig: Actuator) -> bool:
    """Print where each end rotor trips, measured, and whether all are as drawn."""
    print(f"\n{title} (trip measured on the rig, percent of travel):")
    right = True
    for rotor in rig.unit.rotors:
        if rotor.place is Place.TRAVEL:
            continue
        drawn, found = rig.unit.trip(rotor), rig.measure(rotor.name)
        measured = ", ".join(f"{at.percent:.2f} {at.sense}" for at in found) or "none in the stroke"
        good = rig.is_as_drawn(rotor.name)
        right = right and good
        print(
            f"  {rotor.name:<8} drawn {drawn:.2f}   measured {measured:<16}"
            f" {'right' if good else 'wrong'}"
        )
    return right
