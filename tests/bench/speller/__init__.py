"""How the speller was taught: `texts` are said (`lessons`), spoiled, encoded and learnt (`teach`).

Development voices, sentences and noises only (`tests.bench.parts`), so that the test part of the
benchmark measures what was never heard. Needs ``pip install jax optax`` and the engines of
`tests.bench.engines`; an hour or two on two cores. The same recipe gives the same kind of network,
not the same numbers.
"""
