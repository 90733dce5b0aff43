"""Hearing and speaking.

    ears              the interfaces: recognisers, ears, replies
    typed, clips      ears on a keyboard, on a folder of recordings
    devices/          microphone and loudspeaker, and where an utterance ends
    moonshine/        the default recogniser
    vosk_recogniser   the alternative
    voice/            texts said aloud, printed, kept
    models/           the recognisers' model files
    wav               sound files
    errors            what the user can mend;  fakes  stand-ins behind the same interfaces

Nothing is imported here: each module brings in only the library it needs, and none needs a sound
device before one is used.
"""
