"""Four words that stand for the root of a journal, to be spoken and written on paper.

One word a byte, of the first four bytes of the root. Four bytes are 32 bits: they catch an
accident, a mixed-up file and a lazy edit, but somebody who means it can search for another file
with the same four words. The full root is on the record; whoever must be sure compares that.

The words are plain nouns of 4 to 6 letters and at most two syllables, not words of the job and not
numbers, and any two of them differ in two sounds at least (CMU Pronouncing Dictionary).
"""

from __future__ import annotations

from collections.abc import Sequence

__all__ = ["COUNT", "WORDS", "prefix_of", "words_of"]

COUNT = 4
"""How many words stand for a root."""

_LIST = """
acorn album anchor angel anvil apple apron artist aspen atlas attic autumn badger bagel
baker bamboo basil basket beacon beard beaver bench bison blaze blouse bonnet breeze brick
broom bubble bucket bugle bundle butter button cactus camel cargo carpet cedar cloud clover
cobalt cobra cobweb comet cookie coral cotton cougar cowboy cradle crayon cream daisy denim
doctor dome donkey dragon eagle elbow elder fabric falcon farmer fiddle finch finger flame
flute folder forest fossil friend frog frost gadget garden garlic ginger globe goose gopher
gorge gown grape gravel gravy grove guitar gypsum hammer harp hawk hazel hedge helmet heron
hinge hobby honey hornet hunter husky igloo insect island jacket jaguar jelly jersey jester
jigsaw jockey jungle kayak king ladle lagoon lava legend lemon lilac linen lion lizard
locket lotus lunch magic magpie maple marble meadow melon mirror monkey mouse muffin mule
mural music napkin nectar nephew nickel nomad north novel nugget nurse nutmeg olive omelet
onion onyx orbit orchid organ otter oven oyster paddle palace panda parade pastry peanut
pebble pencil picnic pigeon pilot pizza planet plaza plum poet pollen pony prince puffin
pupil puppet puzzle python quail quarry queen quilt rabbit radar radish raisin raven rhythm
river robin rocket ruby rugby sailor salad salmon scout shadow shelf shovel shrimp silk
singer sister sketch smile snail soccer soup spider sponge spoon statue stone storm straw
sugar summer sunset table tavern teacup teapot tennis thorn ticket tiger toffee topaz trout
truck tulip tuna turkey turnip turtle velvet voyage waffle wagon walnut walrus widget winter
wolf zebra zipper
"""

WORDS: tuple[str, ...] = tuple(_LIST.split())
"""The word of each byte, 0 to 255. The order is part of the format: papers were written with it."""

_BYTES = {word: byte for byte, word in enumerate(WORDS)}


def words_of(root: str) -> tuple[str, ...]:
    """The four words of a root.

    Args:
        root: hexadecimal, as `tree.root` gives it.

    >>> " ".join(words_of("00010203" + "ff" * 28))
    'acorn album anchor angel'
    """
    return tuple(WORDS[byte] for byte in bytes.fromhex(root)[:COUNT])


def prefix_of(words: Sequence[str]) -> str:
    """The first hexadecimal digits of the root that the words stand for.

    >>> prefix_of(["acorn", "album", "anchor", "angel"])
    '00010203'

    Raises:
        KeyError: one of them is none of the words; the error's only argument is that one.
    """
    return bytes(_BYTES[word] for word in words).hex()
