"""A second judge of what was heard: two small networks that spell it letter by letter.

The model's decoder writes what is likely to be written, and in talk or noise it may write what
nobody said. The networks (`network`) have no such habit: for every frame they give the
probabilities of the letters. One reads what the encoder heard, the other the `bands` of the sound
itself, for the encoder loses short words in noise. `alignment` makes of the letters the probability
of a sentence, `search` finds the sentences of a grammar that are spelled best, `judge` asks one
network and `speller` both. `of-encoder.npz` and `of-bands.npz` hold what they were taught, and on
what; tests/bench/speller taught them.
"""
