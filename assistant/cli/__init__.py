"""The command line: one module a verb, and the wiring of the core to devices.

`main` finds the verb. `conduct` runs a session with ears, voice, clock and journal; `job_folder`
keeps what a job runs from; `equipment` opens the recogniser, voice and ears that were asked for;
`transcript` prints the exchange. A verb's module has `arguments` and `run`.
"""
