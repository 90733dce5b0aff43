"""How the speller was taught: `texts` are said (`say`), spoiled (`spoiling`) and learnt (`teach`).

Development voices, sentences and noises only (`tests.bench.parts`), so that the test part of the
benchmark measures what was never heard. Needs ``pip install jax optax`` and the engines of
`tests.bench.engines`. To say everything takes two hours of one core, most of them for kokoro; to
learn it takes three quarters of an hour of two for the bands, and half an hour of one for the
encoder. The same recipe gives the same kind of network, not the same numbers.

The network of the bands is one of 128 values and eight convolutions, which learnt 4,300 batches
of fewer voices, widened (`weights`) and taught further on voices that are also bent (`strange`):
``--further of-bands.npz --steps 2200``, on 1,250 sentences of kokoro. That of the encoder was
taught by an earlier form of the recipe, with fewer voices, fewer short sentences and less noise.
Each file tells on what its network was taught.
"""
