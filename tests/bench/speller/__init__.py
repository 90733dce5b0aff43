"""How the speller was taught: `texts` are said (`say`), spoiled (`spoiling`) and learnt (`teach`).

Development voices, sentences and noises only (`tests.bench.parts`), so that the test part of the
benchmark measures what was never heard. Needs ``pip install jax optax`` and the engines of
`tests.bench.engines`. To say everything takes about an hour of one core, and to learn it half an
hour for the bands and as much for the encoder. The same recipe gives the same kind of network, not
the same numbers. The network of the bands learnt 3,000 batches and then 1,300 more (``--further
--steps 1300 --pace 1e-3``), both while the job still said "moved" for "free". The network of the
encoder that comes with the program was taught by an earlier form of the recipe, with fewer short
sentences and less noise, as its file tells.
"""
