"""A second judge of what the encoder heard: a small network that spells it letter by letter.

The model's decoder writes what is likely to be written, and in talk or noise it may write what
nobody said. `network` reads the same encoding without any such habit: for every frame it gives the
probabilities of the letters. `alignment` makes of them the probability of a sentence, and `search`
finds the sentences of a grammar that are spelled best. `letters.npz` holds what the network was
taught, and on what; tests/bench/speller taught it.
"""
