"""The session floor: events in, effects out, and nothing of the world in between.

`events` says what can happen and `effects` what is to be done about it. `core` takes an event and
answers with effects: it hands a reply to the open question (`dialogue`), a command to `commands`,
and an answer that counts to the `job`, which stands in one of the `states` and goes on by the
`walk` through the procedure, whose `place` is a state machine built from the YAML.

A question that is open is a `dialogue`: its answer may come in parts (`partial_answer`), be unclear
between two (`disambiguation`), or fail, and is then asked in other words (`tapering`) or bit by bit
(`spelling_out`). `replies` are what becomes of it, and `belief` the numbers that are believed.

`restoring` says how the session asks for what is missing before something forbidden could be done,
`going_back` undoes an answer along the `trail`, `putting_back` says what to undo by hand then, and
`valve_place` what is not asked again elsewhere. `asides` tells what follows from such questions of
its own. `breaks` tells what nobody can vouch for after one, `proofs` whether what was proved by
hand still counts, `first_said` when an answer was said. `keeping` takes notes and reasons as they
are said, and `rules` are those by which the job was begun. `names` looks up the values that texts
name, `wording` holds the sentences that the session says of its own accord, `prompt_length` says
how many words one prompt may have, and `account` tells how an event and its effects stand in the
journal.
"""

from assistant.session.account import account
from assistant.session.core import Session
from assistant.session.effects import Effect, Listen, Say
from assistant.session.events import Clip, Event, Heard, Opened, Returned, Silent

__all__ = [
    "Clip",
    "Effect",
    "Event",
    "Heard",
    "Listen",
    "Opened",
    "Returned",
    "Say",
    "Session",
    "Silent",
    "account",
]
