"""The command line: one module a verb, and the wiring of the core to devices.

`main` finds the verb. `conduct` runs a session with ears, voice, clock and journal; `job_folder`
keeps what a job runs from; `recognisers`, `voices`, `microphone` and `hearing` open what was asked
for, `headset` voice and ears together; `manner` is how the technician wants to be spoken to;
`transcript` prints the exchange. A verb's module has `arguments` and `run`.
"""
