"""Microphone and loudspeaker, through `sound_system`, which needs PortAudio.

`endpoint` finds where an utterance begins and ends; `microphone_ears` waits for one and lets a
recogniser read it. Only these modules touch a sound device, and only when one is used.
"""
