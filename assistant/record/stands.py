"""How the valve stands where the journal of an unfinished job ends, as far as the journal tells.

What an act made or ended counts from when it was asked for: nobody knows how far it went.
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.procedure.deeds import Fact
from assistant.record.summary import Summary

__all__ = ["how_it_stands"]


def how_it_stands(job: Summary) -> tuple[str, ...]:
    """The rod and the shafts, the supplies, and what is not proved; nothing where nobody knows."""
    if job.ended is not None or job.known is None or not job.unit:
        return ()
    return (_rod(job.known), _supplies(job.known), *_unproved(job))


def _rod(known: tuple[str, ...]) -> str:
    if Fact.RODS_ENGAGED in known:
        return "Setting rod: engaged; the shafts were tried and are locked."
    if Fact.ROD_OUT in known:
        return "Setting rod: disengaged; every shaft is free."
    return "Setting rod: not known to be engaged, nor the shafts to be locked."


def _supplies(known: tuple[str, ...]) -> str:
    if Fact.ENERGISED in known:
        return "Supplies: on."
    if Fact.ISOLATED in known:
        return "Supplies: locked off."
    return "Supplies: not known to be locked off."


def _unproved(job: Summary) -> Iterator[str]:
    proved = {rotor.name for rotor in job.rotors if rotor.trip is not None}
    drawn = job.development.rotors if job.development else job.rotors
    if left := [rotor.name for rotor in drawn if rotor.name not in proved]:
        yield f"Not proved by hand: {', '.join(left)}."
