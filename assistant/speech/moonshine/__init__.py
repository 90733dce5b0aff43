"""The default recogniser: a Moonshine model held to the grammar of a step.

`recogniser` puts it together. The `speller` proposes what may have been said, and is the second
judge of it; the model is the first. `encoder_decoder` runs its graphs, `pieces` are its word
pieces, and `token_graph` turns sentences into what may be written piece by piece. `search` walks
that graph, less the prior of non-speech (`nonspeech`, scored by `noise_decoder`, kept in
`prior_store`). `readings` adds up what means the same, `rival` is what would be written without a
grammar, and `confidence` says how far the best reading may be believed. Where that is doubtful, the
sound is heard once more, a little slower (`second_hearing`).
"""
